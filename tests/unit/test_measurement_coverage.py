"""Coverage factors and effective degrees of freedom at their edges."""

import math

import pytest

from nearmark.errors import InputError
from nearmark.measurement.coverage import coverage_factor, welch_satterthwaite


def test_tiny_units_do_not_underflow():
    assert welch_satterthwaite([(1e-90, 4.0), (1e-90, 4.0)]) == pytest.approx(8.0)


def test_huge_units_do_not_overflow():
    assert welch_satterthwaite([(1e200, 4.0), (1e200, 4.0)]) == pytest.approx(8.0)


def test_no_contribution_has_infinite_degrees_of_freedom():
    assert math.isinf(welch_satterthwaite([]))
    assert math.isinf(welch_satterthwaite([(0.0, 2.0)]))
    assert math.isinf(welch_satterthwaite([(1.0, math.inf)]))


def test_a_contribution_of_zero_needs_no_degrees_of_freedom():
    assert welch_satterthwaite([(1.0, 5.0), (0.0, 0.0)]) == 5.0


@pytest.mark.parametrize("dof", [1e10, 1e15, 1e300])
def test_very_many_degrees_of_freedom_are_as_good_as_infinite(dof):
    assert coverage_factor(dof) == pytest.approx(coverage_factor(math.inf), rel=1e-9)


def test_one_degree_of_freedom_is_the_cauchy_distribution():
    # Its quantile is tan(pi (p - 1/2)): exact, no table needed.
    assert coverage_factor(1, 0.95) == pytest.approx(math.tan(math.pi * 0.475), rel=1e-12)


def test_two_degrees_of_freedom_have_a_closed_form():
    # Two-sided level q: t = q sqrt(2 / (1 - q^2)).
    assert coverage_factor(2, 0.95) == pytest.approx(0.95 * math.sqrt(2 / (1 - 0.95**2)), rel=1e-12)


@pytest.mark.parametrize("dof", [0, -1, math.nan])
def test_no_degrees_of_freedom_have_no_factor(dof):
    with pytest.raises(InputError, match="degrees of freedom"):
        coverage_factor(dof)


@pytest.mark.parametrize("level", [0, 1, 95, -0.1, math.nan])
def test_a_level_is_a_probability(level):
    with pytest.raises(InputError, match=r"0\.95"):
        coverage_factor(5, level)


@pytest.mark.parametrize("u", [-1.0, math.nan, math.inf])
def test_an_impossible_contribution_is_refused_and_not_dropped(u):
    with pytest.raises(InputError, match="contribution"):
        welch_satterthwaite([(1.0, 5.0), (u, 5.0)])
