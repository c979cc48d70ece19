"""What to practise next, for page, sheet, command line and club alike.

Kinds that were never tried come first, the stations in turn.  Then

    priority = worth x (1 + 1 / sqrt(attempts + 1))

where the worth is the points of the contest that one more practice brings if it takes away a part
of the bias and of the scatter.  That part is assumed, not measured: the words say so.
"""

import math
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from nearmark.coaching.belief import SEASON_START
from nearmark.coaching.expected_score import mean_score
from nearmark.coaching.kinds import Stratum, items_of, kinds_to_practise
from nearmark.coaching.limits import checked
from nearmark.coaching.pupil_habit import PupilHabit
from nearmark.errors import InputError
from nearmark.station import Station

BIAS_LEFT: Final = 0.82
VARIANCE_LEFT: Final = 0.93
"""After one more practice (invented; project's model notes, section 10)."""

ITEMS_OF_A_SESSION: Final = 4

MAX_PAUSE: Final = 12
"""Items after which a kind is seen again whatever it is worth."""


@dataclass(frozen=True, slots=True)
class Need:
    """What is known of one kind of thing before a session."""

    station: Station
    size: str
    # Of the next attempt (natural log).
    bias: float
    sd: float
    n: int  # attempts
    ago: int  # items of any kind since the last one of this (items)
    station_ago: int  # the same since the last one of its station (items)

    @property
    def worth(self) -> float:
        """Points of the contest that one more practice brings, if it works as assumed."""
        after = mean_score(BIAS_LEFT * self.bias, math.sqrt(VARIANCE_LEFT) * self.sd)
        gain = max(0.0, float(after - mean_score(self.bias, self.sd)))
        return items_of((self.station, self.size)) * gain

    @property
    def priority(self) -> float:
        """The worth, times the novelty of what was seldom seen."""
        return self.worth * (1 + 1 / math.sqrt(self.n + 1))

    @property
    def is_overdue(self) -> bool:
        """Whether the pause has been too long."""
        return self.ago >= MAX_PAUSE


@dataclass(frozen=True, slots=True)
class PlannedItem:
    """One item of the next session, with the reason."""

    station: Station
    size: str
    worth: float  # if one practice works as assumed (points of the contest)
    n: int  # so far; zero: never tried (attempts)
    ago: int  # items of any kind since the last one of this (items)
    is_overdue: bool


def what_next(
    own: Sequence[PupilHabit],
    known: Iterable[Stratum],
    n_items: int = ITEMS_OF_A_SESSION,
) -> tuple[PlannedItem, ...]:
    """What one pupil should practise next.

    >>> [item.station.value for item in what_next([], [], 3)]
    ['count', 'volume', 'mass']

    Parameters
    ----------
    own : PupilHabit, shape (n,); of one pupil; empty for one without an attempt
    known : kinds of things that the club has attempted
    n_items : items, 1 to 100

    Raises
    ------
    InputError : if the number of items makes no sense
    """
    return plan_session(needs(own, known), n_items)


def needs(own: Sequence[PupilHabit], known: Iterable[Stratum]) -> tuple[Need, ...]:
    """What one pupil's habits ask for, untried kinds among them.

    >>> [(need.station.value, need.n) for need in needs([], [])]
    [('mass', 0), ('count', 0), ('volume', 0)]

    Parameters
    ----------
    own : PupilHabit, shape (n,); of one pupil
    known : kinds of things that the club has attempted
    """
    habits = {(habit.station, habit.size): habit for habit in own}
    log = sorted(
        (attempt.day, i, attempt.stratum)
        for habit in own
        for i, attempt in enumerate(habit.attempts)
    )
    last = {stratum: place for place, (_, _, stratum) in enumerate(log)}
    last_at = {stratum[0]: place for place, (_, _, stratum) in enumerate(log)}
    found = []
    for kind in kinds_to_practise({*known, *habits}):
        n, bias, sd = _state(kind, habits.get(kind))
        # What was never seen is as if it had been seen before the first item.
        ago, station_ago = last.get(kind, -1), last_at.get(kind[0], -1)
        found.append(Need(*kind, bias, sd, n, len(log) - 1 - ago, len(log) - 1 - station_ago))
    return tuple(found)


def _state(kind: Stratum, habit: PupilHabit | None) -> tuple[int, float, float]:
    """Attempts, bias and standard deviation of the next one; the season's start without any."""
    if habit is None:
        start = SEASON_START[kind[0]]
        return 0, start.mean, math.hypot(math.sqrt(start.variance), start.bias_sd)
    return habit.n, habit.posterior.bias, habit.posterior.predictive_sd


