"""A planned container poured on the computer first: how high, what the eye sees, how misleading."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from nearmark.kit.materials import CatalogueMaterial
from nearmark.kit.prediction import Walls
from nearmark.kit.vessels import Vessel
from nearmark.packing import (
    Grade,
    Jar,
    JarVessel,
    box,
    census,
    cup,
    cylinder,
    grade_of,
    settle,
    stand_in_request,
)

MAX_TOGETHER: Final = 12_000
"""Pieces of all pours of a trial together: a trial takes seconds, of a large container one pour."""

MAX_POURS: Final = 3

STAND_IN_U: Final = 0.02
"""Relative standard uncertainty of the walls' share because the simulated piece is only alike; our
own choice."""

ONE_POUR_U: Final = 0.02
"""Relative spread between pours, where one pour cannot tell it; our own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class TrialPour:
    """What some pours of the same plan on the computer say."""

    jars: tuple[Jar, ...]  # one a pour
    pieces: int
    heights_cm: tuple[float, ...]  # fill height (cm, one a pour)
    surface_pieces: float  # seen from above, mean of the pours
    layers: float  # met going up the side, mean of the pours (pieces)
    # ``surface_pieces * layers``, mean of the pours: what the usual method gives (pieces).
    product: float
    grade: Grade  # by how far the product leads away from the count (easy, medium or hard)
    walls: Walls  # what the vessel holds, relative to a wide heap of the same pieces

    @property
    def height_cm(self) -> float:
        """Fill height to expect, in cm."""
        return float(np.mean(self.heights_cm))

    @property
    def off(self) -> float:
        """How far the product is from the count, relative: -0.2 is 20 % low."""
        return self.product / self.pieces - 1


def trial_pour(
    pieces: int,
    material: CatalogueMaterial,
    vessel: Vessel,
    *,
    seed: int = 0,
    progress: Callable[[float], None] | None = None,
) -> TrialPour:
    """Pour a planned container on the computer, as often as takes some seconds.

    The simulated pieces stand in for the real ones: alike in shape, and of a size that a wide heap
    holds as many of them as of the material.

    >>> from nearmark.kit import material, vessels
    >>> seen = trial_pour(150, material("chickpea"), vessels()["jar-500"])
    >>> len(seen.jars), 0.8 < seen.walls.share < 1.05
    (3, True)

    Parameters
    ----------
    pieces : pieces, 1 to 20,000
    seed : whole number; of the first pour; the same seed gives the same trial
    progress : callable (share), optional; called with 0 to 1; what it raises stops the work

    Raises
    ------
    InputError : if no simulated piece is like the material, or it does not fit
    MeasurementError : if a pour does not come to rest
    """
    heap = material.bulk_density.value / material.piece_mass_g
    n_pours = max(1, min(MAX_POURS, MAX_TOGETHER // max(pieces, 1)))
    requests = [
        stand_in_request(material.shape, heap, pieces, simulated(vessel), seed + k)
        for k in range(n_pours)
    ]
    jars = []
    for k, request in enumerate(requests):
        part = None if progress is None else _part_of(progress, k, n_pours)
        jars.append(settle(request, progress=part))
    seen = [census(jar) for jar in jars]
    shares = [
        pieces / each.request.vessel.volume_below_cm3(look.fill_height_cm) / heap
        for each, look in zip(jars, seen, strict=True)
    ]
    between = float(np.std(shares, ddof=1)) if n_pours > 1 else ONE_POUR_U * shares[0]
    share = float(np.mean(shares))
    product = float(np.mean([look.product for look in seen]))
    return TrialPour(
        jars=tuple(jars),
        pieces=pieces,
        heights_cm=tuple(look.fill_height_cm for look in seen),
        surface_pieces=float(np.mean([look.surface_pieces for look in seen])),
        layers=float(np.mean([look.layers for look in seen])),
        product=product,
        grade=grade_of(product, pieces),
        walls=Walls(share, math.hypot(between / share, STAND_IN_U)),
    )


def simulated(vessel: Vessel) -> JarVessel:
    """The vessel as the packing engine knows it.

    >>> simulated(Vessel("own", "Own", "taper", (6.0, 8.0, 10.0), 20.0)).top_cm
    8.0
    """
    if vessel.shape == "cylinder":
        return cylinder(*vessel.sizes_cm)
    return (box if vessel.shape == "box" else cup)(*vessel.sizes_cm)


def _part_of(progress: Callable[[float], None], k: int, n: int) -> Callable[[float], None]:
    return lambda share: progress((k + share) / n)
