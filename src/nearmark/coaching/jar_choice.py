"""Which jar to pour for practice: the count drawn inside a band, so that nobody knows it."""

import math
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from nearmark.errors import InputError
from nearmark.packing import (
    SHAPES,
    JarVessel,
    PackingRequest,
    box,
    cup,
    cylinder,
    grain_shape,
    rounded_jar,
    solid,
)

Band = Literal["small", "medium", "large"]


@dataclass(frozen=True, slots=True)
class CountBand:
    """The counts of one size of container."""

    # Both belong to the band (pieces).
    least: int
    most: int


BANDS: Final[dict[str, CountBand]] = {
    "small": CountBand(100, 700),
    "medium": CountBand(1_000, 5_000),
    "large": CountBand(11_000, 20_000),
}
"""The three sizes of container of the contest's second station."""

WIDTHS_MM: Final = {
    "sphere": (5.0, 11.0),
    "capsule": (4.0, 9.0),
    "rice": (1.8, 2.6),
    "bean": (5.5, 9.0),
    "oblate": (2.5, 4.5),
    "coin": (2.0, 3.5),
    "tube": (4.5, 8.0),
    "twist": (4.0, 6.5),
    "nut": (7.0, 11.0),
}
"""Width from which a piece is drawn, mm; our own choice after dry food and small hardware."""

LOOSE_FRACTION: Final = {
    "sphere": 0.60,
    "capsule": 0.61,
    "rice": 0.57,
    "bean": 0.61,
    "oblate": 0.58,
    "coin": 0.50,
    "tube": 0.46,
    "twist": 0.48,
    "nut": 0.52,
}
"""Share of space the pieces take up, from one bed of 500 of each; only sizes the vessel."""

FILL_SHARES: Final = (0.68, 0.88)
FORMS: Final = ("cylinder", "box", "cup", "jar")


def drawn_request(
    band: str, rng: np.random.Generator, *, shape: str | None = None
) -> PackingRequest:
    """Draw a jar of a band: what is in it, how many, in which vessel.

    The count is drawn evenly in its logarithm.

    >>> ask = drawn_request("small", np.random.default_rng(3), shape="bean")
    >>> 100 <= ask.n_grains <= 700, ask.shape.code
    (True, 'bean')

    Parameters
    ----------
    band : small, medium or large
    rng : the only source of chance
    shape : code of a shape, optional; drawn as well by default

    Raises
    ------
    InputError : if there is no such band or shape
    """
    if band not in BANDS:
        raise InputError(
            "no such size of jar", where="size", value=band, mend=f"One of: {', '.join(BANDS)}"
        )
    code = shape or str(rng.choice(list(SHAPES)))
    body = solid(grain_shape(code))
    least, most = BANDS[band].least, BANDS[band].most
    count = round(math.exp(rng.uniform(math.log(least), math.log(most))))
    width_mm = round(float(rng.uniform(*WIDTHS_MM[code])), 1)
    bed_cm3 = count * body.volume * (width_mm / 10) ** 3 / LOOSE_FRACTION[code]
    volume_cm3 = bed_cm3 / float(rng.uniform(*FILL_SHARES))
    # The engine asks that a piece fit twice across; three times leaves room for its spread.
    narrowest_cm = 3 * 2 * body.reach * width_mm / 10
    return PackingRequest(
        shape=grain_shape(code),
        n_grains=count,
        width_mm=width_mm,
        vessel=_vessel(str(rng.choice(FORMS)), volume_cm3, narrowest_cm, rng),
        seed=int(rng.integers(2**31)),
    )


def _vessel(
    form: str, volume_cm3: float, narrowest_cm: float, rng: np.random.Generator
) -> JarVessel:
    """A vessel of about this volume, higher than wide, in tenths of a centimetre."""
    slim = float(rng.uniform(1.15, 1.7))
    across = max(narrowest_cm, (4 * volume_cm3 / (math.pi * slim)) ** (1 / 3))
    height = volume_cm3 / (math.pi / 4 * across**2)
    if form == "box":
        side = across * math.sqrt(math.pi / 4)
        return box(_tenth(1.12 * side), _tenth(side / 1.12), _tenth(height))
    if form == "cup":
        # A cone cut off whose mean of squares is that of the cylinder, to a percent.
        return cup(_tenth(0.86 * across), _tenth(1.14 * across), _tenth(height))
    if form == "jar":
        return rounded_jar(_tenth(across), _tenth(1.03 * height), _tenth(0.16 * across))
    return cylinder(_tenth(across), _tenth(height))


def _tenth(length_cm: float) -> float:
    return math.ceil(10 * length_cm) / 10
