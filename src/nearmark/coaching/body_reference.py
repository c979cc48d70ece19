"""A pupil's own joints, palm and span as rulers: how long, how well known, for how long.

Nothing is ever marked on a hand.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from nearmark.coaching.limits import checked
from nearmark.errors import TooFewReadings
from nearmark.measurement.instruments import Instrument

USUAL_REPEAT: Final = 0.015
"""Relative scatter of placing a hand once more (common practice, no source)."""

WORTH: Final = 2.0
"""Degrees of freedom the usual scatter is worth beside the pupil's own readings."""

GROWTH_PER_YEAR: Final = 0.035
"""Hands of children from 8 to 14 grow 2 to 5 % a year (from memory)."""

ALLOWED: Final = 0.01
"""Share by which growth may make a volume too small before the references are measured again."""


@dataclass(frozen=True, slots=True)
class BodyReference:
    """One part of the hand as a ruler."""

    name: str
    length_cm: float
    u_cm: float  # standard uncertainty of the length: the same in every placement
    repeat_cm: float  # standard deviation of one placement: new each time

    def __post_init__(self) -> None:
        checked(self.length_cm, f"length of {self.name}", 0.2, 300, mend="Give it in cm")
        for what, value in (("u", self.u_cm), ("repeat", self.repeat_cm)):
            checked(value, f"{what} of {self.name}", 0, self.length_cm, mend="Give it in cm")


def calibrated(name: str, readings_cm: Sequence[float], ruler: Instrument) -> BodyReference:
    """A reference from repeated readings, each with the hand placed again.

    >>> palm = calibrated("palm", [6.9, 7.0, 6.8], Instrument("ruler", "cm", 0.1))
    >>> round(palm.length_cm, 2), round(palm.u_cm, 3)
    (6.9, 0.065)

    Parameters
    ----------
    readings_cm : cm, shape (n,), n >= 1; three are usual
    ruler : in cm

    Raises
    ------
    TooFewReadings : if there is none
    InputError : if a reading is impossible

    References
    ----------
    JCGM 100:2008, clauses 4.2.3 and 4.3.7; the scatter is pooled with the usual 1.5 %, worth two
    degrees of freedom, since two or three readings tell little of it.
    """
    if not readings_cm:
        raise TooFewReadings(f"readings of {name}", got=0, need=1)
    for reading in readings_cm:
        checked(reading, f"reading of {name}", 0.2, 300, mend="Give it in cm")
    n = len(readings_cm)
    mean = math.fsum(readings_cm) / n
    square = math.fsum((reading - mean) ** 2 for reading in readings_cm)
    repeat = math.sqrt((WORTH * (USUAL_REPEAT * mean) ** 2 + square) / (WORTH + n - 1))
    u = math.hypot(repeat / math.sqrt(n), ruler.resolution_u)
    return BodyReference(name, mean, u, repeat)


def remeasure_by(measured: date, *, growth_per_year: float = GROWTH_PER_YEAR) -> date:
    """The day by which growing hands want to be measured again.

    A hand that has grown by a share makes a volume too small by three times that share.

    >>> remeasure_by(date(2027, 2, 3))  # five weeks at 3.5 % a year
    datetime.date(2027, 3, 10)

    Parameters
    ----------
    growth_per_year : relative, > 0

    Raises
    ------
    InputError : if a number makes no sense
    """
    checked(growth_per_year, "growth per year", 0.001, 0.5, mend="0.035 is 3.5 %")
    return measured + timedelta(days=math.ceil(365.25 * ALLOWED / (3 * growth_per_year)))
