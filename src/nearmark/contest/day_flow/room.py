"""What is in a room: places, scales and their helpers, containers and boxes."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from nearmark.contest.day_flow.times import (
    ARRIVE,
    COUNT,
    MAX_MINUTES,
    MEASURE,
    PUT_BACK,
    SCOOP,
    WEIGH,
    Minutes,
)
from nearmark.contest.rules import HEAT_MINUTES, PLACES
from nearmark.errors import InputError
from nearmark.station import Station

MAX_AT_ONCE: Final = 60


class Choice(StrEnum):
    """How a pair chooses what comes next at the free stations."""

    SHORTEST = "shortest queue"
    ORDER = "printed order"
    RANDOM = "any order"
    HABIT = "own station first"  # all containers first or all boxes first, whatever the queues


class Overrun(StrEnum):
    """What becomes of a pair that is not ready when its minutes are up."""

    UNDONE = "left undone"  # it stops; the next heat starts in time
    LATER = "runs over"  # it goes on; the next heat of the room waits until it has left


@dataclass(frozen=True, slots=True)
class Stop:
    """A container or box that pairs go to in their own order."""

    code: str  # code of the item
    station: Station
    minutes: Minutes  # what a pair takes at it
    # How many can work at it: its copies times the pairs that see one copy well (pairs, 1 to 60).
    at_once: int = 2

    def __post_init__(self) -> None:
        check_whole("pairs at once", self.at_once, 1, MAX_AT_ONCE)


@dataclass(frozen=True, slots=True)
class Break:
    """A helper is away from the scales, from ``start_min`` to ``end_min`` after the first start."""

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
class RoomPlan:
    """One room as it is planned; a field without its own value has a usual one."""

    stops: tuple[Stop, ...]
    name: str = ""
    places: int = PLACES  # pairs that scoop at once, 1 to 60
    scales: int = 1  # 1 to 60
    helpers: int = 1  # at the scales of this room; each weighs a cup and puts it away (1 to 60)
    minutes: float = HEAT_MINUTES  # that a pair has for everything; its clock starts with its heat
    arrive: Minutes = ARRIVE
    scoop: Minutes = SCOOP
    weigh: Minutes = WEIGH
    put_back: Minutes = PUT_BACK
    choice: Choice = Choice.SHORTEST
    overrun: Overrun = Overrun.UNDONE
    # Whether a scoop goes back after weighing, and its cup is used again.
    is_returned: bool = True
    # In each, one helper is away; a cup that is being weighed is weighed to the end.
    breaks: tuple[Break, ...] = ()

    def __post_init__(self) -> None:
        for where, value in (
            ("places", self.places),
            ("scales", self.scales),
            ("helpers", self.helpers),
        ):
            check_whole(where, value, 1, MAX_AT_ONCE)
        if not 1 <= self.minutes <= MAX_MINUTES:
            raise InputError(
                f"must be from 1 to {MAX_MINUTES}",
                where="minutes of a pair",
                value=self.minutes,
                mend="30 is usual",
            )

    def with_more_at_once(self, station: Station) -> "RoomPlan":
        """The same room with room for one more pair at every item of a station."""
        more = (
            replace(s, at_once=s.at_once + 1) if s.station is station else s for s in self.stops
        )
        return replace(self, stops=tuple(more))


def usual_stops(containers: int = 3, boxes: int = 2, *, at_once: int = 2) -> tuple[Stop, ...]:
    """Containers and boxes with usual times.

    >>> [stop.code for stop in usual_stops()]
    ['C1', 'C2', 'C3', 'B1', 'B2']

    Parameters
    ----------
    containers, boxes : how many
    at_once : pairs that each of them has room for
    """
    counts = (Stop(f"C{n}", Station.COUNT, COUNT, at_once) for n in range(1, containers + 1))
    volumes = (Stop(f"B{n}", Station.VOLUME, MEASURE, at_once) for n in range(1, boxes + 1))
    return (*counts, *volumes)


def check_whole(where: str, value: int, low: int, high: int) -> None:
    """Refuse a number out of its range.

    >>> check_whole("scales", 2, 1, 60)

    Parameters
    ----------
    where : name of the number
    value, low, high : whole; both ends are in the range

    Raises
    ------
    InputError
    """
    if not low <= value <= high:
        raise InputError(
            f"must be from {low} to {high}", where=where, value=value, mend="Check the number"
        )
