"""What a log of attempts says of a pupil, with blunders kept apart from scatter.

A blunder (a factor two, a swapped digit, a layer missed) follows a wide law of its own.  Each set
of blunders that may have happened gives one conjugate belief, and the answer is their mixture,
weighted by how well the set explains the attempts; up to nine attempts every set is followed, from
then on the likeliest.
Between sessions a belief fades, so that the last weeks count most.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaln

from nearmark.coaching.belief import Belief
from nearmark.coaching.limits import checked
from nearmark.errors import InputError

Floats = NDArray[np.float64]

MAX_BLUNDERS: Final = 5
WINDOW: Final = 12
"""More than five among twelve attempts in a row are no blunders: the habit has changed."""

MAX_SETS: Final = 512
"""Sets of blunders that are followed; of more, the likeliest so far."""

MAX_DISTANCE: Final = 14.0
"""Natural log: a million times too much or too little is no estimate."""

FITTED_FACTOR: Final = 1.1

_MIN_SHAPE: Final = 2.0
_MIN_K: Final = 0.1
"""A belief never fades beyond these: below, its moments would not exist."""


_NEGLIGIBLE: Final = 1e-7

_MAX_Z: Final = 3.1
"""A blunder beyond a factor of ten is as likely as one of ten: else Student's long tail would take
a factor of a hundred for scatter."""


@dataclass(frozen=True, slots=True)
class Habits:
    """What is taken for granted of blunders and of change between sessions."""

    blunder_share: float = 0.05  # of an attempt to be a blunder, before any is seen (probability)
    # Spread of blunders; 0.75 is a little over a factor of two (natural log).
    blunder_sd: float = 0.75
    # What a belief keeps of its weight from one session to the next; 1: nothing changes
    # (dimensionless, 0 to 1).
    keep_bias: float = 0.8
    keep_scatter: float = 0.95

    def __post_init__(self) -> None:
        for name in ("blunder_share", "keep_bias", "keep_scatter"):
            if not 0 <= getattr(self, name) <= 1:
                raise InputError("must be from 0 to 1", where=name, value=getattr(self, name))
        if not 0.01 <= self.blunder_sd <= 5:
            raise InputError("must be from 0.01 to 5", where="blunder_sd", value=self.blunder_sd)


@dataclass(frozen=True, slots=True)
class Posterior:
    """A mixture of beliefs, one for each set of blunders that may have happened."""

    # Probability and ``Belief`` of each set.
    weight: Floats
    mean: Floats
    k: Floats
    a: Floats
    b: Floats
    p_blunder: tuple[float, ...]  # of each attempt, in the order given (probability)

    @property
    def n(self) -> int:
        """Number of attempts."""
        return len(self.p_blunder)

    @property
    def bias(self) -> float:
        """Mean of the bias, natural log."""
        return float(self.weight @ self.mean)

    @property
    def bias_sd(self) -> float:
        """Standard deviation of the bias, natural log."""
        within = self.b / (self.a - 1) / self.k
        return math.sqrt(float(self.weight @ (within + (self.mean - self.bias) ** 2)))

    @property
    def variance(self) -> float:
        """Mean of the variance of one attempt that is no blunder, squared natural log."""
        return float(self.weight @ (self.b / (self.a - 1)))

    @property
    def scatter(self) -> float:
        """Scatter of one attempt that is no blunder, natural log."""
        return math.sqrt(self.variance)

    @property
    def predictive_sd(self) -> float:
        """Standard deviation of the next attempt that is no blunder, natural log."""
        return math.sqrt(self.variance + self.bias_sd**2)

    def widened(self) -> "Posterior":
        """The same, for a belief beforehand that was itself fitted to the club.

        The standard deviation of the bias grows by a tenth: full Bayes on the worked example gave
        2 to 15 % more (project's model notes, section 2.3).
        """
        return replace(self, k=self.k / FITTED_FACTOR**2)

    def draws(self, n_draws: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
        """Draw biases and scatters (natural log, shape (n_draws,) each).

        Parameters
        ----------
        n_draws : draws
        """
        pick = rng.choice(len(self.weight), n_draws, p=self.weight)
        variance = self.b[pick] / rng.gamma(self.a[pick])
        bias = self.mean[pick] + rng.standard_normal(n_draws) * np.sqrt(variance / self.k[pick])
        return bias, np.sqrt(variance)


def posterior(
    sessions: Sequence[Sequence[float]], prior: Belief, *, habits: Habits | None = None
) -> Posterior:
    """What attempts say of a pupil's bias and scatter; with none, the prior.

    >>> found = posterior([[-0.05, -0.70, -0.02, -0.10, 0.03]], Belief(-0.10, 1, 3, 0.08))
    >>> round(found.bias, 4), round(found.p_blunder[1], 2)
    (-0.0736, 0.77)

    Parameters
    ----------
    sessions : natural log of estimate / true, one sequence a session, oldest first
    habits : ``None``: the defaults

    Raises
    ------
    InputError : if a log ratio is not finite, or beyond a factor of a million
    """
    habits = habits or Habits()
    x = [value for session in sessions for value in session]
    for value in x:
        checked(value, "log ratio", -MAX_DISTANCE, MAX_DISTANCE, mend="Leave a blank answer out")
    log_share, log_rest = _logs(habits.blunder_share)
    stray = _strays(np.asarray(x, float), prior.mean, habits.blunder_sd)
    log_weight, mean = np.zeros(1), np.array([prior.mean])
    kab = np.array([[prior.k], [prior.a], [prior.b]])
    blunders = np.zeros((len(x), 1))
    for i, fade in enumerate(_fades([len(session) for session in sessions])):
        if fade:
            kab = _fade(kab, habits)
        clean_mean, clean_kab, fits = _learnt(mean, kab, x[i])
        log_weight = np.concatenate(
            [log_weight + log_rest + fits, log_weight + log_share + stray[i]]
        )
        mean, kab = np.concatenate([clean_mean, mean]), np.hstack([clean_kab, kab])
        blunders = np.hstack([blunders, blunders])
        blunders[i, len(clean_mean) :] = 1
        kept = np.flatnonzero(blunders[max(0, i + 1 - WINDOW) : i + 1].sum(axis=0) <= MAX_BLUNDERS)
        if len(kept) > MAX_SETS:
            kept = kept[np.argpartition(log_weight[kept], -MAX_SETS)[-MAX_SETS:]]
        log_weight, mean, kab = log_weight[kept], mean[kept], kab[:, kept]
        blunders = blunders[:, kept]
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    p_blunder = tuple((blunders @ weight).tolist())
    # Most sets explain nothing; what is asked later need not see them.
    weighty = weight > _NEGLIGIBLE
    weight = weight[weighty] / weight[weighty].sum()
    k, a, b = kab[:, weighty]
    return Posterior(weight, mean[weighty], k, a, b, p_blunder)


def _strays(values: Floats, centre: float, sd: float) -> Floats:
    """Log density of each attempt as a blunder."""
    z = np.clip((values - centre) / sd, -_MAX_Z, _MAX_Z)
    found: Floats = -z * z / 2 - math.log(sd * math.sqrt(2 * math.pi))
    return found


def _fades(lengths: Sequence[int]) -> list[int]:
    """For each attempt, whether a new session begins with it (never for the very first)."""
    fades = [1 if i == 0 else 0 for length in lengths for i in range(length)]
    return [0, *fades[1:]] if fades else []


def _fade(kab: Floats, habits: Habits) -> Floats:
    """Weight lost between sessions; the mean of the variance stays where it is."""
    k, a, b = kab
    a_new = np.maximum(np.minimum(a, _MIN_SHAPE), a * habits.keep_scatter)
    k_new = np.maximum(np.minimum(k, _MIN_K), k * habits.keep_bias)
    return np.array([k_new, a_new, b * a_new / a])


def _learnt(mean: Floats, kab: Floats, x: float) -> tuple[Floats, Floats, Floats]:
    """Beliefs after one more attempt, and its log density under each; see ``Belief.updated``."""
    k, a, b = kab
    k_new, a_new, offset = k + 1, a + 0.5, x - mean
    b_new = b + k / k_new * offset**2 / 2
    fits = (
        gammaln(a_new)
        - gammaln(a)
        + a * np.log(b)
        - a_new * np.log(b_new)
        + np.log(k / k_new) / 2
        - math.log(2 * math.pi) / 2
    )
    return mean + offset / k_new, np.array([k_new, a_new, b_new]), fits


def _logs(share: float) -> tuple[float, float]:
    low = -1e9  # means the logarithm of nothing at all
    return (math.log(share) if share else low, math.log1p(-share) if share < 1 else low)
