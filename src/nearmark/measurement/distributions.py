"""Draws of an input: what is known of it, as numbers a generator gives.

Source: JCGM 101:2008, clause 6.4 and table 1.
"""

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nearmark.errors import InputError
from nearmark.measurement.covariance import checked_covariance, correlation_matrix

Floats = NDArray[np.float64]
Draw = Callable[[np.random.Generator, int], Floats]
"""(generator, how many) -> draws, shape (how many,); of k inputs at once, shape (k, how many)."""


def normal(mean: float, u: float) -> Draw:
    """Draws of a normal distribution (JCGM 101, 6.4.7).

    Parameters
    ----------
    mean : any unit
    u : same unit, >= 0
        Standard uncertainty.

    Raises
    ------
    InputError
        If ``u`` is negative or a number is not finite.

    Examples
    --------
    >>> normal(5.0, 0.0)(np.random.default_rng(1), 2).tolist()
    [5.0, 5.0]
    """
    _check_scale("normal distribution", mean, u)
    return lambda rng, n: rng.normal(mean, u, n)


def student_t(mean: float, u: float, dof: float) -> Draw:
    """Draws of a scaled and shifted t distribution (JCGM 101, 6.4.9).

    The standard deviation of the draws is ``u sqrt(dof / (dof - 2))``, infinite up to two degrees
    of freedom.

    Parameters
    ----------
    mean : any unit
    u : same unit, >= 0
        The scale: the experimental standard deviation of the mean.
    dof : dimensionless, > 0

    Raises
    ------
    InputError
        If ``u`` is negative, ``dof`` is not above zero, or a number is not finite.

    Examples
    --------
    >>> student_t(5.0, 0.0, 3)(np.random.default_rng(1), 2).tolist()
    [5.0, 5.0]
    """
    _check_scale("t distribution", mean, u)
    if not 0 < dof < math.inf:
        raise InputError(
            "must be above zero and finite",
            where="t distribution, degrees of freedom",
            value=dof,
            mend="Use the normal distribution for a value taken as exactly known",
        )
    return lambda rng, n: mean + u * rng.standard_t(dof, n)


def standardised(distribution: str, dof: float) -> Draw:
    """Draws of the error of a budget row in units of its standard uncertainty.

    Parameters
    ----------
    distribution : str
        Of the row; ``rectangular`` is drawn as such, any other word as normal.
    dof : dimensionless, > 0
        Finite: a t distribution, whatever the word; the scale is 1, not the standard deviation.

    References
    ----------
    JCGM 101:2008, clauses 6.4.2, 6.4.7 and 6.4.9 (from memory).

    Examples
    --------
    >>> bool(abs(standardised("rectangular", math.inf)(np.random.default_rng(1), 9)).max() < 1.733)
    True
    """
    if dof < math.inf:
        return student_t(0.0, 1.0, dof)
    if distribution == "rectangular":
        return rectangular(-math.sqrt(3), math.sqrt(3))
    return normal(0.0, 1.0)


def rectangular(low: float, high: float) -> Draw:
    """Draws of a rectangular distribution (JCGM 101, 6.4.2).

    Parameters
    ----------
    low, high : any unit, low <= high

    Raises
    ------
    InputError
        If the ends are the wrong way round or not finite.

    Examples
    --------
    >>> rectangular(2.0, 2.0)(np.random.default_rng(1), 1).tolist()
    [2.0]
    """
    _check_ends("rectangular distribution", low, high)
    return lambda rng, n: rng.uniform(low, high, n)


def triangular(low: float, high: float) -> Draw:
    """Draws of a symmetric triangular distribution (JCGM 101, 6.4.5).

    Parameters
    ----------
    low, high : any unit, low <= high

    Raises
    ------
    InputError
        If the ends are the wrong way round or not finite.

    Examples
    --------
    >>> bool(1 <= triangular(1.0, 3.0)(np.random.default_rng(1), 1)[0] <= 3)
    True
    """
    _check_ends("triangular distribution", low, high)
    return lambda rng, n: low + (high - low) * rng.random((2, n)).mean(axis=0)


def arcsine(low: float, high: float) -> Draw:
    """Draws of a U-shaped distribution (JCGM 101, 6.4.6).

    Parameters
    ----------
    low, high : any unit, low <= high

    Raises
    ------
    InputError
        If the ends are the wrong way round or not finite.

    Examples
    --------
    >>> bool(1 <= arcsine(1.0, 3.0)(np.random.default_rng(1), 1)[0] <= 3)
    True
    """
    _check_ends("U-shaped distribution", low, high)
    middle, half = (low + high) / 2, (high - low) / 2
    return lambda rng, n: middle + half * np.sin(rng.uniform(0, 2 * math.pi, n))


def multivariate_normal(means: ArrayLike, covariance: ArrayLike) -> Draw:
    """Draws of several inputs that vary together (JCGM 101, 6.4.8).

    Parameters
    ----------
    means : units of the inputs, shape (k,)
    covariance : products of the units, shape (k, k)
        See ``nearmark.measurement.covariance_matrix``.

    Returns
    -------
    Draw
        Of shape (k, how many): the model unpacks its one name into k.

    Raises
    ------
    InputError
        If the shapes do not match, or the covariance cannot be one.

    Examples
    --------
    >>> draw = multivariate_normal([1.0, 2.0], [[0.0, 0.0], [0.0, 0.0]])
    >>> draw(np.random.default_rng(1), 3).tolist()
    [[1.0, 1.0, 1.0], [2.0, 2.0, 2.0]]
    """
    centre = np.asarray(means, dtype=np.float64)
    square = checked_covariance(covariance, centre.size)
    if not np.isfinite(centre).all():
        raise InputError(
            "needs finite values", where="multivariate normal distribution", value=centre.tolist()
        )
    # Of the correlations, not the covariance: a small input next to a large one must not drown.
    variances, axes = np.linalg.eigh(correlation_matrix(square))
    root = np.sqrt(np.diag(square))[:, None] * axes * np.sqrt(np.maximum(variances, 0.0))
    return lambda rng, n: centre[:, None] + root @ rng.standard_normal((centre.size, n))


def _check_scale(where: str, mean: float, u: float) -> None:
    if not (math.isfinite(mean) and 0 <= u < math.inf):
        raise InputError(
            "needs a finite value and an uncertainty of zero or more", where=where, value=(mean, u)
        )


def _check_ends(where: str, low: float, high: float) -> None:
    if not -math.inf < low <= high < math.inf:  # also refuses NaN, which compares false
        raise InputError(
            "needs a finite lower end, then a finite upper end", where=where, value=(low, high)
        )
