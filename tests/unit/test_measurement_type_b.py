"""Specifications as standard uncertainties: against the integral of the distribution."""

import math

import pytest
from scipy.integrate import quad

from nearmark.errors import InputError
from nearmark.measurement.type_b import from_expanded, rectangular, resolution

HALF = 0.7


def test_the_standard_uncertainty_is_the_second_moment_of_its_density():
    variance, _ = quad(lambda x: x * x / (2 * HALF), -HALF, HALF)

    assert rectangular(HALF) == pytest.approx(math.sqrt(variance))


def test_a_step_reaches_half_of_itself_to_both_sides():
    assert resolution(0.1) == rectangular(0.05)


@pytest.mark.parametrize("evaluate", [rectangular, resolution, from_expanded])
@pytest.mark.parametrize("width", [-0.1, math.nan, math.inf])
def test_a_width_is_a_finite_number_without_a_sign(evaluate, width):
    with pytest.raises(InputError, match="zero or more"):
        evaluate(width)


@pytest.mark.parametrize("k", [0, -2, math.nan, math.inf])
def test_a_certificate_states_a_coverage_factor_above_zero(k):
    with pytest.raises(InputError, match="k = 2"):
        from_expanded(0.24, k)
