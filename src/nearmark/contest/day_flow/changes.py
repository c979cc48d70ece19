"""Which cheap change of a plan saves pairs the most waiting, each tried on the same days."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from nearmark.contest.day_flow.room import MAX_AT_ONCE, MAX_MINUTES, Choice, Day, Room
from nearmark.contest.day_flow.summary import DayFigures, days_walked, figures_of
from nearmark.station import Station

N_TRIED = 40
"""Days each change is tried on."""

MIN_GAIN_MINUTES = 1.0
"""A smaller gain is not worth a helper or a container (invented default)."""

MORE_MINUTES = 5
MAX_ROUNDS = 5
"""Of trying all changes after the best so far."""


class ChangeKind(StrEnum):
    """What is changed."""

    SCALE = "one scale more"
    COUNT = "room for one pair more at each container"
    VOLUME = "room for one pair more at each box"
    INTERVAL = "more minutes between heats"
    SHORTEST = "a helper sends each pair to the shortest queue"


@dataclass(frozen=True, slots=True)
class Change:
    """One change after those in front of it, and what it does."""

    kind: ChangeKind
    amount: float  # scales, pairs at once or min from start to start, after the change
    gain_min: float  # by which the wait of the pair worse off than 95 of 100 falls (min)
    gain_u_min: float  # standard uncertainty of that, from the scatter of the days (min)
    more_done: float  # that pairs come to beyond those before (share of the free items, 0 to 1)
    later_min: float  # by which the day ends later; below 0: earlier (min)

    @property
    def is_worth_it(self) -> bool:
        """Whether it saves a minute or more, beyond what chance can do (two standard errors)."""
        return self.gain_min >= max(MIN_GAIN_MINUTES, 2 * self.gain_u_min)


def worth_of_changes(
    day: Day,
    room: Room,
    *,
    n_days: int = N_TRIED,
    first_seed: int = 0,
    progress: Callable[[float], None] | None = None,
) -> tuple[Change, ...]:
    """Try each cheap change, take the one that saves most, and try the others after it.

    Stops when none is worth it; the last round is in the result as well, so that what saves nothing
    can be said.  All changes meet the same days, so that a gain is the change's alone.

    Parameters
    ----------
    n_days : 2 to 1000
    first_seed : the days have this seed and the following ones
    progress : callable, optional
        Called with 0 to 1; what it raises stops the work.

    Returns
    -------
    tuple of Change
        Those worth it in the order to take them, then the rest, most gain first.

    Examples
    --------
    >>> from nearmark.contest.day_flow.room import usual_room
    >>> found = worth_of_changes(Day((12, 12), 20), usual_room(), n_days=5)
    >>> found[0].kind.value, found[0].is_worth_it
    ('room for one pair more at each container', True)
    """
    taken: list[Change] = []
    tried: list[tuple[Change, Day, Room, list[DayFigures[float]]]] = []
    before = _figures(day, room, n_days, first_seed)
    for k in range(MAX_ROUNDS):
        tried = []
        options = list(_changes(day, room))
        for i, (kind, amount, other_day, other_room) in enumerate(options):
            after = _figures(other_day, other_room, n_days, first_seed)
            tried.append((_change(kind, amount, before, after), other_day, other_room, after))
            if progress is not None:
                progress((k + (i + 1) / len(options)) / MAX_ROUNDS)
        tried.sort(key=lambda each: -each[0].gain_min)
        if not tried or not tried[0][0].is_worth_it:
            break
        best, day, room, before = tried.pop(0)
        taken.append(best)
    return (*taken, *(each[0] for each in tried))


def _changes(day: Day, room: Room) -> Iterator[tuple[ChangeKind, float, Day, Room]]:
    if room.scales < MAX_AT_ONCE:
        yield ChangeKind.SCALE, room.scales + 1, day, replace(room, scales=room.scales + 1)
    for kind, station in ((ChangeKind.COUNT, Station.COUNT), (ChangeKind.VOLUME, Station.VOLUME)):
        own = [stop.at_once for stop in room.stops if stop.station is station]
        if own and max(own) < MAX_AT_ONCE:
            yield kind, max(own) + 1, day, room.with_more_at_once(station)
    if len(day.heats) > 1 and day.interval_min + MORE_MINUTES <= MAX_MINUTES:
        longer = day.interval_min + MORE_MINUTES
        yield ChangeKind.INTERVAL, longer, replace(day, interval_min=longer), room
    if room.choice is not Choice.SHORTEST:
        yield ChangeKind.SHORTEST, 0, day, replace(room, choice=Choice.SHORTEST)


def _figures(day: Day, room: Room, n_days: int, first_seed: int) -> list[DayFigures[float]]:
    walks = days_walked(day, room, n_days=n_days, first_seed=first_seed)
    return [figures_of(day, room, walk) for walk in walks]


def _change(
    kind: ChangeKind, amount: float, before: list[DayFigures[float]], after: list[DayFigures[float]]
) -> Change:
    gains = np.array(
        [a.worst_wait_min - b.worst_wait_min for a, b in zip(before, after, strict=True)]
    )
    n = len(gains)
    return Change(
        kind,
        amount,
        gain_min=float(gains.mean()),
        gain_u_min=float(gains.std(ddof=1) / n**0.5) if n > 1 else float("inf"),
        more_done=_mean(a.unfinished - b.unfinished for a, b in zip(before, after, strict=True)),
        later_min=_mean(b.end_min - a.end_min for a, b in zip(before, after, strict=True)),
    )


def _mean(values: Iterator[float]) -> float:
    return float(np.mean(list(values)))
