"""How far to lean an unsure answer: the score is not symmetric in the ratio.

Of two answers off by the same ratio the higher one loses more (half as much again loses 50 points,
two thirds loses 33), so an unsure but even-handed pupil gains a little by answering lower.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from scipy.optimize import brentq
from scipy.special import ndtr

from nearmark.coaching.expected_score import chance_of, mean_score
from nearmark.coaching.limits import checked

MAX_DOUBT: Final = 2.0


class Aim(StrEnum):
    """What the lean is to bring."""

    POINTS = "points"
    NINETY = "ninety"


@dataclass(frozen=True, slots=True)
class Lean:
    """How far to move an answer, and what that honestly brings."""

    aim: Aim
    shift: float  # add to ln of the answer; zero: do not lean (natural log)
    gain: float  # of the mean score of one answer; below zero when the aim is another (points)
    gain_p90: float  # change of the chance of 90 points or more (probability)
    # What the pupil is known to read high (above zero) or low (below) (natural log of estimate /
    # true).
    bias: float
    # Of the mean score of one answer: what taking the bias away would bring, doubt and all
    # (points).
    cure: float

    @property
    def factor(self) -> float:
        """What to multiply the answer by, dimensionless."""
        return math.exp(self.shift)


def best_bias(scatter: float, aim: Aim = Aim.POINTS) -> float:
    """The bias (natural log; zero or a little below) of an answer that serves the aim best.

    >>> round(best_bias(0.3), 5), round(best_bias(0.3, Aim.NINETY), 5)
    (-0.08593, -0.00503)

    Parameters
    ----------
    scatter : natural log of estimate / true, 0 <= scatter <= 2

    Raises
    ------
    InputError : if the scatter makes no sense

    References
    ----------
    T. Gneiting, "Making and Evaluating Point Forecasts", JASA 106 (2011) 746-762: under absolute
    percentage error the (-1)-median is optimal (from memory).  The floor at double adds the second
    term: docs/reference/coaching.md.
    """
    s = checked(scatter, "scatter", 0, MAX_DOUBT, mend="0.2 means about 20 % unsure")
    if aim is Aim.NINETY:
        return math.log(0.9 * 1.1) / 2
    if s == 0:
        return 0.0

    def slope(mu: float) -> float:
        """Sign of the slope of the mean score: weight below the truth minus that above."""
        above = ndtr((math.log(2) - mu) / s - s)
        return float(2 * ndtr(-mu / s - s) - above)

    # At -s^2 the slope is still upwards or flat, at 0 downwards.
    return float(brentq(slope, -s * s, 0.0, xtol=1e-12))


def lean(scatter: float, *, bias: float = 0.0, aim: Aim = Aim.POINTS) -> Lean:
    """Best shift of an answer for the aim, less what the pupil reads low already.

    >>> found = lean(0.3)
    >>> round(found.shift, 5), round(found.gain, 3)
    (-0.08593, 0.946)
    >>> lean(0.3, bias=-0.1).shift, round(lean(0.3, bias=-0.05).shift, 5)
    (0.0, -0.03593)

    Parameters
    ----------
    scatter : natural log of estimate / true, 0 <= scatter <= 2
        How unsure the answer is; 0.2 means about 20 %.
    bias : natural log of estimate / true
        What the pupil is known to read high (above zero) or low (below).

    Raises
    ------
    InputError : if a number makes no sense
    """
    checked(bias, "bias", -3, 3, mend="Give the mean of ln(estimate / true)")
    best = best_bias(scatter, aim)
    shift = min(0.0, best - bias)
    gain = float(mean_score(bias + shift, scatter) - mean_score(bias, scatter))
    gain_p90 = float(chance_of(90, bias + shift, scatter) - chance_of(90, bias, scatter))
    cure = float(mean_score(0.0, scatter) - mean_score(bias, scatter))
    return Lean(aim, shift, gain, gain_p90, bias, cure)
