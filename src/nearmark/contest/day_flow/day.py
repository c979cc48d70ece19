"""When pairs come: heats, late pairs, and how the pairs of a day are shared among rooms."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from typing import Final

from nearmark.contest.day_flow.room import MAX_AT_ONCE, RoomPlan, check_whole
from nearmark.contest.day_flow.times import MAX_MINUTES
from nearmark.contest.rules import HEAT_MINUTES, PLACES
from nearmark.errors import InputError

MAX_PAIRS: Final = 400
MAX_ROOMS: Final = 6


@dataclass(frozen=True, slots=True)
class Late:
    """Pairs of one heat that come late, such as a school; their own minutes start when they come.

    ``heat`` counts from 1.  ``pairs``: how many.  ``minutes``: min after the start of the heat.
    """

    heat: int
    pairs: int
    minutes: float


@dataclass(frozen=True, slots=True)
class Day:
    """When the pairs of one room come."""

    heats: tuple[int, ...]  # pairs in each heat, in the order of their starts
    interval_min: float = HEAT_MINUTES  # min from one planned start to the next
    late: tuple[Late, ...] = ()

    def __post_init__(self) -> None:
        check_whole("pairs", sum(self.heats), 1, MAX_PAIRS)
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

    def starts_min(self) -> list[float]:
        """Planned start of each heat, in min after the first one."""
        return [float(self.interval_min * h) for h in range(len(self.heats))]

    def late_min(self) -> list[float]:
        """By how much each pair comes late, in min.

        >>> Day((2, 3), 20, (Late(2, 1, 5),)).late_min()
        [0.0, 0.0, 5.0, 0.0, 0.0]
        """
        late = {each.heat: each for each in self.late}
        found: list[float] = []
        for heat, n in enumerate(self.heats, start=1):
            after = late.get(heat, Late(heat, 0, 0.0))
            found += [float(after.minutes)] * after.pairs + [0.0] * (n - after.pairs)
        return found


@dataclass(frozen=True, slots=True)
class RoomDay:
    """One room on the day: what is in it, and when its pairs come."""

    room: RoomPlan
    day: Day


def equal_heats(n_pairs: int, places: int = PLACES) -> tuple[int, ...]:
    """As few heats as hold all, as equal as they can be, the fuller ones first.

    >>> equal_heats(80)
    (12, 12, 12, 11, 11, 11, 11)

    Parameters
    ----------
    n_pairs : 1 to 400
    places : pairs in a heat at most
    """
    check_whole("pairs", n_pairs, 1, MAX_PAIRS)
    check_whole("places", places, 1, MAX_AT_ONCE)
    n = -(-n_pairs // places)
    return tuple(sorted(_shares(n_pairs, [1] * n), reverse=True))


def shared_out(
    n_pairs: int,
    rooms: Sequence[RoomPlan],
    *,
    interval_min: float = HEAT_MINUTES,
    late: tuple[Late, ...] = (),
) -> tuple[RoomDay, ...]:
    """The pairs of a day in several rooms, by their places, in as few heats as hold all.

    >>> from nearmark.contest.day_flow.room import RoomPlan, usual_stops
    >>> big, small = RoomPlan(usual_stops()), RoomPlan(usual_stops(), places=6)
    >>> [each.day.heats for each in shared_out(52, (big, small))]
    [(12, 12, 11), (6, 6, 5)]

    Parameters
    ----------
    n_pairs : 1 to 400
    rooms : shape (n_rooms,), 1 to 6
    interval_min : min from one start to the next, in every room
    late : of the first room
    """
    check_whole("pairs", n_pairs, 1, MAX_PAIRS)
    check_whole("rooms", len(rooms), 1, MAX_ROOMS)
    shares = _shares(n_pairs, [room.places for room in rooms])
    found = [
        RoomDay(room, Day(equal_heats(n, room.places), interval_min))
        for n, room in zip(shares, rooms, strict=True)
        if n
    ]
    if late:
        found[0] = replace(found[0], day=replace(found[0].day, late=late))
    return tuple(found)


def _shares(n: int, weights: Sequence[int]) -> list[int]:
    """Whole shares by weight: each at most its exact share rounded up."""
    total = sum(weights)
    ends = [-(-n * before // total) for before in accumulate(weights, initial=0)]
    return [b - a for a, b in pairwise(ends)]
