"""What is believed of a bias and a scatter: the conjugate normal-inverse-gamma law.

The log ratios x of one pupil are normal with bias b and variance s2, where

    s2 ~ inverse gamma(a, b),  bias | s2 ~ normal(mean, s2 / k).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from nearmark.coaching.limits import checked
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class Belief:
    """A normal-inverse-gamma law of bias and variance of ln(estimate / true)."""

    mean: float  # where the bias is believed to lie (natural log)
    k: float  # how many attempts that belief is worth (attempts)
    a: float  # shape: half the degrees of freedom of the variance (dimensionless, > 1)
    b: float  # rate; b / (a - 1) is the mean of the variance (squared natural log, > 0)

    def __post_init__(self) -> None:
        checked(self.mean, "mean of the belief", -20, 20)
        checked(self.k, "k of the belief", 1e-9, 1e9)
        checked(self.a, "a of the belief", 1 + 1e-9, 1e9)
        checked(self.b, "b of the belief", 1e-12, 1e9)

    @property
    def variance(self) -> float:
        """Mean of the variance of one attempt, squared natural log."""
        return self.b / (self.a - 1)

    @property
    def bias_sd(self) -> float:
        """Standard deviation of the bias, natural log."""
        return math.sqrt(self.variance / self.k)

    def updated(self, x: Sequence[float], weights: Sequence[float] | None = None) -> "Belief":
        """The belief after more attempts.

        Parameters
        ----------
        x : natural log of estimate / true, shape (n,)
        weights : dimensionless, 0 to 1, shape (n,), or None
            How far each attempt counts; ``None``: wholly.

        References
        ----------
        Conjugate analysis of the normal law with unknown mean and variance; Gelman et al.,
        *Bayesian Data Analysis*, 3rd ed., section 3.3 (from memory).
        """
        values = np.asarray(x, float)
        w = np.ones_like(values) if weights is None else np.asarray(weights, float)
        n = float(w.sum())
        if n == 0:
            return self
        middle = float(w @ values) / n
        square = float(w @ (values - middle) ** 2)
        k = self.k + n
        return Belief(
            (self.k * self.mean + n * middle) / k,
            k,
            self.a + n / 2,
            self.b + square / 2 + self.k * n * (middle - self.mean) ** 2 / (2 * k),
        )


SEASON_START: Final = {
    Station.MASS: Belief(0.0, 1, 3, 0.045),
    Station.COUNT: Belief(-0.10, 1, 3, 0.08),
    Station.VOLUME: Belief(0.0, 1, 3, 0.03),
}
"""Before anything is known, worth one attempt each: a start (common practice, no source) that the
club's own attempts replace; see ``club_belief``."""
