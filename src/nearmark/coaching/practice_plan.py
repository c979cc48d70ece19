"""What to practise next: what is worth most, seldom seen first, never the same twice running.

    priority = items of the contest x points to be gained x (1 + 1 / sqrt(attempts + 1))

The points to be gained are those one more practice brings if it takes away a part of the bias and
of the scatter.  That part is assumed, not measured; the order hardly depends on it.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from nearmark.coaching.attempt import Station
from nearmark.coaching.expected_score import mean_score
from nearmark.coaching.limits import checked
from nearmark.coaching.pupil_habit import PupilHabit
from nearmark.errors import InputError

BIAS_LEFT: Final = 0.82
VARIANCE_LEFT: Final = 0.93
"""After one more practice (invented; project's model notes, section 10)."""

LONGEST_PAUSE: Final = 12
"""Items after which a stratum is seen again whatever it is worth."""


@dataclass(frozen=True, slots=True)
class Need:
    """What is known of one stratum before a session.

    Attributes
    ----------
    station : Station
    size : str
    bias, sd : natural log
        Of the next attempt.
    n : attempts
    ago : items
        Items of any stratum since the last one of this.
    items : items
        Of this stratum in the contest.
    """

    station: Station
    size: str
    bias: float
    sd: float
    n: int
    ago: int
    items: float = 1.0

    @property
    def gain(self) -> float:
        """Points of one item that one more practice brings, if it works as assumed."""
        after = mean_score(BIAS_LEFT * self.bias, math.sqrt(VARIANCE_LEFT) * self.sd)
        return max(0.0, float(after - mean_score(self.bias, self.sd)))

    @property
    def novelty(self) -> float:
        """Factor of what was seldom seen, dimensionless."""
        return 1 + 1 / math.sqrt(self.n + 1)

    @property
    def priority(self) -> float:
        """Points of the contest, times the novelty."""
        return self.items * self.gain * self.novelty

    @property
    def is_overdue(self) -> bool:
        """Whether the pause has been too long."""
        return self.ago >= LONGEST_PAUSE


@dataclass(frozen=True, slots=True)
class PlannedItem:
    """One item of the next session, with the reason.

    Attributes
    ----------
    station : Station
    size : str
    reason : str
    """

    station: Station
    size: str
    reason: str


def needs(habits: Sequence[PupilHabit], items: Mapping[Station, float]) -> tuple[Need, ...]:
    """What one pupil's habits ask for.

    Parameters
    ----------
    habits : PupilHabit, shape (n,)
        Of one pupil.
    items : mapping Station -> items of the contest
        A station left out counts one item.

    Returns
    -------
    tuple of Need, shape (n,)

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Attempt
    >>> from nearmark.coaching.pupil_habit import read_club
    >>> log = [Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 380, 420)]
    >>> needs(read_club(log)["Ada"], {Station.COUNT: 3})[0].n
    1
    """
    log = sorted(
        (attempt.day, i, attempt.stratum)
        for habit in habits
        for i, attempt in enumerate(habit.attempts)
    )
    last = {stratum: place for place, (_, _, stratum) in enumerate(log)}
    return tuple(
        Need(
            habit.station,
            habit.size,
            habit.posterior.bias,
            habit.posterior.predictive_sd,
            habit.n,
            len(log) - 1 - last[(habit.station, habit.size)],
            items.get(habit.station, 1.0),
        )
        for habit in habits
    )


def plan_session(known: Sequence[Need], n_items: int) -> tuple[PlannedItem, ...]:
    """The items of the next session, in order.

    Parameters
    ----------
    known : Need, shape (n,), n >= 1
    n_items : items, 1 to 100

    Returns
    -------
    tuple of PlannedItem, shape (n_items,)

    Raises
    ------
    InputError
        If nothing is known or the number of items makes no sense.

    References
    ----------
    Interleaving: Brunmair and Richter, Psychol. Bull. 145 (2019) 1029-1052 (from memory); that it
    holds for estimating is an assumption.

    Examples
    --------
    >>> low = Need(Station.COUNT, "", -0.3, 0.2, n=4, ago=0)
    >>> good = Need(Station.MASS, "", 0.0, 0.1, n=4, ago=1)
    >>> [item.station.value for item in plan_session([low, good], 3)]
    ['mass', 'count', 'mass']
    """
    checked(n_items, "items of a session", 1, 100)
    if not known:
        raise InputError(
            "nothing to choose from", where="practice plan", mend="Log one attempt first"
        )
    state, chosen = list(known), []
    for _ in range(n_items):
        # Nothing but the last one left: then it comes again.
        free = [i for i, need in enumerate(state) if need.ago] or list(range(len(state)))
        best = max(free, key=lambda i: (state[i].is_overdue, state[i].priority, state[i].ago))
        chosen.append(PlannedItem(state[best].station, state[best].size, _reason(state[best])))
        state = [_after(need, practised=i == best) for i, need in enumerate(state)]
    return tuple(chosen)


def _after(need: Need, *, practised: bool) -> Need:
    if not practised:
        return replace(need, ago=need.ago + 1)
    return replace(
        need,
        bias=BIAS_LEFT * need.bias,
        sd=math.sqrt(VARIANCE_LEFT) * need.sd,
        n=need.n + 1,
        ago=0,
    )


def _reason(need: Need) -> str:
    times = "once" if need.n == 1 else f"{need.n} times"
    overdue = ", so it is time" if need.is_overdue else ""
    ago = "just now" if need.ago == 0 else f"{need.ago} item{'s' if need.ago > 1 else ''} ago"
    return f"worth about {need.items * need.gain:.1f} points, seen {times}, last {ago}{overdue}"
