"""What is usual in a club: the belief that a pupil with few attempts starts from."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.special import gammaln

from nearmark.coaching.belief import Belief
from nearmark.errors import InputError

Floats = NDArray[np.float64]

MIN_PUPILS: Final = 4
"""With fewer the season's start is used: two or three pupils do not tell what is usual."""

_CENTRE: Final = np.array([0.0, 0.0, math.log(2), math.log(0.04)])
_WIDTH: Final = np.array([0.3, 1.0, 1.0, 1.0])
"""Weak penalties on (mean, ln k, ln(a - 1), ln mean variance), which few pupils cannot fix."""


def club_belief(
    pupils: Sequence[Sequence[float]],
    *,
    weights: Sequence[Sequence[float]] | None = None,
    start: Belief | None = None,
) -> Belief:
    """The belief that makes the attempts of all pupils together most likely (empirical Bayes).

    >>> club = [[-0.22, -0.10, -0.31], [0.05, -0.08, 0.12], [-0.35, -0.52], [0.02, 0.31, -0.15]]
    >>> -0.25 < club_belief(club).mean < -0.05
    True

    Parameters
    ----------
    pupils : natural log of estimate / true, one sequence a pupil
    weights : dimensionless, 0 to 1, the same shape, or None
        How far each attempt counts: one minus its probability to be a blunder.
    start : given back when fewer than four pupils have an attempt; ``None``: of the counts

    Raises
    ------
    InputError : if the weights do not match the attempts

    References
    ----------
    Type II maximum likelihood with weak penalties; Gelman et al., *Bayesian Data Analysis*,
    section 5.1 (from memory).
    """
    start = start or Belief(-0.10, 1, 3, 0.08)
    n, middle, square = _summaries(pupils, weights)
    if len(n) < MIN_PUPILS:
        return start

    def cost(theta: Floats) -> float:
        z = (theta - _CENTRE) / _WIDTH
        mean, k, a, b = _unpacked(theta)
        return -float(_log_marginals(n, middle, square, (mean, k, a, b)).sum()) + float(z @ z) / 2

    origin = [start.mean, math.log(start.k), math.log(start.a - 1), math.log(start.variance)]
    fit = minimize(
        cost, origin, method="Nelder-Mead", options={"xatol": 1e-4, "fatol": 1e-6, "maxiter": 2000}
    )
    return Belief(*_unpacked(fit.x))


def _summaries(
    pupils: Sequence[Sequence[float]], weights: Sequence[Sequence[float]] | None
) -> tuple[Floats, Floats, Floats]:
    """Weight, mean and sum of squares of each pupil with an attempt."""
    if weights is None:
        weights = [[1.0] * len(x) for x in pupils]
    if [len(x) for x in pupils] != [len(w) for w in weights]:
        raise InputError("one weight an attempt is needed", where="weights of the club")
    rows = []
    for x, w in zip(pupils, weights, strict=True):
        values, share = np.asarray(x, float), np.asarray(w, float)
        n = float(share.sum())
        if n > 0:
            middle = float(share @ values) / n
            rows.append((n, middle, float(share @ (values - middle) ** 2)))
    n_, middle_, square_ = np.array(rows).reshape(-1, 3).T
    return n_, middle_, square_


def _unpacked(theta: Floats) -> tuple[float, float, float, float]:
    mean, log_k, log_a, log_variance = theta
    a_less_1 = math.exp(min(float(log_a), 10.0))
    variance = math.exp(max(float(log_variance), -20.0))
    return (
        float(np.clip(mean, -5, 5)),
        math.exp(float(np.clip(log_k, -6, 6))),
        1 + a_less_1,
        a_less_1 * variance,
    )


def _log_marginals(
    n: Floats, middle: Floats, square: Floats, belief: tuple[float, float, float, float]
) -> Floats:
    mean, k, a, b = belief
    k_n, a_n = k + n, a + n / 2
    b_n = b + square / 2 + k * n * (middle - mean) ** 2 / (2 * k_n)
    found: Floats = (
        gammaln(a_n)
        - math.lgamma(a)
        + a * math.log(b)
        - a_n * np.log(b_n)
        + np.log(k / k_n) / 2
        - n / 2 * math.log(2 * math.pi)
    )
    return found
