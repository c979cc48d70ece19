"""Which cheap change of a plan helps pairs most, each tried on the same days."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from operator import methodcaller
from typing import Final

import numpy as np

from nearmark.contest.day_flow.day import RoomDay
from nearmark.contest.day_flow.draws import Floats
from nearmark.contest.day_flow.figures import DayFigures, Played, figures_of
from nearmark.contest.day_flow.room import MAX_AT_ONCE, Choice, Overrun, RoomPlan
from nearmark.contest.day_flow.summary import days_played
from nearmark.contest.day_flow.times import MAX_MINUTES
from nearmark.station import Station

N_TRIED: Final = 20
"""Days each change is tried on."""

MIN_GAIN_MINUTES: Final = 1.0
"""A smaller gain is not worth a helper or a container (invented default)."""

MIN_MORE_DONE: Final = 0.02
"""Share of the estimates; less is not worth it either (invented default)."""

MORE_MINUTES: Final = 5
MAX_ROUNDS: Final = 5
"""Of trying all changes after the best so far."""


class ChangeKind(StrEnum):
    """What is changed, in every room."""

    HELPER = "one helper more at the scales"
    SCALE = "one scale more with a helper"
    COUNT = "room for one pair more at each container"
    VOLUME = "room for one pair more at each box"
    SHORTEST = "a helper sends each pair to the shortest queue"
    MINUTES = "more minutes for each pair"
    INTERVAL = "more minutes between heats"


@dataclass(frozen=True, slots=True)
class Change:
    """One change after those in front of it, and what it does."""

    kind: ChangeKind
    amount: float  # scales, helpers, pairs at once or min, of one room after the change
    gain_min: float  # by which the wait of the pair worse off than 95 of 100 falls (min)
    gain_u_min: float  # standard uncertainty of that, from the scatter of the days (min)
    more_done: float  # that pairs come to beyond those before (share of the free items, 0 to 1)
    more_done_u: float  # standard uncertainty of that (share)
    later_min: float  # by which the day ends later; below 0: earlier (min)
    # Numbers of the heats in which a pair waits a minute less or more, if not in all of them.
    heats: tuple[int, ...] = ()

    @property
    def saves_time(self) -> bool:
        """Whether it saves a minute or more, beyond what chance can do (two standard errors)."""
        return self.gain_min >= max(MIN_GAIN_MINUTES, 2 * self.gain_u_min)

    @property
    def gets_done(self) -> bool:
        """Whether two estimates more in a hundred are made, beyond what chance can do."""
        return self.more_done >= max(MIN_MORE_DONE, 2 * self.more_done_u)

    @property
    def is_worth_it(self) -> bool:
        """Whether it saves time, or gets more done."""
        return self.saves_time or self.gets_done

    def worth(self, minutes: float) -> float:
        """What is compared: min saved; what is not done counts with the minutes of a pair.

        A change that lets the day end later comes behind all others: it costs everybody's time.
        """
        saved = self.gain_min + self.more_done * minutes
        return saved if self.later_min < MORE_MINUTES else saved - 10_000


@dataclass(frozen=True, slots=True)
class _Tried:
    change: Change
    rooms: tuple[RoomDay, ...]
    days: list[tuple[Played, ...]]
    figures: list[DayFigures[float]]


def worth_of_changes(
    rooms: Sequence[RoomDay],
    *,
    n_days: int = N_TRIED,
    first_seed: int = 0,
    progress: Callable[[float], None] | None = None,
) -> tuple[Change, ...]:
    """Try each cheap change, take the one that saves most, and try the others after it.

    Those worth it come in the order to take them, then the rest, most gain first.

    Stops when none is worth it; the last round is in the result as well, so that what saves nothing
    can be said.  All changes meet the same days, so that a gain is the change's alone.  A change
    that lets the day end later is never taken by itself; what it would save comes last.

    >>> from nearmark.contest.day_flow.day import Day
    >>> from nearmark.contest.day_flow.room import usual_stops
    >>> found = worth_of_changes([RoomDay(RoomPlan(usual_stops()), Day((12,)))], n_days=2)
    >>> found[0].kind.value, found[0].is_worth_it
    ('one scale more with a helper', True)

    Parameters
    ----------
    rooms : shape (n_rooms,)
    n_days : 2 to 1000
    first_seed : the days have this seed and the following ones
    progress : called with 0 to 1; what it raises stops the work
    """
    taken: list[Change] = []
    tried: list[_Tried] = []
    before = _played(tuple(rooms), n_days, first_seed)
    for k in range(MAX_ROUNDS):
        tried = []
        options = list(_changes(before.rooms))
        for i, (kind, amount, changed) in enumerate(options):
            after = _played(changed, n_days, first_seed)
            tried.append(replace(after, change=_change(kind, amount, before, after)))
            if progress is not None:
                progress((k + (i + 1) / len(options)) / MAX_ROUNDS)
        minutes = max(each.room.minutes for each in before.rooms)
        tried.sort(key=lambda each: -each.change.worth(minutes))
        best = next((each for each in tried if each.change.is_worth_it), None)
        if best is None or best.change.later_min >= MORE_MINUTES:
            break
        before = best
        taken.append(best.change)
        tried.remove(best)
    return (*taken, *(each.change for each in tried))


def _changes(
    rooms: tuple[RoomDay, ...],
) -> Iterator[tuple[ChangeKind, float, tuple[RoomDay, ...]]]:
    """Each change that is possible in every room, made in every room."""
    first = rooms[0].room
    if all(each.room.helpers < MAX_AT_ONCE for each in rooms):
        more = first.helpers + 1
        yield ChangeKind.HELPER, more, _with(rooms, lambda r: replace(r, helpers=r.helpers + 1))
        if all(each.room.scales < MAX_AT_ONCE for each in rooms):
            yield ChangeKind.SCALE, first.scales + 1, _with(rooms, _one_scale_more)
    for kind, station in ((ChangeKind.COUNT, Station.COUNT), (ChangeKind.VOLUME, Station.VOLUME)):
        own = [s.at_once for each in rooms for s in each.room.stops if s.station is station]
        if own and max(own) < MAX_AT_ONCE:
            yield kind, max(own) + 1, _with(rooms, methodcaller("with_more_at_once", station))
    if any(each.room.choice is not Choice.SHORTEST for each in rooms):
        yield ChangeKind.SHORTEST, 0, _with(rooms, lambda r: replace(r, choice=Choice.SHORTEST))
    longer = first.minutes + MORE_MINUTES
    if any(r.room.overrun is Overrun.UNDONE for r in rooms) and longer <= MAX_MINUTES:
        yield ChangeKind.MINUTES, longer, _with(rooms, lambda r: replace(r, minutes=longer))
    wider = rooms[0].day.interval_min + MORE_MINUTES
    if any(len(each.day.heats) > 1 for each in rooms) and wider <= MAX_MINUTES:
        days = (replace(each, day=replace(each.day, interval_min=wider)) for each in rooms)
        yield ChangeKind.INTERVAL, wider, tuple(days)


def _with(
    rooms: tuple[RoomDay, ...], changed: Callable[[RoomPlan], RoomPlan]
) -> tuple[RoomDay, ...]:
    return tuple(replace(each, room=changed(each.room)) for each in rooms)


def _one_scale_more(room: RoomPlan) -> RoomPlan:
    return replace(room, scales=room.scales + 1, helpers=room.helpers + 1)


_NOTHING: Final = Change(ChangeKind.HELPER, 0, 0, 0, 0, 0, 0)


def _played(rooms: tuple[RoomDay, ...], n_days: int, first_seed: int) -> _Tried:
    days = days_played(rooms, n_days=n_days, first_seed=first_seed)
    return _Tried(_NOTHING, rooms, days, [figures_of(day) for day in days])


def _change(kind: ChangeKind, amount: float, before: _Tried, after: _Tried) -> Change:
    pairs = list(zip(before.figures, after.figures, strict=True))
    gain, gain_u = _mean_and_u([a.worst_wait_min - b.worst_wait_min for a, b in pairs])
    more, more_u = _mean_and_u([a.unfinished - b.unfinished for a, b in pairs])
    later, _ = _mean_and_u([b.end_min - a.end_min for a, b in pairs])
    return Change(kind, amount, gain, gain_u, more, more_u, later, _heats(before, after))


def _mean_and_u(values: list[float]) -> tuple[float, float]:
    n = len(values)
    u = float(np.std(values, ddof=1)) / n**0.5 if n > 1 else float("inf")
    return float(np.mean(values)), u


def _heats(before: _Tried, after: _Tried) -> tuple[int, ...]:
    """Numbers of the heats in which pairs gain a minute, in any room; empty: in all of them."""
    gains = _wait_by_heat(before) - _wait_by_heat(after)
    helped = gains >= MIN_GAIN_MINUTES
    return () if helped.all() else tuple((np.flatnonzero(helped) + 1).tolist())


def _wait_by_heat(tried: _Tried) -> Floats:
    """Mean over the days, of the room with most waiting: shape (n_heats,)."""
    n = max(len(each.day.heats) for each in tried.rooms)
    found = np.zeros((len(tried.rooms), n))
    for k, plan in enumerate(tried.rooms):
        waits = np.mean([day[k].walk.wait_min for day in tried.days], axis=0)
        heat = np.array(plan.day.heat_of())
        found[k, : len(plan.day.heats)] = [waits[heat == h].mean() for h in range(heat.max() + 1)]
    return np.asarray(found.max(axis=0))
