"""Advice to a pair on who decides at a station, with the probability that it is right."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.coaching.deciders import (
    Mode,
    Pupils,
    pair_answer,
    shared_correlation,
    weight_of_first,
)
from nearmark.coaching.expected_score import chance_of, mean_score
from nearmark.coaching.posterior import Posterior
from nearmark.coaching.pupil_habit import PupilHabit

Floats = NDArray[np.float64]

TOO_EARLY: Final = 0.7
CLEAR: Final = 0.8
LEAST_GAIN: Final = 2.0
FEWEST_ATTEMPTS: Final = 5
FEWEST_SESSIONS: Final = 2
"""A trained assignment is changed only when all four are reached: of such changes nine in ten were
right, at 0.3 to 0.8 points a decision less than always following the mean (project's model notes,
section 4)."""


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of an advice.

    Attributes
    ----------
    modes : tuple of Mode
        Those the pair may choose from.
    correlation : dimensionless
        Of the two pupils' errors.
    corrected : bool
        Whether each takes out the own known bias before the answers meet.
    n_draws : draws
    """

    modes: tuple[Mode, ...] = tuple(Mode)
    correlation: float = 0.3
    corrected: bool = False
    n_draws: int = 4000


@dataclass(frozen=True, slots=True)
class Option:
    """One mode.

    Attributes
    ----------
    mode : Mode
    score : points
        Mean score to be expected of it.
    p90 : probability
        Of 90 points or more.
    p_best : probability
        That no other mode brings more.
    """

    mode: Mode
    score: float
    p90: float
    p_best: float


@dataclass(frozen=True, slots=True)
class Advice:
    """Who should decide, and how sure that is.

    Attributes
    ----------
    options : tuple of Option
        Best first; the first one is the advice.
    gain, gain_sd : points
        Of the advice over the next best, mean and standard deviation.
    share_of_first : dimensionless
        Of the first pupil in the weighted average.
    draws : points, shape (modes, n_draws)
        Mean score of each option in each draw, in the order of ``options``.
    """

    options: tuple[Option, ...]
    gain: float
    gain_sd: float
    share_of_first: float
    draws: Floats

    @property
    def mode(self) -> Mode:
        """The advice: the highest mean, however few the attempts."""
        return self.options[0].mode

    @property
    def p_right(self) -> float:
        """Probability that no other mode brings more."""
        return self.options[0].p_best

    @property
    def is_clear(self) -> bool:
        """Whether it is more than a start."""
        return self.p_right >= TOO_EARLY

    def words(self, first: str, second: str) -> str:
        """One plain sentence.

        Parameters
        ----------
        first, second : str
            Names to print.
        """
        who = {
            Mode.FIRST: f"{first} decides",
            Mode.SECOND: f"{second} decides",
            Mode.AVERAGE: "take the average of both",
            Mode.WEIGHTED: (
                f"take an average with {100 * self.share_of_first:.0f} % of {first} "
                f"and {100 * (1 - self.share_of_first):.0f} % of {second}"
            ),
        }[self.mode]
        sure = f"right with probability {self.p_right:.2f}"
        if not self.is_clear:
            return f"Too early to tell ({sure}); to start with, {who}."
        if self.mode in (Mode.AVERAGE, Mode.WEIGHTED):  # a name stays as it is written
            who = f"T{who[1:]}"
        return f"{who} ({sure}; worth about {self.gain:.1f} points)."


def advise(
    first: Posterior,
    second: Posterior,
    rng: np.random.Generator,
    *,
    question: Question | None = None,
) -> Advice:
    """Who should decide.

    Parameters
    ----------
    first, second : Posterior
        Of the same station and size class.
    rng : Generator
    question : Question or None
        ``None``: the defaults.

    Returns
    -------
    Advice

    Examples
    --------
    >>> from nearmark.coaching.belief import Belief
    >>> from nearmark.coaching.posterior import posterior
    >>> prior = Belief(0, 1, 3, 0.03)
    >>> steady, wild = posterior([[0.02] * 9], prior), posterior([[0.4, -0.4] * 5], prior)
    >>> advise(steady, wild, np.random.default_rng(1)).mode in (Mode.FIRST, Mode.WEIGHTED)
    True
    """
    question = question or Question()
    (b1, s1), (b2, s2) = (each.draws(question.n_draws, rng) for each in (first, second))
    if question.corrected:
        # Only what is known of a bias can be taken out; the doubt about it stays in the draws.
        b1, b2 = b1 - first.bias, b2 - second.bias
    share = float(weight_of_first(first.scatter, second.scatter, question.correlation))
    pupils = Pupils((b1, b2), (s1, s2))
    laws = [pair_answer(m, pupils, question.correlation, share=share) for m in question.modes]
    scores = np.array([mean_score(bias, scatter) for bias, scatter in laws])
    p90 = [float(chance_of(90, bias, scatter).mean()) for bias, scatter in laws]
    best = np.bincount(scores.argmax(axis=0), minlength=len(laws)) / question.n_draws
    order = np.argsort(-scores.mean(axis=1), kind="stable")
    options = tuple(
        Option(question.modes[i], float(scores[i].mean()), p90[i], float(best[i])) for i in order
    )
    gains = scores[order[0]] - scores[order[1 if len(order) > 1 else 0]]
    return Advice(options, float(gains.mean()), float(gains.std()), share, scores[order])


def joint_correlation(first: PupilHabit, second: PupilHabit) -> float:
    """Correlation of two pupils' errors on things both estimated on the same day.

    Parameters
    ----------
    first, second : PupilHabit
        Of the same station and size class.

    Returns
    -------
    float
        The usual 0.3 when there is no such thing.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Attempt, Station
    >>> from nearmark.coaching.pupil_habit import read_club
    >>> log = [Attempt(date(2027, 2, 3), who, Station.COUNT, "jar", 380, 420) for who in "AB"]
    >>> 0.2 < joint_correlation(*(own[0] for own in read_club(log).values())) < 0.5
    True
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

    Parameters
    ----------
    advice : Advice
    current : Mode
        What the pair has trained; must be one of the advice's options.
    first, second : PupilHabit

    Returns
    -------
    bool
        Only when the advice is better with probability 0.8, by 2 points, after 5 attempts of each
        on 2 days at least.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Attempt, Station
    >>> from nearmark.coaching.pupil_habit import read_club
    >>> log = [Attempt(date(2027, 2, 3), who, Station.COUNT, "jar", 380, 420) for who in "AB"]
    >>> a, b = (own[0] for own in read_club(log).values())
    >>> may_change(advise(a.posterior, b.posterior, np.random.default_rng(1)), Mode.FIRST, a, b)
    False
    """
    modes = [option.mode for option in advice.options]
    gains = advice.draws[0] - advice.draws[modes.index(current)]
    enough = all(
        each.n >= FEWEST_ATTEMPTS and each.n_sessions >= FEWEST_SESSIONS for each in (first, second)
    )
    return bool(
        enough
        and advice.mode is not current
        and np.mean(gains > 0) >= CLEAR
        and gains.mean() >= LEAST_GAIN
    )
