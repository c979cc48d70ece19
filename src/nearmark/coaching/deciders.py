"""Who of a pair decides: one, the other, the plain average, or one that trusts the steadier more.

Averages are of logarithms (the geometric mean of two answers), so that they stay in the family.
"""

import math
from enum import StrEnum
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nearmark.coaching.limits import checked

Floats = NDArray[np.float64]

USUAL_CORRELATION: Final = 0.3
"""Of two pupils' errors on the same thing (a proposal, no source)."""

WORTH: Final = 8.0
"""Joint attempts that the usual correlation is worth."""

_STRONGEST: Final = 0.9


class Mode(StrEnum):
    """Whose answer is written down."""

    FIRST = "first"
    SECOND = "second"
    AVERAGE = "average"
    WEIGHTED = "weighted"


class Pupils(NamedTuple):
    """Bias and scatter of both of a pair; numbers, or arrays of one shape.

    Attributes
    ----------
    bias, scatter : natural log, (first, second)
    """

    bias: tuple[ArrayLike, ArrayLike]
    scatter: tuple[ArrayLike, ArrayLike]


def weight_of_first(first: ArrayLike, second: ArrayLike, correlation: float) -> Floats:
    """The share of the first pupil in the average with the least scatter.

    Parameters
    ----------
    first, second : natural log, > 0, shapes that broadcast
        Scatter of each.
    correlation : dimensionless
        Of their errors.

    Returns
    -------
    ndarray, dimensionless, 0 to 1

    References
    ----------
    Minimum-variance weights of two correlated values; common practice.

    Examples
    --------
    >>> weight_of_first(0.18, 0.22, 0.3).round(2).item()
    0.64
    """
    s1, s2 = np.asarray(first, float), np.asarray(second, float)
    shared = correlation * s1 * s2
    # Two alike in all have a variance of difference of zero: then any share will do.
    difference = np.maximum(s1**2 + s2**2 - 2 * shared, 1e-12)
    share: Floats = np.clip((s2**2 - shared) / difference, 0, 1)
    return share


def pair_answer(
    mode: Mode, pupils: Pupils, correlation: float, *, share: ArrayLike | None = None
) -> tuple[Floats, Floats]:
    """Bias and scatter of what the pair writes down.

    Parameters
    ----------
    mode : Mode
    pupils : Pupils
    correlation : dimensionless, -1 to 1
        Of their errors on the same thing.
    share : dimensionless, 0 to 1, or None
        Of the first pupil in the weighted average; ``None``: the best one.

    Returns
    -------
    bias, scatter : natural log, the common shape

    Raises
    ------
    InputError
        If the correlation makes no sense.

    Examples
    --------
    >>> bias, scatter = pair_answer(Mode.AVERAGE, Pupils((-0.2, -0.05), (0.18, 0.22)), 0.3)
    >>> round(float(bias), 3), round(float(scatter), 3)
    (-0.125, 0.162)
    """
    checked(correlation, "correlation", -1, 1)
    b1, b2 = (np.asarray(bias, float) for bias in pupils.bias)
    s1, s2 = (np.asarray(scatter, float) for scatter in pupils.scatter)
    if mode is Mode.WEIGHTED:
        w = weight_of_first(s1, s2, correlation) if share is None else np.asarray(share, float)
    else:
        w = np.asarray({Mode.FIRST: 1.0, Mode.SECOND: 0.0, Mode.AVERAGE: 0.5}[mode])
    variance = (w * s1) ** 2 + ((1 - w) * s2) ** 2 + 2 * w * (1 - w) * correlation * s1 * s2
    return w * b1 + (1 - w) * b2, np.sqrt(np.maximum(variance, 0.0))


def widest_ratio_to_average(correlation: float) -> float:
    """Ratio of the scatters up to which a plain average beats the steadier pupil.

    Both must read right on average.

    Parameters
    ----------
    correlation : dimensionless, -1 < correlation < 1

    Returns
    -------
    float

    Raises
    ------
    InputError
        If the correlation makes no sense.

    References
    ----------
    From s1^2 + s2^2 + 2 rho s1 s2 = 4 s1^2; the same was seen in pairs of people: Bahrami et al.,
    "Optimally interacting minds", Science 329 (2010) 1081-1085 (from memory).

    Examples
    --------
    >>> round(widest_ratio_to_average(0.3), 3)
    1.458
    """
    rho = checked(correlation, "correlation", -1, 1)
    return math.sqrt(3 + rho * rho) - rho


def shared_correlation(first: ArrayLike, second: ArrayLike) -> float:
    """Correlation of a pair's errors, shrunk towards what is usual.

    Parameters
    ----------
    first, second : dimensionless, shape (n,)
        Standardised errors, (x - bias) / scatter, of things both estimated.

    Returns
    -------
    float
        -0.9 to 0.9.

    Examples
    --------
    >>> shared_correlation([], []), round(shared_correlation([1.0, -2.0], [1.0, -1.0]), 2)
    (0.3, 0.54)
    """
    z1, z2 = np.asarray(first, float), np.asarray(second, float)
    found = (USUAL_CORRELATION * WORTH + float(z1 @ z2)) / (WORTH + len(z1))
    return min(max(found, -_STRONGEST), _STRONGEST)
