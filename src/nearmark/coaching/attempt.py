"""One attempt of the season: who estimated what, and how it was put together."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from nearmark.errors import InputError
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class Layers:
    """How a count was put together, and what it should have been."""

    # Pieces in one layer and number of layers, as the pupil had them (pieces, layers).
    layer: float
    layers: float
    # As the coach counted them; ``None``: not counted (pieces, layers, or None).
    layer_true: float | None = None
    layers_true: float | None = None

    @property
    def factors(self) -> tuple[float, ...]:
        """What the pupil multiplied, shape (2,)."""
        return (self.layer, self.layers)

    @property
    def product(self) -> float:
        """Of the pupil's own parts, pieces."""
        return self.layer * self.layers


@dataclass(frozen=True, slots=True)
class Sides:
    """How a volume was put together, and what it should have been."""

    # As the pupil had them (cm).
    length: float
    width: float
    height: float
    # The sides themselves, in the same order (cm, or None).
    true_cm: tuple[float, float, float] | None = None

    @property
    def cm(self) -> tuple[float, float, float]:
        """The pupil's sides in cm, shape (3,)."""
        return (self.length, self.width, self.height)

    @property
    def factors(self) -> tuple[float, ...]:
        """What the pupil multiplied, in cm, shape (3,)."""
        return self.cm

    @property
    def product(self) -> float:
        """Of the pupil's own sides, cm3."""
        return self.length * self.width * self.height


@dataclass(frozen=True, slots=True)
class Scoop:
    """What the hand had to look past when it scooped."""

    cup_g: float  # mass of the empty cup
    density_g_cm3: float  # bulk density of the material (g/cm3)


Parts = Layers | Sides | Scoop

STATION_PARTS: Final[Mapping[Station, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    Station.COUNT: (("layer", "layers"), ("layer_true", "layers_true")),
    Station.VOLUME: (
        ("length_cm", "width_cm", "height_cm"),
        ("length_true_cm", "width_true_cm", "height_true_cm"),
    ),
    Station.MASS: (("cup_g", "density_g_cm3"), ()),
}
"""Names of the parts in files and tables, by station: the pupil's own, and the true ones."""


def parts_from(station: Station, columns: Mapping[str, float | None]) -> Parts | None:
    """The parts of an attempt from its columns; ``None`` while one of the pupil's own is empty.

    >>> parts_from(Station.COUNT, {"layer": 38, "layers": 10, "layer_true": 37})
    Layers(layer=38, layers=10, layer_true=37, layers_true=None)

    Parameters
    ----------
    columns : mapping column of ``STATION_PARTS`` -> number in its unit, or None
        Those of other stations are passed over; true sides count only all together.
    """
    own, true = ([columns.get(name) or None for name in names] for names in STATION_PARTS[station])
    given = [value for value in own if value is not None]
    if len(given) < len(own):
        return None
    if station is Station.COUNT:
        return Layers(given[0], given[1], true[0], true[1])
    if station is Station.MASS:
        return Scoop(given[0], given[1])
    known = [value for value in true if value is not None]
    sides = (known[0], known[1], known[2]) if len(known) == len(true) else None
    return Sides(given[0], given[1], given[2], sides)


def part_columns(parts: Parts | None) -> dict[str, float | None]:
    """The parts of an attempt as columns; those of other stations are left out.

    >>> part_columns(Scoop(6.5, 0.8))
    {'cup_g': 6.5, 'density_g_cm3': 0.8}
    """
    values: tuple[float | None, ...]
    if isinstance(parts, Layers):
        station, values = Station.COUNT, (*parts.factors, parts.layer_true, parts.layers_true)
    elif isinstance(parts, Sides):
        station, values = Station.VOLUME, (*parts.cm, *(parts.true_cm or (None, None, None)))
    elif isinstance(parts, Scoop):
        station, values = Station.MASS, (parts.cup_g, parts.density_g_cm3)
    else:
        return {}
    own, true = STATION_PARTS[station]
    return dict(zip((*own, *true), values, strict=True))


@dataclass(frozen=True, slots=True)
class Attempt:
    """One estimate with its true value."""

    day: date  # attempts of one day are one session
    pupil: str  # first name or code, nothing more
    station: Station
    thing: str  # what was estimated
    # At the mass station the net mass scooped, and the mass asked for (unit of the station, > 0).
    estimate: float
    true: float
    size: str = ""  # size class; empty: all sizes of the station together
    parts: Parts | None = None
    pair: str = ""  # code of the pair, when two worked together or practise for it
    # Whether the pupil had seen the true value before: then it is no practice.
    is_known: bool = False
    # What the other of the pair said of the same thing on the same day (unit of the station, or
    # None).
    partner: float | None = None

    def __post_init__(self) -> None:
        for name, value in (("estimate", self.estimate), ("true", self.true)):
            if not (math.isfinite(value) and value > 0):
                raise InputError(
                    "must be above zero",
                    where=f"{name} of {self.thing}",
                    value=value,
                    mend="Leave a blank answer out of the log",
                )

    @property
    def log_ratio(self) -> float:
        """ln(estimate / true), dimensionless."""
        return math.log(self.estimate / self.true)

    @property
    def stratum(self) -> tuple[Station, str]:
        """Station and size class: what is learnt together."""
        return (self.station, self.size)
