"""The next attempt of a pupil: its law, its band, its expected score."""

import math
from dataclasses import replace
from typing import Final

import numpy as np
from scipy.optimize import brentq
from scipy.special import ndtr, stdtr

from nearmark.coaching.expected_score import ExpectedScore, expected_score
from nearmark.coaching.limits import checked
from nearmark.coaching.posterior import Habits, Posterior

PRIOR_ATTEMPTS: Final = 20.0
"""The share of blunders expected beforehand is worth so many attempts."""


def blunder_share(found: Posterior, *, beforehand: float = 0.05) -> float:
    """Share of blunders to expect of the next attempts, 0 to 1.

    >>> from nearmark.coaching.belief import Belief
    >>> from nearmark.coaching.posterior import posterior
    >>> round(blunder_share(posterior([[]], Belief(0, 1, 3, 0.08))), 3)
    0.05

    Parameters
    ----------
    beforehand : probability; expected before any attempt was seen
    """
    return (PRIOR_ATTEMPTS * beforehand + sum(found.p_blunder)) / (PRIOR_ATTEMPTS + found.n)


def chance_below(found: Posterior, x: float, *, share: float = 0.0, centre: float = 0.0) -> float:
    """Probability that the next log ratio lies below x.

    >>> from nearmark.coaching.belief import Belief
    >>> from nearmark.coaching.posterior import posterior
    >>> chance_below(posterior([[]], Belief(0, 1, 3, 0.08)), 0.0)
    0.5

    Parameters
    ----------
    x : natural log of estimate / true
    share : probability; of the next attempt to be a blunder
    centre : natural log; of blunders

    References
    ----------
    The posterior predictive of a normal-inverse-gamma law is Student's t with 2 a degrees of
    freedom and scale^2 b (k + 1) / (a k); Gelman et al., section 3.3 (from memory).
    """
    scale = np.sqrt(found.b * (found.k + 1) / (found.a * found.k))
    clean = float(found.weight @ stdtr(2 * found.a, (x - found.mean) / scale))
    return (1 - share) * clean + share * float(ndtr((x - centre) / Habits().blunder_sd))


def predictive_band(
    found: Posterior, *, level: float = 0.80, share: float = 0.0, centre: float = 0.0
) -> tuple[float, float]:
    """The band that holds the next log ratio with a probability, as much outside above as below.

    Its two ends are natural logs of estimate / true.

    >>> from nearmark.coaching.belief import Belief
    >>> from nearmark.coaching.posterior import posterior
    >>> low, high = predictive_band(posterior([[]], Belief(0, 1, 3, 0.08)))
    >>> round(low, 3), round(high, 3)  # t of 6 dof at 90 %: 1.440, times sqrt(2 * 0.08 / 3)
    (-0.332, 0.332)

    Parameters
    ----------
    level : probability, 0 < level < 1
    share : probability; of the next attempt to be a blunder
    centre : natural log; of blunders

    Raises
    ------
    InputError : if the level makes no sense
    """
    checked(level, "level", 1e-6, 1 - 1e-6)

    middle, reach = found.bias, 4 * found.predictive_sd

    def end(p: float) -> float:
        def miss(x: float) -> float:
            return chance_below(found, x, share=share, centre=centre) - p

        low, high = middle - reach, middle + reach
        while miss(low) > 0 or miss(high) < 0:
            low, high = low - reach, high + reach
        return float(brentq(miss, low, high, xtol=1e-9))

    return end((1 - level) / 2), end((1 + level) / 2)


def predicted_score(found: Posterior, *, share: float = 0.0, centre: float = 0.0) -> ExpectedScore:
    """Expected score of the next attempt.

    Bias and scatter are taken at their means, with the doubt about the bias added to the scatter.

    >>> from nearmark.coaching.belief import Belief
    >>> from nearmark.coaching.posterior import posterior
    >>> before = posterior([[]], Belief(0, 1, 3, 0.03))
    >>> round(predicted_score(before).score, 1), round(predicted_score(before, share=0.1).score, 1)
    (86.0, 82.3)

    Parameters
    ----------
    share : probability; of the next attempt to be a blunder; zero: of one that is none
    centre : natural log; of blunders

    References
    ----------
    Mean and variance of a mixture of two laws; common practice, no source.
    """
    spread = min(found.predictive_sd, 3.0)
    clean = expected_score(float(np.clip(found.bias, -5, 5)), spread)
    if not share:
        return clean
    stray = expected_score(float(np.clip(centre, -5, 5)), Habits().blunder_sd)
    mixed = ((1 - share, clean), (share, stray))
    mean = sum(part * law.score for part, law in mixed)
    variance = sum(part * (law.sd**2 + (law.score - mean) ** 2) for part, law in mixed)
    p = sum(part * law.p_at_least for part, law in mixed)
    return replace(clean, score=mean, sd=math.sqrt(variance), p_at_least=p)
