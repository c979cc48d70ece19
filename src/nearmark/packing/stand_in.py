"""A simulated piece that replaces a real one: alike in shape, and as many to the heap."""

from typing import Final

import numpy as np

from nearmark.errors import InputError
from nearmark.packing.request import PackingRequest
from nearmark.packing.shapes import grain_shape, solid
from nearmark.packing.vessels import JarVessel

ALIKE: Final = {
    "sphere": "sphere",
    "bean": "bean",
    "rice": "rice",
    "oblate": "oblate",
    "coin": "coin",
    "short tube": "tube",
    "twist": "twist",
    "hex nut": "nut",
}
"""Kind of a real piece -> code of the shape most like it; a cube has none."""

HEAP_FRACTION: Final = {
    "sphere": 0.596,
    "bean": 0.620,
    "rice": 0.588,
    "oblate": 0.597,
    "coin": 0.558,
    "tube": 0.482,
    "twist": 0.479,
    "nut": 0.501,
}
"""Share that the pieces take up in a heap far from walls, as the engine pours it; standard
deviation between heaps 0.003 at most.  ``python tools/heap_fractions.py`` prints them."""


def stand_in_request(
    kind: str, pieces_a_cm3: float, n_grains: int, vessel: JarVessel, seed: int
) -> PackingRequest:
    """A jar of pieces that stand in for real ones.

    The width follows from how many real pieces a heap holds, so that a wide vessel fills to the
    height the real pieces reach; what the simulation adds is what walls, floor and surface do, and
    what the eye sees.

    >>> from nearmark.packing import cylinder
    >>> ask = stand_in_request("sphere", 3.0, 500, cylinder(8.0, 12.0), 1)
    >>> ask.shape.code, 7.0 < ask.width_mm < 7.5
    ('sphere', True)

    Parameters
    ----------
    kind : of ``ALIKE``
    pieces_a_cm3 : pieces/cm3, > 0; of a heap of the real ones
    n_grains : pieces
    seed : whole number

    Raises
    ------
    InputError : if no shape is like the kind
    """
    if kind not in ALIKE:
        raise InputError(
            "no simulated piece is like it",
            where="shape",
            value=kind,
            mend=f"Pour it by hand; simulated are: {', '.join(ALIKE)}",
        )
    shape = grain_shape(ALIKE[kind])
    piece_cm3 = HEAP_FRACTION[shape.code] / pieces_a_cm3
    width_mm = 10 * float(np.cbrt(piece_cm3 / solid(shape).volume))
    return PackingRequest(shape, n_grains, width_mm, vessel, seed)
