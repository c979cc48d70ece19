"""What a day is planned with: the room, its stations, and when the pairs come."""

from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise

from nearmark.contest.heat_times import HEAT_MINUTES
from nearmark.contest.heats import PLACES
from nearmark.errors import InputError
from nearmark.station import Station

MAX_PAIRS = 400
MAX_MINUTES = 240
MAX_AT_ONCE = 60


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


SCOOP = Minutes(2, 3, 5)
WEIGH = Minutes(0.5, 0.75, 1.5)
COUNT = Minutes(3, 4, 7)
MEASURE = Minutes(2, 3, 6)
"""Usual times of a pair (common practice, no source): type your own where you know them."""


class Choice(StrEnum):
    """How a pair chooses what comes next at the free stations."""

    SHORTEST = "shortest queue"
    ORDER = "printed order"
    RANDOM = "any order"


@dataclass(frozen=True, slots=True)
class Stop:
    """A container or box that pairs go to in their own order."""

    code: str  # code of the item
    station: Station
    minutes: Minutes  # what a pair takes at it
    # How many can work at it: its copies times the pairs that see one copy well (pairs, 1 to 60).
    at_once: int = 2

    def __post_init__(self) -> None:
        _whole("pairs at once", self.at_once, 1, MAX_AT_ONCE)


@dataclass(frozen=True, slots=True)
class Break:
    """A helper of a scale is away.  ``start_min`` and ``end_min``: min after the first start."""

    start_min: float
    end_min: float

    def __post_init__(self) -> None:
        if not 0 <= self.start_min < self.end_min <= 24 * 60:
            raise InputError(
                "must end after it starts",
                where="break",
                value=f"{self.start_min:g} to {self.end_min:g}",
                mend="Give minutes after the first start, such as 90 to 100",
            )


@dataclass(frozen=True, slots=True)
class Room:
    """One room."""

    stops: tuple[Stop, ...]
    places: int = PLACES  # pairs that scoop at once, 1 to 60
    scales: int = 1  # scales with a helper each, 1 to 60
    minutes: float = HEAT_MINUTES  # that a pair has for everything; its clock starts with its heat
    scoop: Minutes = SCOOP
    weigh: Minutes = WEIGH
    choice: Choice = Choice.SHORTEST
    # In each, one scale is not served; who is being weighed is weighed to the end.
    breaks: tuple[Break, ...] = ()

    def __post_init__(self) -> None:
        _whole("places", self.places, 1, MAX_AT_ONCE)
        _whole("scales", self.scales, 1, MAX_AT_ONCE)
        if not 1 <= self.minutes <= MAX_MINUTES:
            raise InputError(
                f"must be from 1 to {MAX_MINUTES}",
                where="minutes of a pair",
                value=self.minutes,
                mend="30 is usual",
            )

    def with_more_at_once(self, station: Station) -> "Room":
        """The same room with room for one more pair at every item of a station."""
        more = (
            replace(s, at_once=s.at_once + 1) if s.station is station else s for s in self.stops
        )
        return replace(self, stops=tuple(more))


@dataclass(frozen=True, slots=True)
class Late:
    """Pairs of one heat that come late; their own minutes start when they come.

    ``heat`` counts from 1.  ``pairs``: how many.  ``minutes``: min after the start of the heat.
    """

    heat: int
    pairs: int
    minutes: float


@dataclass(frozen=True, slots=True)
class Day:
    """When pairs come."""

    heats: tuple[int, ...]  # pairs in each heat, in the order of their starts
    interval_min: float = HEAT_MINUTES  # min from one start to the next
    late: tuple[Late, ...] = ()

    def __post_init__(self) -> None:
        _whole("pairs", sum(self.heats), 1, MAX_PAIRS)
        if any(n < 1 for n in self.heats):
            raise InputError("must hold a pair each", where="heats", mend="Leave empty heats out")
        if not 1 <= self.interval_min <= MAX_MINUTES:
            raise InputError(
                f"must be from 1 to {MAX_MINUTES}",
                where="minutes from start to start",
                value=self.interval_min,
                mend="30 is usual; less lets heats overlap",
            )
        for late in self.late:
            self._check(late)

    def _check(self, late: Late) -> None:
        shown = f"heat {late.heat}, {late.pairs} pairs, {late.minutes:g} min"
        n = self.heats[late.heat - 1] if 1 <= late.heat <= len(self.heats) else 0
        what = mend = ""
        if not 1 <= late.pairs <= n:
            what = "names a heat or a number of pairs that is not there"
            mend = f"Heats are numbered 1 to {len(self.heats)}"
        elif not 0 <= late.minutes <= MAX_MINUTES:
            what, mend = f"must be 0 to {MAX_MINUTES} minutes", "Give minutes after the heat starts"
        elif [each.heat for each in self.late].count(late.heat) > 1:
            what, mend = "names a heat twice", "Give one number of minutes for each heat"
        if what:
            raise InputError(what, where="late pairs", value=shown, mend=mend)

    @property
    def n_pairs(self) -> int:
        """All pairs of the day."""
        return sum(self.heats)

    def heat_of(self) -> list[int]:
        """Heat of each pair, from 0; pairs are numbered heat by heat."""
        return [h for h, n in enumerate(self.heats) for _ in range(n)]

    def arrivals_min(self) -> list[float]:
        """When each pair's own minutes start, in min after the first start.

        >>> Day((2, 3), 20, (Late(2, 1, 5),)).arrivals_min()
        [0.0, 0.0, 25.0, 20.0, 20.0]
        """
        late = {each.heat: each for each in self.late}
        found: list[float] = []
        for heat, n in enumerate(self.heats, start=1):
            start = float(self.interval_min * (heat - 1))
            after = late.get(heat)
            n_late = 0 if after is None else after.pairs
            found += [start + (0.0 if after is None else after.minutes)] * n_late
            found += [start] * (n - n_late)
        return found


def equal_heats(n_pairs: int, places: int = PLACES) -> tuple[int, ...]:
    """As few heats as hold all, as equal as they can be, the fuller ones first.

    Parameters
    ----------
    n_pairs : 1 to 400
    places : pairs in a heat at most

    Examples
    --------
    >>> equal_heats(80)
    (12, 12, 12, 11, 11, 11, 11)
    """
    _whole("pairs", n_pairs, 1, MAX_PAIRS)
    _whole("places", places, 1, MAX_AT_ONCE)
    n = -(-n_pairs // places)
    ends = [-(-n_pairs * k // n) for k in range(n + 1)]
    return tuple(sorted((b - a for a, b in pairwise(ends)), reverse=True))


def usual_room() -> Room:
    """Three containers and two boxes, each seen by two pairs at once.

    >>> [stop.code for stop in usual_room().stops]
    ['C1', 'C2', 'C3', 'B1', 'B2']
    """
    counts = tuple(Stop(f"C{n}", Station.COUNT, COUNT) for n in (1, 2, 3))
    boxes = tuple(Stop(f"B{n}", Station.VOLUME, MEASURE) for n in (1, 2))
    return Room((*counts, *boxes))


def _whole(where: str, value: int, low: int, high: int) -> None:
    if not low <= value <= high:
        raise InputError(
            f"must be from {low} to {high}", where=where, value=value, mend="Check the number"
        )
