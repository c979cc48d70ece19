"""Advice to a pair on who decides at a station, with the probability that it is as good as any.

Of ways that differ by less than half a point the one that is easier to do is advised: one pupil
alone, then the middle of both, then two parts to one part.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.coaching.deciders import Mode, Pupils, pair_answer
from nearmark.coaching.expected_score import chance_of, mean_score
from nearmark.coaching.posterior import Posterior

Floats = NDArray[np.float64]

TOO_EARLY: Final = 0.7
NEAR: Final = 1.0
"""Points: a way that brings no more than this over another is as good to a child."""

AS_EASY: Final = 0.5
"""Points that an easier way may bring less."""

MIN_TEACHING: Final = 3.0
"""Points an item from which a pupil's own habit is worth more work than the way to decide."""


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of an advice."""

    modes: tuple[Mode, ...] = tuple(Mode)  # those the pair may choose from
    correlation: float = 0.3  # of the two pupils' errors (dimensionless)
    corrected: bool = False  # whether each takes out their own known bias before the answers meet
    n_draws: int = 4000


@dataclass(frozen=True, slots=True)
class Option:
    """One mode."""

    mode: Mode
    score: float  # mean score to be expected of it (points)
    p90: float  # of 90 points or more (probability)
    p_near: float  # that no other mode brings a point more (probability)


@dataclass(frozen=True, slots=True)
class Advice:
    """Who should decide, and how sure that is."""

    options: tuple[Option, ...]  # the advice, then the others, best first
    # Of the advice over the better pupil alone, mean and standard deviation; over the other pupil
    # when one alone is advised (points).
    gain: float
    gain_sd: float
    # What the best way would bring more if that pupil's known bias were gone (points, (first,
    # second)).
    taught: tuple[float, float]
    # Mean score of each option in each draw, in the order of ``options`` (points, shape (modes,
    # n_draws)).
    draws: Floats

    @property
    def mode(self) -> Mode:
        """The advice, however few the attempts."""
        return self.options[0].mode

    @property
    def p_right(self) -> float:
        """Probability that no other mode brings a point more."""
        return self.options[0].p_near

    @property
    def is_clear(self) -> bool:
        """Whether it is more than a start."""
        return self.p_right >= TOO_EARLY

    @property
    def teach_first(self) -> Mode | None:
        """Whose habit is worth more work than the way to decide; ``None``: nobody's."""
        first, second = self.taught
        if max(first, second) < MIN_TEACHING:
            return None
        return Mode.FIRST if first >= second else Mode.SECOND


def advise(
    first: Posterior,
    second: Posterior,
    rng: np.random.Generator,
    *,
    question: Question | None = None,
) -> Advice:
    """Who should decide.

    >>> from nearmark.coaching.belief import Belief
    >>> from nearmark.coaching.posterior import posterior
    >>> prior = Belief(0, 1, 3, 0.03)
    >>> steady, wild = posterior([[0.02] * 9], prior), posterior([[0.4, -0.4] * 5], prior)
    >>> advise(steady, wild, np.random.default_rng(1)).mode in (Mode.FIRST, Mode.TWO_FIRST)
    True

    Parameters
    ----------
    first, second : of the same station and size class
    question : ``None``: the defaults
    """
    question = question or Question()
    (b1, s1), (b2, s2) = (each.draws(question.n_draws, rng) for each in (first, second))
    # Only what is known of a bias can be taken out; the doubt about it stays in the draws.
    known = (first.bias, second.bias)
    if question.corrected:
        b1, b2, known = b1 - known[0], b2 - known[1], (0.0, 0.0)
    laws = [
        pair_answer(m, Pupils((b1, b2), (s1, s2)), question.correlation) for m in question.modes
    ]
    scores = np.array([mean_score(bias, scatter) for bias, scatter in laws])
    p90 = [float(chance_of(90, bias, scatter).mean()) for bias, scatter in laws]
    near = (scores >= scores.max(axis=0) - NEAR).mean(axis=1)
    means = scores.mean(axis=1)
    order = np.argsort(-means, kind="stable").tolist()
    easy = [i for i in order if means[i] >= means.max() - AS_EASY]
    chosen = min(easy, key=lambda i: (list(Mode).index(question.modes[i]) // 2, order.index(i)))
    order = [chosen, *(i for i in order if i != chosen)]
    options = tuple(
        Option(question.modes[i], float(means[i]), p90[i], float(near[i])) for i in order
    )
    gains = scores[chosen] - _alone(scores, question.modes, chosen)
    without = ((b1 - known[0], b2), (b1, b2 - known[1]))
    taught = [
        max(
            float(mean_score(*pair_answer(m, Pupils(bias, (s1, s2)), question.correlation)).mean())
            for m in question.modes
        )
        - float(means.max())
        for bias in without
    ]
    return Advice(
        options, float(gains.mean()), float(gains.std()), (taught[0], taught[1]), scores[order]
    )


def _alone(scores: Floats, modes: tuple[Mode, ...], chosen: int) -> Floats:
    """Score of the better pupil alone in each draw, the chosen mode left out."""
    alone = [i for i, m in enumerate(modes) if m in (Mode.FIRST, Mode.SECOND) and i != chosen]
    best = max(alone, key=lambda i: float(scores[i].mean()), default=chosen)
    found: Floats = scores[best]
    return found
