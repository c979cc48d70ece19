"""Propagation and covariance: slopes, given and found, and what is refused."""

import math

import numpy as np
import pytest

from nearmark.errors import InputError
from nearmark.measurement.covariance import checked_covariance, covariance_matrix
from nearmark.measurement.propagation import propagate, sensitivities

SLOPE = 1e-6
"""Relative; the bend of 1/x over a step of a hundredth of u, three times x in the worst case."""


@pytest.mark.parametrize(
    ("model", "derivative", "x", "u"),
    [
        (lambda x: 1 / x[0], lambda x: -1 / x**2, 1.0, 0.3),
        (lambda x: 1 / x[0], lambda x: -1 / x**2, 1.0, 3.0),  # two u reach over the pole
        (lambda x: np.log(x[0]), lambda x: 1 / x, 600.0, 5.0),
        (lambda x: np.exp(x[0]), np.exp, 20.0, 0.1),
        (lambda x: np.cos(x[0]), lambda x: -np.sin(x), 1.04446, 7.5e-4),
        (lambda x: x[0] ** 3, lambda x: 3 * x**2, 2.0, 0.0),  # exact input
        (lambda x: x[0] ** 3, lambda x: 3 * x**2, 2e-9, 1e-10),  # tiny unit
        (lambda x: x[0] + 1e3, lambda _: 1.0, 0.0, 0.1),  # no size of its own
    ],
)
def test_numeric_slopes_are_the_derivatives(model, derivative, x, u):
    assert sensitivities(model, [x], [u])[0, 0] == pytest.approx(derivative(x), rel=SLOPE)


def test_given_slopes_are_used_as_they_are():
    result = propagate(lambda x: x[0] * x[1], [2.0, 5.0], [0.01, 0.04], slopes=[5.0, 2.0])

    assert result.covariance.tolist() == [[pytest.approx(25 * 0.01 + 4 * 0.04)]]
    assert result.sensitivities.tolist() == [[5.0, 2.0]]


def test_given_and_found_slopes_agree_for_several_results():
    covariance = covariance_matrix([0.1, 0.2], [(0, 1, -0.4)])

    def model(x):
        return np.array([x[0] * x[1], x[0] - x[1]])

    found = propagate(model, [2.0, 5.0], covariance)
    given = propagate(model, [2.0, 5.0], covariance, slopes=[[5.0, 2.0], [1.0, -1.0]])

    assert found.covariance == pytest.approx(given.covariance, rel=SLOPE)


def test_a_difference_of_fully_correlated_inputs_is_exact():
    result = propagate(
        lambda x: x[0] - x[1], [3.3, 1.1], covariance_matrix([0.1, 0.1], [(0, 1, 1.0)])
    )

    assert result.standard_uncertainties[0] == pytest.approx(0, abs=1e-9)
    assert result.correlations.tolist() == [[1.0]]


def test_an_exact_result_is_correlated_with_nothing():
    result = propagate(lambda x: np.array([x[0], 7.0]), [1.0], [0.04])

    assert result.correlations.tolist() == [[1.0, 0.0], [0.0, 1.0]]


def test_results_cannot_be_written_over():
    result = propagate(lambda x: x[0], [1.0], [0.04])

    with pytest.raises(ValueError, match="read-only"):
        result.covariance[0, 0] = 0


@pytest.mark.parametrize(
    "covariance",
    [
        [1.0, 1.0, 1.0],
        [[1.0, 0.0]],
        [1.0, -1.0],
        [1.0, math.nan],
        [[1.0, 0.5], [0.4, 1.0]],
        [[1.0, 2.0], [2.0, 1.0]],
    ],
    ids=["shape", "not square", "negative", "not a number", "lopsided", "beyond one"],
)
def test_what_is_no_covariance_is_refused(covariance):
    with pytest.raises(InputError, match="covariance"):
        propagate(lambda x: x[0] + x[1], [1.0, 2.0], covariance)


def test_slopes_of_the_wrong_shape_are_refused():
    with pytest.raises(InputError, match="sensitivity"):
        propagate(lambda x: x[0] + x[1], [1.0, 2.0], [1.0, 1.0], slopes=[1.0])


@pytest.mark.parametrize("x", [-1.0, 1e-6], ids=["outside", "at the edge"])
def test_a_model_without_a_number_there_is_refused(x):
    def root(values):
        with np.errstate(invalid="ignore"):
            return np.sqrt(values[0])

    with pytest.raises(InputError, match="model"):
        propagate(root, [x], [1.0])


@pytest.mark.parametrize(
    ("uncertainties", "correlations"),
    [
        ([1.0, -1.0], []),
        ([1.0, math.inf], []),
        ([1.0, 1.0], [(0, 2, 0.5)]),
        ([1.0, 1.0], [(-1, 0, 0.5)]),
        ([1.0, 1.0], [(0, 0, 0.5)]),
        ([1.0, 1.0], [(0, 1, 1.5)]),
        ([1.0, 1.0], [(0, 1, math.nan)]),
        ([1.0, 1.0, 1.0], [(0, 1, 0.9), (1, 2, 0.9), (0, 2, -0.9)]),
    ],
)
def test_correlations_that_cannot_be_are_refused(uncertainties, correlations):
    with pytest.raises(InputError):
        covariance_matrix(uncertainties, correlations)


def test_units_of_very_different_size_hide_no_impossible_correlation():
    u = np.array([1e6, 1e-6])

    with pytest.raises(InputError, match="together"):
        checked_covariance([[1.0, 1.1], [1.1, 1.0]] * np.outer(u, u), 2)
