"""A library of jars: which jars it holds, drawn by lot from one seed, and how one is made.

Jar k of a library depends on the seed and k only, so any of them can be made again, in any order,
on any machine.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from nearmark.errors import InputError, MeasurementError
from nearmark.packing.census import Census, census
from nearmark.packing.jar import Jar
from nearmark.packing.jar_file import jar_bytes, jar_from_bytes
from nearmark.packing.request import PackingRequest
from nearmark.packing.settle import settle
from nearmark.packing.shapes import grain_shape, solid
from nearmark.packing.vessels import JarVessel, box, cylinder, rounded_jar

WIDTHS_MM: Final = (4.0, 12.0)
"""From which the width of a piece is drawn; our own choice."""

TALL: Final = (0.8, 1.4)
"""Height of the bed over the width of the vessel, likewise."""

FRACTION, HEADROOM = 0.5, 1.25
"""Fraction for which a vessel is sized, on the loose side, and its height over that of the bed."""

ATTEMPTS: Final = 3
"""Seeds tried for a jar that does not come to rest or overflows."""


@dataclass(frozen=True, slots=True)
class LibraryPlan:
    """What a library holds."""

    n_jars: int
    shapes: tuple[str, ...]  # codes, from which each jar's is drawn
    seed: int


def library_request(
    plan: LibraryPlan, k: int, draw_count: Callable[[np.random.Generator], int]
) -> PackingRequest:
    """Draw jar k of a library.

    >>> plan = LibraryPlan(2, ("sphere", "rice"), 7)
    >>> library_request(plan, 0, lambda rng: 300).n_grains
    300

    Parameters
    ----------
    k : jars; how many stand before it: from 0
    draw_count : draws the number of pieces
    """
    rng = np.random.default_rng([plan.seed, k])
    shape = grain_shape(plan.shapes[int(rng.integers(len(plan.shapes)))])
    n_grains = draw_count(rng)
    width_mm = round(math.exp(rng.uniform(*np.log(WIDTHS_MM))), 1)
    form, tall = int(rng.integers(3)), float(rng.uniform(*TALL))
    room_cm3 = n_grains * solid(shape).volume * (width_mm / 10) ** 3 / FRACTION
    # A piece must fit twice across, also across the shorter side of a box.
    across = max(
        (4 * room_cm3 / (math.pi * tall)) ** (1 / 3), 6 * solid(shape).reach * width_mm / 10
    )
    vessel = _vessel(form, round(float(across), 1), room_cm3)
    return PackingRequest(shape, n_grains, width_mm, vessel, seed=int(rng.integers(2**31)))


def _vessel(form: int, across: float, room_cm3: float) -> JarVessel:
    high = round(HEADROOM * room_cm3 / (math.pi * across**2 / 4) + 1.0, 1)
    if form == 0:
        return cylinder(across, high)
    if form == 1:
        return rounded_jar(across, round(high + 0.05 * across, 1), round(0.15 * across, 1))
    return box(across, round(0.8 * across, 1), high)


def made(request: PackingRequest) -> tuple[bytes, Census]:
    """Settle a jar and look at it as its file gives it back.

    The jar file, and the census of the jar read from it.

    >>> from nearmark.packing import cylinder
    >>> _, found = made(PackingRequest(grain_shape("sphere"), 30, 10.0, cylinder(5.0, 9.0)))
    >>> found.count
    30

    Raises
    ------
    MeasurementError : if no seed of several brings it to rest
    """
    for attempt in range(ATTEMPTS - 1):
        try:
            jar = settle(replace(request, seed=request.seed + attempt))
        except (InputError, MeasurementError):
            continue
        return _saved(jar)
    return _saved(settle(replace(request, seed=request.seed + ATTEMPTS - 1)))


def _saved(jar: Jar) -> tuple[bytes, Census]:
    content = jar_bytes(jar)
    return content, census(jar_from_bytes(content))
