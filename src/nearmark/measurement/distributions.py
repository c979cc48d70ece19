"""Draws of an input: what is known of it, as numbers a generator gives.

Source: JCGM 101:2008, clause 6.4 and table 1.
"""

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Draw = Callable[[np.random.Generator, int], NDArray[np.float64]]
"""(generator, how many) -> draws, shape (how many,)."""


def standardised(distribution: str, dof: float) -> Draw:
    """Draws of the error of a budget row in units of its standard uncertainty.

    >>> bool(abs(standardised("rectangular", math.inf)(np.random.default_rng(1), 9)).max() < 1.733)
    True

    Parameters
    ----------
    distribution : of the row; ``rectangular`` is drawn as such, any other word as normal
    dof : dimensionless, > 0
        Finite: a t distribution, whatever the word; the scale is 1, not the standard deviation.

    References
    ----------
    JCGM 101:2008, clauses 6.4.2, 6.4.7 and 6.4.9 (from memory).
    """
    if dof < math.inf:
        return lambda rng, n: rng.standard_t(dof, n)
    if distribution == "rectangular":
        return lambda rng, n: rng.uniform(-math.sqrt(3), math.sqrt(3), n)
    return lambda rng, n: rng.standard_normal(n)
