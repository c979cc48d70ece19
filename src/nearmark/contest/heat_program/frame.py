"""What the day offers to the plan: rooms, times, and how many heats."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import time
from enum import StrEnum
from math import ceil
from typing import Final

from nearmark.contest.event import Room
from nearmark.contest.heat_times import MAX_MINUTES
from nearmark.contest.rules import HEAT_MINUTES, PLACES
from nearmark.errors import InputError

MAX_HEATS: Final = 99
MAX_ROOMS: Final = 12


class DivisionRule(StrEnum):
    """Whether pairs of two divisions may go together."""

    MIXED = "mixed"
    OWN_HEATS = "own heats"  # no heat has pairs of two divisions
    OWN_ROOM = "own room"  # each division is in one room all day


@dataclass(frozen=True, slots=True)
class HeatFrame:
    """What the day offers."""

    rooms: tuple[Room, ...] = (Room("", PLACES),)  # one without a name: the event has no rooms
    first_start: time | None = None  # start of heat 1; ``None``: not known (time of the day)
    minutes: int = HEAT_MINUTES  # length of a heat (min)
    interval_minutes: int | None = None  # from start to start; ``None``: the length (min)
    max_heats: int | None = None  # heats; ``None``: as many as it takes
    divisions: DivisionRule = DivisionRule.MIXED
    closed: frozenset[int] = frozenset()  # heats that nobody joins any more (heat numbers)

    @property
    def places(self) -> int:
        """Pairs in one heat, all rooms together."""
        return sum(room.places for room in self.rooms)

    @property
    def step(self) -> int:
        """Minutes from start to start."""
        return self.minutes if self.interval_minutes is None else self.interval_minutes

    def start_minute(self, heat: int) -> int:
        """Start of a heat in minutes after midnight; the first start has to be known."""
        if self.first_start is None:
            raise InputError(
                "is not known, and a wish names a time",
                where="start of heat 1",
                mend="Give the start of heat 1",
            )
        return minute_of(self.first_start) + self.step * (heat - 1)

    def end_minute(self, heat: int) -> int:
        """End of a heat in minutes after midnight."""
        return self.start_minute(heat) + self.minutes

    def check(self) -> None:
        """Refuse what makes no plan."""
        _check("rooms", len(self.rooms), 1, MAX_ROOMS)
        names = [room.name for room in self.rooms]
        if len(set(names)) < len(names):
            raise InputError("are named twice", where="rooms", mend="Give each its own name")
        for room in self.rooms:
            _check(f"places of room {room.name}".strip(), room.places, 1, 1_000)
        _check("minutes of a heat", self.minutes, 1, MAX_MINUTES)
        _check("minutes from start to start", self.step, 1, MAX_MINUTES)
        if self.max_heats is not None:
            _check("heats at most", self.max_heats, 1, MAX_HEATS)


def minute_of(moment: time) -> int:
    """Minutes after midnight.

    >>> minute_of(time(9, 20))
    560
    """
    return moment.hour * 60 + moment.minute


def heat_numbers(
    frame: HeatFrame, n_pairs: int, used: Collection[int], earliest: int | None, spare: int
) -> tuple[int, ...]:
    """Numbers of the heats that a plan may use, in order.

    >>> heat_numbers(HeatFrame(), 30, [5], None, 0)
    (1, 2, 3, 5)

    Parameters
    ----------
    n_pairs : pairs
    used : heat numbers; those in which pairs have to be
    earliest : min after midnight or None; the latest of the earliest times asked for
    spare : heats; more than the places alone ask for
    """
    n = ceil(n_pairs / frame.places)
    if frame.max_heats is not None:
        n = frame.max_heats
    else:
        if earliest is not None:
            late = max(0, ceil((earliest - frame.start_minute(1)) / frame.step))
            spare = max(spare, late)
        n = min(n + spare, max(MAX_HEATS, n))
    return tuple(sorted({*range(1, n + 1), *used}))


def _check(where: str, value: int, low: int, high: int) -> None:
    if not low <= value <= high:
        raise InputError(f"must be {low} to {high:,}", where=where, value=value)
