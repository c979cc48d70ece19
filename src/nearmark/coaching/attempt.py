"""One attempt of the season: who estimated what, and how it was put together."""

import math
from dataclasses import dataclass
from datetime import date

from nearmark.errors import InputError
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class Layers:
    """How a count was put together, and what it should have been.

    Attributes
    ----------
    layer, layers : pieces, layers
        Pieces in one layer and number of layers, as the pupil had them.
    layer_true, layers_true : pieces, layers, or None
        As the coach counted them; ``None``: not counted.
    """

    layer: float
    layers: float
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
    """How a volume was put together, and what it should have been.

    Attributes
    ----------
    length, width, height : cm
        As the pupil had them.
    true_cm : cm, shape (3,), or None
        The sides themselves, in the same order.
    """

    length: float
    width: float
    height: float
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
    """What the hand had to look past when it scooped.

    Attributes
    ----------
    cup_g : g
        Mass of the empty cup.
    density_g_cm3 : g/cm3
        Bulk density of the material.
    """

    cup_g: float
    density_g_cm3: float


@dataclass(frozen=True, slots=True)
class Attempt:
    """One estimate with its true value.

    Attributes
    ----------
    day : date
        Attempts of one day are one session.
    pupil : str
        First name or code, nothing more.
    thing : str
        What was estimated.
    estimate, true : unit of the station, > 0
        At the mass station the net mass scooped, and the mass asked for.
    size : str
        Size class; empty: all sizes of the station together.
    pair : str
        Code of the pair, when two worked together or practise for it.
    is_known : bool
        Whether the pupil had seen the true value before: then it is no practice.
    partner : unit of the station, or None
        What the other of the pair said of the same thing on the same day.
    """

    day: date
    pupil: str
    station: Station
    thing: str
    estimate: float
    true: float
    size: str = ""
    parts: Layers | Sides | Scoop | None = None
    pair: str = ""
    is_known: bool = False
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