def plan_session(known: Sequence[Need], n_items: int) -> tuple[PlannedItem, ...]:
    """The items of the next session, in order.

    Never the same station twice running while there is another, none left out for longer than all
    have had a turn; then untried kinds, then what is worth most.

    >>> low = Need(Station.COUNT, "", -0.3, 0.2, n=4, ago=0, station_ago=0)
    >>> good = Need(Station.MASS, "", 0.0, 0.1, n=4, ago=1, station_ago=1)
    >>> [item.station.value for item in plan_session([low, good], 3)]
    ['mass', 'count', 'mass']

    Parameters
    ----------
    known : Need, shape (n,), n >= 1
    n_items : items, 1 to 100

    Raises
    ------
    InputError : if nothing is known or the number of items makes no sense

    References
    ----------
    Interleaving: Brunmair and Richter, Psychol. Bull. 145 (2019) 1029-1052 (from memory); that it
    holds for estimating is an assumption.
    """
    checked(n_items, "items of a session", 1, 100)
    if not known:
        raise InputError(
            "nothing to choose from", where="practice plan", mend="Log one attempt first"
        )
    state, chosen = list(known), []
    turn = len({need.station for need in known})
    for _ in range(n_items):
        # One station alone: another size of it; one kind alone: that again.
        free = (
            [need for need in state if need.station_ago]
            or [need for need in state if need.ago]
            or state
        )
        best = max(free, key=lambda need: _urgency(need, turn))
        worth, n = best.worth, best.n
        chosen.append(PlannedItem(best.station, best.size, worth, n, best.ago, best.is_overdue))
        state = [_after(need, best) for need in state]
    return tuple(chosen)


def _urgency(need: Need, turn: int) -> tuple[bool, int, bool, float, int]:
    left_out = need.station_ago >= turn
    # Of untried kinds the one whose station waited longest; one and more: untried.
    untried = 1 + need.station_ago if need.n == 0 else 0
    return (left_out, untried, need.is_overdue, need.priority, need.ago)


def _after(need: Need, practised: Need) -> Need:
    station_ago = 0 if need.station is practised.station else need.station_ago + 1
    if need is not practised:
        return replace(need, ago=need.ago + 1, station_ago=station_ago)
    return after_practice(need)


def after_practice(need: Need) -> Need:
    """What is needed after one more practice of that kind, if it works as assumed.

    >>> after_practice(Need(Station.MASS, "", -0.1, 0.2, n=4, ago=3, station_ago=3)).n
    5
    """
    return replace(
        need,
        bias=BIAS_LEFT * need.bias,
        sd=math.sqrt(VARIANCE_LEFT) * need.sd,
        n=need.n + 1,
        ago=0,
        station_ago=0,
    )


@dataclass(frozen=True, slots=True)
class ClubNext:
    """What a club should practise next."""

    station: Station
    size: str
    pupils: tuple[str, ...]  # for whom it comes first, sorted
    n_pupils: int  # asked


def club_next(
    habits: Mapping[str, Sequence[PupilHabit]],
    pupils: Iterable[str] = (),
    available: Collection[Stratum] | None = None,
) -> ClubNext | None:
    """What comes first for most pupils of a club, of what there is to practise with.

    ``None`` when there is no pupil, or nothing to practise with.

    >>> club_next({}, ["Ada"]).station.value
    'count'
    >>> club_next({}, ["Ada"], [(Station.MASS, "")]).station.value
    'mass'

    Parameters
    ----------
    pupils : others of the club, who have no attempt yet
    available : kinds of which there is a fresh thing; ``None``: all
    """
    asked = sorted({*habits, *pupils})
    known = kinds_of(habits) | set(available or ())
    first: dict[str, Stratum] = {}
    for pupil in asked:
        plan = what_next(habits.get(pupil, ()), known, _LOOK_AHEAD)
        kinds = [(item.station, item.size) for item in plan]
        fit = [kind for kind in kinds if available is None or kind in available]
        if fit:
            first[pupil] = fit[0]
    if not first:
        return None
    (station, size), _ = Counter(first.values()).most_common(1)[0]
    who = tuple(pupil for pupil, kind in first.items() if kind == (station, size))
    return ClubNext(station, size, who, len(asked))


_LOOK_AHEAD: Final = 2 * MAX_PAUSE
"""Items planned to find one of a kind that is there."""


def kinds_of(habits: Mapping[str, Sequence[PupilHabit]]) -> set[Stratum]:
    """Kinds of things that a club has attempted.

    >>> kinds_of({})
    set()
    """
    return {(habit.station, habit.size) for own in habits.values() for habit in own}
