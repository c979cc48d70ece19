"""Expected score of answers with a bias and a scatter, in closed form.

With r = estimate / true and x = ln r normal (bias mu, scatter sigma), the score is
100 max(0, 1 - |r - 1|), and all of its moments are partial moments of the log-normal law:

    M_k(a, b) = E[r^k; a < r < b]
              = exp(k mu + k^2 sigma^2 / 2) (Phi(z_b - k sigma) - Phi(z_a - k sigma)),
    z_c = (ln c - mu) / sigma.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr

from nearmark.coaching.limits import checked

Floats = NDArray[np.float64]

MAX_BIAS: Final = 5.0
MAX_SCATTER: Final = 3.0
"""Beyond these every answer scores next to nothing."""

_MIN_SCATTER: Final = 1e-9
"""Means none at all: the formulas divide by it, and no printed digit feels it."""


GOOD_SCORE: Final = 90.0
"""Points: what counts as a good score."""


@dataclass(frozen=True, slots=True)
class ExpectedScore:
    """What answers with a known bias and scatter bring."""

    score: float  # mean score of one answer (points)
    sd: float  # standard deviation of the score of one answer (points)
    p_at_least: float  # of a score of ``at_least`` or more (probability)
    at_least: float  # points


def expected_score(bias: float, scatter: float, *, at_least: float = GOOD_SCORE) -> ExpectedScore:
    """Expected score, its spread and the chance of a good score.

    >>> found = expected_score(-0.1, 0.2)
    >>> round(found.score, 2), round(found.p_at_least, 3)
    (83.48, 0.346)

    Parameters
    ----------
    bias, scatter : natural log of estimate / true
        Mean and standard deviation; -0.1 reads about 10 % low.
    at_least : points, 0 < at_least <= 100

    Raises
    ------
    InputError : if a number makes no sense

    References
    ----------
    Partial moments of the log-normal distribution; common practice, derivation in
    docs/reference/coaching.md.
    """
    checked(bias, "bias", -MAX_BIAS, MAX_BIAS, mend="Give the mean of ln(estimate / true)")
    checked(scatter, "scatter", 0, MAX_SCATTER, mend="Give the scatter of ln(estimate / true)")
    checked(at_least, "at least", 1e-9, 100, mend="Give points above 0 and up to 100")
    score = float(mean_score(bias, scatter))
    square = 1e4 * (
        _moment(2, None, 1.0, bias, scatter)
        + 4 * _moment(0, 1.0, 2.0, bias, scatter)
        - 4 * _moment(1, 1.0, 2.0, bias, scatter)
        + _moment(2, 1.0, 2.0, bias, scatter)
    )
    sd = math.sqrt(max(0.0, float(square) - score**2))
    return ExpectedScore(score, sd, float(chance_of(at_least, bias, scatter)), at_least)


def mean_score(bias: ArrayLike, scatter: ArrayLike) -> Floats:
    """Mean score (points) of many biases and scatters at once, in their common shape.

    >>> mean_score([0.0, -0.2], 0.2).round(2).tolist()
    [83.83, 79.87]

    Parameters
    ----------
    bias, scatter : natural log of estimate / true, shapes that broadcast
        Taken as -5 to 5 and 0 to 3: beyond, nothing is scored anyway.
    """
    return 100 * (
        _moment(1, None, 1.0, bias, scatter)
        + 2 * _moment(0, 1.0, 2.0, bias, scatter)
        - _moment(1, 1.0, 2.0, bias, scatter)
    )


def chance_of(at_least: float, bias: ArrayLike, scatter: ArrayLike) -> Floats:
    """Probability that an answer scores at least so much, in the common shape.

    >>> float(chance_of(90, 0.0, 0.1).round(4))
    0.6837

    Parameters
    ----------
    at_least : points, 0 < at_least <= 100
    bias, scatter : natural log of estimate / true, shapes that broadcast
    """
    half_width = 1 - at_least / 100
    return _moment(0, (1 - half_width) or None, 1 + half_width, bias, scatter)


def expected_net_score(bias: float, scatter: float) -> float:
    """Expected score when the error adds instead of multiplying, as with the mass of a scoop.

    In points.

    >>> round(expected_net_score(0.0, 0.08), 4)
    93.6169

    Parameters
    ----------
    bias, scatter : relative; of estimate / true - 1: mean and standard deviation

    Raises
    ------
    InputError : if a number makes no sense

    References
    ----------
    First moment of a truncated normal distribution; common practice.
    """
    checked(bias, "bias", -MAX_BIAS, MAX_BIAS)
    s = max(checked(scatter, "scatter", 0, MAX_SCATTER), _MIN_SCATTER)
    low, middle, high = ((end - bias) / s for end in (-1.0, 0.0, 1.0))
    p_low, e_low = _truncated(low, middle, bias, s)
    p_high, e_high = _truncated(middle, high, bias, s)
    return float(100 * (p_low + e_low + p_high - e_high))


def net_score(bias: float, scatter: float) -> ExpectedScore:
    """The same with its spread and the chance of a good score.

    >>> found = net_score(0.0, 0.08)
    >>> round(found.score, 2), round(found.sd, 2), round(found.p_at_least, 3)
    (93.62, 4.82, 0.789)

    Parameters
    ----------
    bias, scatter : relative; of estimate / true - 1: mean and standard deviation

    Raises
    ------
    InputError : if a number makes no sense
    """
    score = expected_net_score(bias, scatter)
    s = max(scatter, _MIN_SCATTER)
    # Score = 100 (1 - |x|) while |x| < 1: its square needs E[|x|] and E[x^2] inside.
    inside = float(ndtr((1 - bias) / s) - ndtr((-1 - bias) / s))
    size = inside - score / 100
    ends = [(end - bias) / s for end in (-1.0, 1.0)]
    density = [math.exp(-z * z / 2) / math.sqrt(2 * math.pi) for z in ends]
    edge = s * ((-1.0 + bias) * density[0] - (1.0 + bias) * density[1])
    square = (bias**2 + s**2) * inside + edge
    variance = 1e4 * (inside - 2 * size + square) - score**2
    half = 1 - GOOD_SCORE / 100
    p = float(ndtr((half - bias) / s) - ndtr((-half - bias) / s))
    return ExpectedScore(score, math.sqrt(max(0.0, variance)), p, GOOD_SCORE)


def _truncated(a: float, b: float, mean: float, sd: float) -> tuple[float, float]:
    """P and E[x; a < z < b] of a normal x with z its standardised value."""
    p = float(ndtr(b) - ndtr(a))
    density = [math.exp(-z * z / 2) / math.sqrt(2 * math.pi) for z in (a, b)]
    return p, mean * p + sd * (density[0] - density[1])


def _moment(k: int, low: float | None, high: float, bias: ArrayLike, scatter: ArrayLike) -> Floats:
    """E[r^k; low < r < high]; ``None`` for zero."""
    mu = np.clip(np.asarray(bias, float), -MAX_BIAS, MAX_BIAS)
    sigma = np.clip(np.asarray(scatter, float), _MIN_SCATTER, MAX_SCATTER)
    share = ndtr((math.log(high) - mu) / sigma - k * sigma)
    if low is not None:
        share = share - ndtr((math.log(low) - mu) / sigma - k * sigma)
    moment: Floats = np.exp(k * mu + (k * sigma) ** 2 / 2) * share
    return moment
