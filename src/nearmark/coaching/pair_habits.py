"""Advice to a pair from both pupils' habits, and what their common log says to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from nearmark.coaching.acts import Act, Step, done, points
from nearmark.coaching.attempt import Attempt
from nearmark.coaching.deciders import Mode, shared_correlation
from nearmark.coaching.pair_advice import Advice, Question, advise
from nearmark.coaching.pupil_habit import PupilHabit

CLEAR: Final = 0.8
MIN_GAIN: Final = 2.0
MIN_ATTEMPTS: Final = 5
MIN_SESSIONS: Final = 2
"""A trained assignment is changed only when all four are reached: of such changes nine in ten were
right, at 0.3 to 0.8 points a decision less than always following the mean (project's model notes,
section 4)."""

_ACTS: Final = {
    Mode.FIRST: None,
    Mode.SECOND: Act.PARTNER,
    Mode.AVERAGE: Act.MIDDLE,
    Mode.TWO_FIRST: Act.TWO_OWN,
    Mode.TWO_SECOND: Act.TWO_PARTNER,
}
"""What the first pupil does in each mode; ``None``: nothing changes."""


@dataclass(frozen=True, slots=True, eq=False)
class PairReading:
    """What is said to a pair about one kind of thing."""

    first: PupilHabit
    second: PupilHabit
    correlation: float  # dimensionless
    advice: Advice
    n_common: int  # of the same thing on the same day by both
    replayed: dict[Mode, float]  # mean score of those, each way; empty without any (points by Mode)

    @property
    def is_clear(self) -> bool:
        """Whether the advice is more than a start, and the common log does not speak against it."""
        if not self.advice.is_clear:
            return False
        if not self.replayed or self.advice.mode not in self.replayed:
            return True
        return self.replayed[self.advice.mode] >= max(self.replayed.values()) - AGAINST


AGAINST: Final = 3.0
"""Points by which another way may have been better on the common log."""


def read_pair(
    first: Sequence[PupilHabit],
    second: Sequence[PupilHabit],
    rng: np.random.Generator,
    *,
    corrected: bool = False,
) -> tuple[PairReading, ...]:
    """Who should decide, at every kind of thing both have attempted.

    >>> read_pair([], [], np.random.default_rng(1))
    ()

    Parameters
    ----------
    first, second : of one pupil each
    corrected : whether each takes out their own known bias before the answers meet
    """
    others = {(habit.station, habit.size): habit for habit in second}
    found = []
    for one in first:
        other = others.get((one.station, one.size))
        if other is None:
            continue
        rho = joint_correlation(one, other)
        question = Question(correlation=rho, corrected=corrected)
        advice = advise(one.posterior, other.posterior, rng, question=question)
        n_common, replayed = _replayed_modes(one.attempts)
        found.append(PairReading(one, other, rho, advice, n_common, replayed))
    return tuple(found)


def _replayed_modes(attempts: Sequence[Attempt]) -> tuple[int, dict[Mode, float]]:
    """What each way of deciding would have brought on what both estimated.

    The number of attempts in common, and the mean score (points) of each way; none without an
    attempt.
    """
    common = [each for each in attempts if each.partner is not None]
    if not common:
        return 0, {}
    scores = {}
    for mode, act in _ACTS.items():
        would = [each if act is None else done(Step(act), each) or each for each in common]
        scores[mode] = sum(map(points, would)) / len(would)
    return len(common), scores


def joint_correlation(first: PupilHabit, second: PupilHabit) -> float:
    """Correlation of two pupils' errors on things both estimated on the same day.

    The usual 0.3 when there is no such thing.

    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Attempt
    >>> from nearmark.station import Station
    >>> from nearmark.coaching.pupil_habit import read_club
    >>> log = [Attempt(date(2027, 2, 3), who, Station.COUNT, "jar", 380, 420) for who in "AB"]
    >>> 0.2 < joint_correlation(*(own[0] for own in read_club(log).values())) < 0.5
    True

    Parameters
    ----------
    first, second : of the same station and size class
    """
    one, other = _standardised(first), _standardised(second)
    shared = sorted(one.keys() & other.keys())
    return shared_correlation([one[key] for key in shared], [other[key] for key in shared])


def _standardised(habit: PupilHabit) -> dict[tuple[str, str], float]:
    """Error of each attempt that is hardly a slip, by day and thing; the last when repeated."""
    found = habit.posterior
    return {
        (each.day.isoformat(), each.thing): (each.log_ratio - found.bias) / found.scatter
        for each, p in zip(habit.attempts, found.p_blunder, strict=True)
        if p < 0.5
    }


def may_change(advice: Advice, current: Mode, first: PupilHabit, second: PupilHabit) -> bool:
    """Whether a pair that has trained one way should change to the advice.

    Only when the advice is better with probability 0.8, by 2 points, after 5 attempts of each on 2
    days at least.

    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Attempt
    >>> from nearmark.station import Station
    >>> from nearmark.coaching.pupil_habit import read_club
    >>> log = [Attempt(date(2027, 2, 3), who, Station.COUNT, "jar", 380, 420) for who in "AB"]
    >>> a, b = (own[0] for own in read_club(log).values())
    >>> may_change(advise(a.posterior, b.posterior, np.random.default_rng(1)), Mode.FIRST, a, b)
    False

    Parameters
    ----------
    current : what the pair has trained; must be one of the advice's options
    """
    modes = [option.mode for option in advice.options]
    gains = advice.draws[0] - advice.draws[modes.index(current)]
    enough = all(
        each.n >= MIN_ATTEMPTS and each.n_sessions >= MIN_SESSIONS for each in (first, second)
    )
    return bool(
        enough
        and advice.mode is not current
        and np.mean(gains > 0) >= CLEAR
        and gains.mean() >= MIN_GAIN
    )
