"""What can be asked of the packing engine, and what is refused before any work is done."""

import math
from dataclasses import dataclass
from typing import Final

from nearmark.errors import InputError
from nearmark.packing.shapes import GrainShape, solid
from nearmark.packing.vessels import JarVessel

MAX_GRAINS: Final = 20_000
MAX_TAPS: Final = 200
LOOSEST_FRACTION: Final = 0.5
"""Fraction of a bed still loose: how high each layer of the rain starts."""


@dataclass(frozen=True, slots=True)
class PackingRequest:
    """A jar to be filled."""

    shape: GrainShape
    n_grains: int
    width_mm: float  # mean width of a piece
    vessel: JarVessel
    # The same seed, version and values give the same jar, however many cores work on it.
    seed: int = 0
    # Coefficient of variation of the width, cut at twice that either way (dimensionless).
    size_cv: float = 0.02
    # Coulomb coefficients between pieces, and of a piece on the vessel (dimensionless).
    friction: float = 0.3
    wall_friction: float = 0.3
    taps: int = 0  # how often the filled vessel is tapped on the table (times)


def check_request(request: PackingRequest) -> None:
    """Refuse what cannot be packed, or not in bounded time.

    >>> from nearmark.packing import cylinder, grain_shape
    >>> ask = PackingRequest(grain_shape("sphere"), 100, 200.0, cylinder(8.0, 12.0))
    >>> check_request(ask)  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    nearmark.errors.InputError: width_mm: a piece must fit twice across the vessel; ...

    Raises
    ------
    InputError : With the value, the limit and what to do
    """
    limits = {
        "n_grains": (1, MAX_GRAINS),
        "seed": (0, 2**63 - 1),
        "size_cv": (0.0, 0.2),
        "friction": (0.0, 2.0),
        "wall_friction": (0.0, 2.0),
        "taps": (0, MAX_TAPS),
        "width_mm": (0.1, 1000.0),
    }
    for name, (least, most) in limits.items():
        value = getattr(request, name)
        if not (math.isfinite(value) and least <= value <= most):
            raise InputError(
                f"must be from {least:,} to {most:,}", where=name, value=value, mend="Change it"
            )
    _check_room(request)


def _check_room(request: PackingRequest) -> None:
    body, vessel = solid(request.shape), request.vessel
    length_mm = 2 * body.reach * request.width_mm * (1 + 2 * request.size_cv)
    narrow_mm = 10 * min(vessel.width_cm, vessel.depth_cm)
    if 2 * length_mm > narrow_mm:
        raise InputError(
            "a piece must fit twice across the vessel; "
            f"it is {2 * body.reach * request.width_mm:.4g} mm long "
            f"and the vessel {narrow_mm:.4g} mm wide",
            where="width_mm",
            value=request.width_mm,
            mend="Take a smaller piece or a wider vessel",
        )
    piece_cm3 = body.volume * (request.width_mm / 10) ** 3
    holds = int(vessel.volume_below_cm3(vessel.height_cm) * 0.74 / piece_cm3)
    if request.n_grains > holds:
        raise overflow(request, f"no packing of equal pieces holds more than about {holds:,}")


def overflow(request: PackingRequest, why: str) -> InputError:
    """The refusal of more pieces than the vessel holds.

    >>> from nearmark.packing import cylinder, grain_shape
    >>> ask = PackingRequest(grain_shape("sphere"), 9000, 10.0, cylinder(8.0, 12.0))
    >>> print(overflow(ask, "too many"))
    n_grains: the vessel overflows: too many (got 9000). Ask for fewer pieces or a larger vessel
    """
    return InputError(
        f"the vessel overflows: {why}",
        where="n_grains",
        value=request.n_grains,
        mend="Ask for fewer pieces or a larger vessel",
    )
