"""What a log of attempts says of a pupil, with blunders kept apart from scatter.

A blunder (a factor two, a swapped digit, a layer missed) follows a wide law of its own.  Up to
three blunders among twelve attempts are enumerated: each set of blunders gives one conjugate
belief, and the answer is their mixture, weighted by how well the set explains the attempts.
Between sessions a belief fades, so that the last weeks count most.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaln

from nearmark.coaching.belief import Belief
from nearmark.coaching.limits import checked
from nearmark.errors import InputError

Floats = NDArray[np.float64]

MAX_BLUNDERS: Final = 3
WINDOW: Final = 12
"""Attempts enumerated at once: 299 sets."""

STEP: Final = 6
"""Attempts that leave a full window at once, each with the weight it earned there."""

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
    log_marginal: float  # of the attempts of the last window (natural log)

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
        """Draw biases and scatters.

        Parameters
        ----------
        n_draws : draws

        Returns
        -------
        bias, scatter : natural log, shape (n_draws,) each
        """
        pick = rng.choice(len(self.weight), n_draws, p=self.weight)
        variance = self.b[pick] / rng.gamma(self.a[pick])
        bias = self.mean[pick] + rng.standard_normal(n_draws) * np.sqrt(variance / self.k[pick])
        return bias, np.sqrt(variance)


def posterior(
    sessions: Sequence[Sequence[float]], prior: Belief, *, habits: Habits | None = None
) -> Posterior:
    """What attempts say of a pupil's bias and scatter.

    Parameters
    ----------
    sessions : natural log of estimate / true, one sequence a session, oldest first
    habits : Habits or None
        ``None``: the defaults.

    Returns
    -------
    Posterior
        With no attempt, the prior.

    Raises
    ------
    InputError
        If a log ratio is not finite, or beyond a factor of a million.

    Examples
    --------
    >>> found = posterior([[-0.05, -0.70, -0.02, -0.10, 0.03]], Belief(-0.10, 1, 3, 0.08))
    >>> round(found.bias, 4), round(found.p_blunder[1], 2)
    (-0.0736, 0.77)
    """
    habits = habits or Habits()
    x = [value for session in sessions for value in session]
    for value in x:
        checked(value, "log ratio", -MAX_DISTANCE, MAX_DISTANCE, mend="Leave a blank answer out")
    fades = _fades([len(session) for session in sessions])
    belief, settled = prior, list[float]()
    while len(x) - len(settled) > WINDOW:
        first = len(settled)
        window = slice(first, first + WINDOW)
        probed = _enumerated(x[window], fades[window], belief, habits, prior.mean)
        leaving = min(STEP, len(x) - first - WINDOW)
        for i in range(leaving):
            belief = _faded(belief, fades[first + i], habits)
            settled.append(probed.p_blunder[i])
            belief = belief.updated([x[first + i]], [1 - settled[-1]])
    first = len(settled)
    last = _enumerated(x[first:], fades[first:], belief, habits, prior.mean)
    return Posterior(
        last.weight,
        last.mean,
        last.k,
        last.a,
        last.b,
        (*settled, *last.p_blunder),
        last.log_marginal,
    )


def _fades(lengths: Sequence[int]) -> list[int]:
    """For each attempt, whether a new session begins with it (never for the very first)."""
    fades = [1 if i == 0 else 0 for length in lengths for i in range(length)]
    return [0, *fades[1:]] if fades else []


def _faded(belief: Belief, steps: int, habits: Habits) -> Belief:
    if not steps:
        return belief
    k, a, b = _fade(np.array([belief.k, belief.a, belief.b])[:, None], habits)
    return Belief(belief.mean, float(k[0]), float(a[0]), float(b[0]))


def _fade(kab: Floats, habits: Habits) -> Floats:
    """Weight lost between sessions; the mean of the variance stays where it is."""
    k, a, b = kab
    a_new = np.maximum(np.minimum(a, _MIN_SHAPE), a * habits.keep_scatter)
    k_new = np.maximum(np.minimum(k, _MIN_K), k * habits.keep_bias)
    return np.array([k_new, a_new, b * a_new / a])


@cache
def _blunder_sets(n: int) -> tuple[Floats, Floats]:
    """Every set of at most three blunders among n attempts, and what each leaves.

    One and zero, shape (n, sets): a session is then a block of rows.
    """
    chosen = [
        blunders
        for size in range(min(n, MAX_BLUNDERS) + 1)
        for blunders in itertools.combinations(range(n), size)
    ]
    sets = np.zeros((n, len(chosen)))
    for column, blunders in enumerate(chosen):
        sets[list(blunders), column] = 1
    clean = 1 - sets
    sets.setflags(write=False)
    clean.setflags(write=False)
    return sets, clean


def _enumerated(
    x: Sequence[float], fades: Sequence[int], prior: Belief, habits: Habits, centre: float
) -> Posterior:
    """The mixture over the blunder sets of one window."""
    sets, clean = _blunder_sets(len(x))
    values = np.asarray(x, float)
    log_share, log_rest = _logs(habits.blunder_share)
    z = np.clip((values - centre) / habits.blunder_sd, -_MAX_Z, _MAX_Z)
    stray = -z * z / 2 - math.log(habits.blunder_sd * math.sqrt(2 * math.pi))
    log_weight = len(x) * log_rest + (log_share - log_rest + stray) @ sets
    mean = np.full(sets.shape[1], prior.mean)
    kab = np.repeat([[prior.k], [prior.a], [prior.b]], sets.shape[1], axis=1)
    for first, end in _session_ends(fades):
        if fades[first]:
            kab = _fade(kab, habits)
        mean, kab, fits = _learnt(mean, kab, values[first:end], clean[first:end])
        log_weight += fits
    top = float(log_weight.max())
    weight = np.exp(log_weight - top)
    total = float(weight.sum())
    weight /= total
    p_blunder = tuple((sets @ weight).tolist())
    k, a, b = kab
    kept = weight > _NEGLIGIBLE  # most sets explain nothing; what is asked later need not see them
    weight = weight[kept] / weight[kept].sum()
    return Posterior(
        weight, mean[kept], k[kept], a[kept], b[kept], p_blunder, top + math.log(total)
    )


def _session_ends(fades: Sequence[int]) -> list[tuple[int, int]]:
    starts = [i for i, fade in enumerate(fades) if fade or i == 0]
    return list(itertools.pairwise([*starts, len(fades)]))


def _learnt(
    mean: Floats, kab: Floats, values: Floats, clean: Floats
) -> tuple[Floats, Floats, Floats]:
    """Beliefs after one session, and its log density under each; see ``Belief.updated``."""
    k, a, b = kab
    # Sums about one value of the session: no digits are lost, and one is all there is when n = 1.
    gap = values - values[0]
    n, total, square = np.array([np.ones_like(gap), gap, gap * gap]) @ clean
    middle = total / np.maximum(n, 1)
    k_new, a_new = k + n, a + n / 2
    offset = middle + values[0] - mean
    b_new = b + np.maximum(0.0, square - total * middle) / 2 + k * n / k_new * offset**2 / 2
    fits = (
        gammaln(a_new)
        - gammaln(a)
        + a * np.log(b)
        - a_new * np.log(b_new)
        + np.log(k / k_new) / 2
        - n * (math.log(2 * math.pi) / 2)
    )
    return mean + n * offset / k_new, np.array([k_new, a_new, b_new]), fits


def _logs(share: float) -> tuple[float, float]:
    low = -1e9  # means the logarithm of nothing at all
    return (math.log(share) if share else low, math.log1p(-share) if share < 1 else low)
