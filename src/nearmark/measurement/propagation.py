"""The law of propagation of uncertainty, for one or several results of the same inputs.

Source: JCGM 100:2008 (GUM), clauses 5.1 and 5.2; several outputs: JCGM 102:2011, clause 6.2.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nearmark.errors import InputError

Floats = NDArray[np.float64]
Model = Callable[[Floats], ArrayLike]


@dataclass(frozen=True, slots=True)
class Propagated:
    """Results with their joint covariance.

    Attributes
    ----------
    values : units of the results, shape (m,)
    covariance : products of the units, shape (m, m)
    sensitivities : unit of the result per unit of the input, shape (m, n)
    """

    values: Floats
    covariance: Floats
    sensitivities: Floats

    @property
    def standard_uncertainties(self) -> Floats:
        """Standard uncertainties of the results, shape (m,)."""
        return np.sqrt(np.diag(self.covariance))

    @property
    def correlations(self) -> Floats:
        """Correlation coefficients of the results, shape (m, m)."""
        u = self.standard_uncertainties
        scale = np.outer(u, u)
        return np.divide(self.covariance, scale, out=np.eye(len(u)), where=scale > 0)


def covariance_matrix(
    uncertainties: Sequence[float], correlations: Sequence[tuple[int, int, float]] = ()
) -> Floats:
    """Covariance matrix from standard uncertainties and the correlations that are not zero.

    Parameters
    ----------
    uncertainties : units of the inputs, shape (n,), >= 0
    correlations : triples (i, j, r), r in [-1, 1]

    Returns
    -------
    ndarray, shape (n, n)

    Raises
    ------
    InputError
        If the coefficients cannot all be true together.

    Examples
    --------
    >>> covariance_matrix([2.0, 3.0], [(0, 1, 0.5)]).tolist()
    [[4.0, 3.0], [3.0, 9.0]]
    """
    matrix = np.eye(len(uncertainties))
    for i, j, r in correlations:
        matrix[i, j] = matrix[j, i] = r
    if np.linalg.eigvalsh(matrix).min() < -1e-9:
        raise InputError(
            "cannot all be true together", where="correlations", mend="Check each coefficient"
        )
    u = np.asarray(uncertainties, dtype=np.float64)
    return matrix * np.outer(u, u)


def propagate(model: Model, values: ArrayLike, covariance: ArrayLike) -> Propagated:
    """Propagate uncertainty through a model to first order.

    Parameters
    ----------
    model : function of the inputs, shape (n,), giving one result or shape (m,)
    values : units of the inputs, shape (n,)
    covariance : products of the units, shape (n, n), or standard uncertainties squared, shape (n,)
        A one-dimensional argument is taken as the variances of uncorrelated inputs.

    Returns
    -------
    Propagated

    Raises
    ------
    InputError
        If the shapes do not match, or the model gives no finite number at the inputs.

    References
    ----------
    JCGM 100:2008, equations (13) and (16); JCGM 102:2011, equation (3): ``C U C^T``.

    Examples
    --------
    >>> result = propagate(lambda x: x[0] / x[1], [10.0, 4.0], [0.01, 0.0])
    >>> result.values.tolist(), result.standard_uncertainties.round(4).tolist()
    ([2.5], [0.025])
    """
    x = np.asarray(values, dtype=np.float64)
    given = np.asarray(covariance, dtype=np.float64)
    square = np.diag(given) if given.ndim == 1 else given
    if square.shape != (x.size, x.size):
        raise InputError(
            "needs one row and column an input", where="covariance", value=square.shape
        )
    y = np.atleast_1d(np.asarray(model(x), dtype=np.float64))
    if not np.isfinite(y).all():
        raise InputError(
            "gives no finite number at these inputs", where="model", mend="Check the inputs"
        )
    slopes = sensitivities(model, x, np.sqrt(np.diag(square)))
    return Propagated(y, slopes @ square @ slopes.T, slopes)


def sensitivities(model: Model, values: ArrayLike, uncertainties: ArrayLike) -> Floats:
    """Partial derivatives of a model, by central differences with one Richardson step.

    The step is half a standard uncertainty, where the law of propagation needs the slope, but at
    least a ten-thousandth of the input, so that rounding stays small.

    Parameters
    ----------
    model : function of the inputs, shape (n,), giving one result or shape (m,)
    values : units of the inputs, shape (n,)
    uncertainties : units of the inputs, shape (n,)

    Returns
    -------
    ndarray, shape (m, n)
        Unit of the result per unit of the input.

    References
    ----------
    JCGM 100:2008, clause 5.1.3 and NOTE 2; error of the differences of fourth order in the step.

    Examples
    --------
    >>> sensitivities(lambda x: x[0] * x[1], [2.0, 5.0], [0.1, 0.1]).round(6).tolist()
    [[5.0, 2.0]]
    """
    x = np.asarray(values, dtype=np.float64)
    u = np.asarray(uncertainties, dtype=np.float64)
    steps = np.maximum(u / 2, 1e-4 * np.abs(x))
    # An exact input of zero has no natural scale; its slope is multiplied by zero anyway.
    steps[steps == 0] = 1e-6
    columns = [_slope(model, x, i, step) for i, step in enumerate(steps)]
    return np.stack(columns, axis=1)


def _slope(model: Model, x: Floats, i: int, step: float) -> Floats:
    def central(h: float) -> Floats:
        shift = np.zeros_like(x)
        shift[i] = h
        above = np.atleast_1d(np.asarray(model(x + shift), dtype=np.float64))
        below = np.atleast_1d(np.asarray(model(x - shift), dtype=np.float64))
        return (above - below) / (2 * h)

    result: Floats = (4 * central(step / 2) - central(step)) / 3
    return result
