"""How long the steps of a pair take: usual times, each with its spread."""

from dataclasses import dataclass
from typing import Final

from nearmark.errors import InputError

MAX_MINUTES: Final = 240


@dataclass(frozen=True, slots=True)
class Minutes:
    """How long something takes: a triangular spread, all in minutes."""

    low: float
    usual: float
    high: float

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.usual <= self.high <= MAX_MINUTES:
            raise InputError(
                f"must rise from the shortest to the longest, 0 to {MAX_MINUTES}",
                where="minutes",
                value=f"{self.low:g}, {self.usual:g}, {self.high:g}",
                mend="Give the shortest, the usual and the longest time, such as 2, 3, 5",
            )

    @property
    def mean(self) -> float:
        """In minutes.

        >>> Minutes(2, 3, 5).mean
        3.3333333333333335
        """
        return (self.low + self.usual + self.high) / 3


ARRIVE: Final = Minutes(0, 0.5, 2)
"""From the start of a heat until a pair is at the places (common practice, no source)."""

SCOOP: Final = Minutes(2, 3, 5)
"""At a place, scooping 100 g (common practice, no source)."""

WEIGH: Final = Minutes(0.5, 0.75, 1.5)
"""On the scale, with the number of the cup and the reading (common practice, no source)."""

PUT_BACK: Final = Minutes(0.1, 0.25, 0.5)
"""A helper empties a cup and puts it away, when its pair has gone on (common practice, no source).
"""

COUNT: Final = Minutes(3, 4, 7)
"""At a container (common practice, no source)."""

MEASURE: Final = Minutes(2, 3, 6)
"""At a box (common practice, no source)."""
