"""Draws of an input: what is known of it, as numbers a generator gives.

Source: JCGM 101:2008, clause 6.4 and table 1.
"""

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from nearmark.errors import InputError

Floats = NDArray[np.float64]
Draw = Callable[[np.random.Generator, int], Floats]
"""(generator, how many) -> draws, shape (how many,)."""


def normal(mean: float, u: float) -> Draw:
    """Draws of a normal distribution (JCGM 101, 6.4.7).

    Parameters
    ----------
    mean : any unit
    u : same unit, >= 0; standard uncertainty

    Raises
    ------
    InputError : if ``u`` is negative or a number is not finite

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
    u : same unit, >= 0; the scale: the experimental standard deviation of the mean
    dof : dimensionless, > 0

    Raises
    ------
    InputError : if ``u`` is negative, ``dof`` is not above zero, or a number is not finite

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
    distribution : of the row; ``rectangular`` is drawn as such, any other word as normal
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
    InputError : if the ends are the wrong way round or not finite

    Examples
    --------
    >>> rectangular(2.0, 2.0)(np.random.default_rng(1), 1).tolist()
    [2.0]
    """
    _check_ends("rectangular distribution", low, high)
    return lambda rng, n: rng.uniform(low, high, n)


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
