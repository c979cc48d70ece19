"""The law of propagation of uncertainty, for one or several results of the same inputs.

Source: JCGM 100:2008 (GUM), clauses 5.1 and 5.2; several outputs: JCGM 102:2011, clause 6.2.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nearmark.errors import InputError
from nearmark.measurement.covariance import checked_covariance, correlation_matrix

Floats = NDArray[np.float64]
Model = Callable[[Floats], ArrayLike]


@dataclass(frozen=True, slots=True, eq=False)
class Propagated:
    """Results with their joint covariance; the arrays are read-only.

    Attributes
    ----------
    values : units of the results, shape (m,)
    covariance : products of the units, shape (m, m)
    sensitivities : unit of the result per unit of the input, shape (m, n)
    """

    values: Floats
    covariance: Floats
    sensitivities: Floats

    def __post_init__(self) -> None:
        for array in (self.values, self.covariance, self.sensitivities):
            array.setflags(write=False)

    @property
    def standard_uncertainties(self) -> Floats:
        """Standard uncertainties of the results, shape (m,)."""
        # Full correlation can cancel to a rounding error below zero.
        return np.sqrt(np.maximum(np.diag(self.covariance), 0.0))

    @property
    def correlations(self) -> Floats:
        """Correlation coefficients of the results, shape (m, m); 0 beside an exact result."""
        return np.clip(correlation_matrix(self.covariance), -1.0, 1.0)


def propagate(
    model: Model, values: ArrayLike, covariance: ArrayLike, *, slopes: ArrayLike | None = None
) -> Propagated:
    """Propagate uncertainty through a model to first order.

    Parameters
    ----------
    model : function of the inputs, shape (n,), giving one result or shape (m,)
    values : units of the inputs, shape (n,)
    covariance : products of the units, shape (n, n), or standard uncertainties squared, shape (n,)
        A one-dimensional argument is taken as the variances of uncorrelated inputs.
    slopes : unit of the result per unit of the input, shape (m, n)
        Sensitivity coefficients when they are known; found numerically otherwise.

    Returns
    -------
    Propagated

    Raises
    ------
    InputError
        If the shapes do not match, the covariance is not one, or the model gives no finite number
        at the inputs or close by.

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
    square = checked_covariance(covariance, x.size)
    y = _finite_results(model, x)
    if slopes is None:
        c = sensitivities(model, x, np.sqrt(np.diag(square)))
    else:
        c = np.array(slopes, dtype=np.float64, ndmin=2)
        if c.shape != (y.size, x.size):
            raise InputError(
                "needs one row a result and one column an input",
                where="sensitivity coefficients",
                value=c.shape,
                mend=f"Here that is {(y.size, x.size)}",
            )
    return Propagated(y, c @ square @ c.T, c)


def sensitivities(model: Model, values: ArrayLike, uncertainties: ArrayLike) -> Floats:
    """Partial derivatives of a model, by central differences with one Richardson step.

    The step is a hundredth of the standard uncertainty: small beside what the result bends over,
    large beside rounding, which then adds a few 1e-14 of the result to its uncertainty.  It is at
    least a millionth of the input, so that an almost exact input has a sound slope, too.

    Parameters
    ----------
    model : function of the inputs, shape (n,), giving one result or shape (m,)
    values : units of the inputs, shape (n,)
    uncertainties : units of the inputs, shape (n,)

    Returns
    -------
    ndarray, shape (m, n)
        Unit of the result per unit of the input.

    Raises
    ------
    InputError
        If the model gives no finite number close to the inputs.

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
    steps = np.maximum(u / 100, 1e-6 * np.abs(x))
    # An exact input of zero has no natural scale; its slope is multiplied by zero anyway.
    steps[steps == 0] = 1e-6
    columns = [_slope(model, x, i, step) for i, step in enumerate(steps)]
    return np.stack(columns, axis=1)


def _slope(model: Model, x: Floats, i: int, step: float) -> Floats:
    def central(h: float) -> Floats:
        above, below = x.copy(), x.copy()
        above[i] += h
        below[i] -= h
        # The distance that was really stepped, after rounding.
        gap = float(above[i] - below[i])
        rise: Floats = _finite_results(model, above) - _finite_results(model, below)
        return rise / gap

    result: Floats = (4 * central(step / 2) - central(step)) / 3
    return result


def _finite_results(model: Model, x: Floats) -> Floats:
    y: Floats = np.array(model(x), dtype=np.float64, ndmin=1)
    if not np.isfinite(y).all():
        raise InputError(
            "gives no finite number at or close to these inputs",
            where="model",
            value=x.tolist(),
            mend="Check the inputs; at the edge of its range a model has no slope",
        )
    return y
