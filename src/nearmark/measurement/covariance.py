"""Covariance matrices: built from correlations, and refused when they cannot be one.

Source: JCGM 100:2008 (GUM), clause 5.2.2; matrices: JCGM 102:2011, clause 3.21.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nearmark.errors import InputError

Floats = NDArray[np.float64]

_ROUNDING: Final = 1e-9
"""What a correlation matrix may miss a possible one by: rounding, nothing else."""


def covariance_matrix(
    uncertainties: Sequence[float], correlations: Sequence[tuple[int, int, float]] = ()
) -> Floats:
    """Covariance matrix from standard uncertainties and the correlations that are not zero.

    Parameters
    ----------
    uncertainties : units of the inputs, shape (n,), >= 0
    correlations : triples (i, j, r), i and j in 0 ... n - 1 and different, r in [-1, 1]

    Returns
    -------
    ndarray, shape (n, n)

    Raises
    ------
    InputError
        If an uncertainty, a place or a coefficient is out of its range, or the coefficients
        cannot all be true together.

    Examples
    --------
    >>> covariance_matrix([2.0, 3.0], [(0, 1, 0.5)]).tolist()
    [[4.0, 3.0], [3.0, 9.0]]
    """
    u = np.asarray(uncertainties, dtype=np.float64)
    if not (np.isfinite(u) & (u >= 0)).all():
        raise InputError(
            "must be finite numbers, zero or more",
            where="standard uncertainties",
            value=u.tolist(),
            mend="Give an exact input the uncertainty 0",
        )
    matrix = np.eye(u.size)
    for i, j, r in correlations:
        if i == j or not (0 <= i < u.size and 0 <= j < u.size and -1 <= r <= 1):
            raise InputError(
                "needs two different inputs and a coefficient between -1 and 1",
                where="correlations",
                value=(i, j, r),
                mend=f"Inputs are numbered 0 to {u.size - 1}",
            )
        matrix[i, j] = matrix[j, i] = r
    _refuse_impossible(matrix, "correlations")
    scaled: Floats = matrix * np.outer(u, u)
    return scaled


def checked_covariance(covariance: ArrayLike, n: int) -> Floats:
    """A covariance matrix of n inputs, refused if it cannot be one.

    Parameters
    ----------
    covariance : products of the units of the inputs, shape (n, n), or shape (n,)
        A one-dimensional argument is taken as the variances of uncorrelated inputs.
    n : inputs

    Returns
    -------
    ndarray, shape (n, n)

    Raises
    ------
    InputError
        If the shape does not match, a number is not finite, a variance is negative, or the
        matrix is not symmetric or has correlations that cannot all be true together.

    Examples
    --------
    >>> checked_covariance([4.0, 9.0], 2).tolist()
    [[4.0, 0.0], [0.0, 9.0]]
    """
    given = np.asarray(covariance, dtype=np.float64)
    square = np.diag(given) if given.ndim == 1 else given
    if square.shape != (n, n):
        raise InputError(
            "needs one row and one column an input",
            where="covariance",
            value=given.shape,
            mend=f"Here that is {(n, n)}",
        )
    if not np.isfinite(square).all() or (np.diag(square) < 0).any():
        raise InputError(
            "must be finite, with variances of zero or more",
            where="covariance",
            value=square.tolist(),
            mend="Variances are standard uncertainties squared",
        )
    _refuse_impossible(correlation_matrix(square), "covariance")
    return square


def correlation_matrix(covariance: Floats) -> Floats:
    """Correlation coefficients of a covariance matrix.

    Parameters
    ----------
    covariance : products of the units, shape (n, n)

    Returns
    -------
    ndarray, shape (n, n)
        1 on the diagonal; 0 beside an exact quantity.

    Examples
    --------
    >>> correlation_matrix(np.array([[4.0, 3.0], [3.0, 9.0]])).tolist()
    [[1.0, 0.5], [0.5, 1.0]]
    """
    # Full correlation can cancel to a rounding error below zero.
    u = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    scale = np.outer(u, u)
    r: Floats = np.divide(covariance, scale, out=np.eye(len(u)), where=scale > 0)
    np.fill_diagonal(r, 1.0)
    return r


def _refuse_impossible(correlations: Floats, where: str) -> None:
    lopsided = np.abs(correlations - correlations.T).max(initial=0.0) > _ROUNDING
    if lopsided or np.linalg.eigvalsh(correlations).min(initial=0.0) < -_ROUNDING:
        raise InputError(
            "correlations that cannot all be true together",
            where=where,
            value=correlations.tolist(),
            mend="Check each coefficient; a matrix reads the same across its diagonal",
        )
