"""Budgets: what each row adds, what correlation and a shared estimate change."""

import math
from dataclasses import replace

import numpy as np
import pytest

from nearmark.errors import InputError
from nearmark.measurement.budget import Budget, Component, grouped_contributions, joined_causes
from nearmark.measurement.coverage import coverage_factor


def budget(*components, **more):
    return Budget("net mass", 100.0, "g", components, **more)


def test_independent_contributions_add_in_squares():
    assert budget(
        Component("a", 0, "g", 3.0), Component("b", 0, "g", 2.0, sensitivity=-2)
    ).standard_uncertainty == pytest.approx(5.0)


def test_two_rows_that_look_alike_both_count():
    alike = Component("reading", 0, "g", 1.0)

    assert budget(alike, alike).standard_uncertainty == pytest.approx(math.sqrt(2))


@pytest.mark.parametrize("size", [1e-200, 1e200])
def test_no_square_overflows_or_vanishes(size):
    both = budget(Component("a", 0, "g", 3 * size), Component("b", 0, "g", 4 * size))

    assert both.standard_uncertainty == pytest.approx(5 * size)
    assert both.share(both.components[0]) == pytest.approx(0.36)


def test_an_empty_budget_is_exact():
    assert budget().standard_uncertainty == 0
    assert budget().expanded_uncertainty == 0
    assert math.isinf(budget().dof)


def test_shares_add_to_one_and_nothing_shares_nothing():
    rows = (Component("a", 0, "g", 3.0), Component("b", 0, "g", 4.0))
    both = budget(*rows)

    assert [both.share(row) for row in rows] == pytest.approx([0.36, 0.64])
    nothing = Component("none", 0, "g", 0.0)
    assert budget(nothing).share(nothing) == 0


def test_a_value_of_zero_has_no_relative_uncertainty():
    assert math.isinf(
        replace(budget(Component("a", 0, "g", 1)), value=0).relative_expanded_uncertainty
    )


def test_rows_of_one_shared_estimate_do_not_add_their_degrees_of_freedom():
    # Twice the same variance estimate: the sum is known exactly as well as the one.
    shared = [Component(n, 0, "g", 1.0, dof=2, estimate="s") for n in "ab"]
    apart = [replace(row, estimate="") for row in shared]

    assert budget(*shared).dof == 2
    assert budget(*apart).dof == 4
    assert grouped_contributions(shared) == [(pytest.approx(math.sqrt(2)), 2)]


def test_shared_estimates_cover_and_added_ones_would_not():
    # y = a + b, each known with the standard deviation s from the same three readings.
    rng = np.random.default_rng(11)
    errors = rng.standard_normal(40_000) + rng.standard_normal(40_000)
    s = np.sqrt(rng.chisquare(2, 40_000) / 2)

    inside = {dof: np.mean(np.abs(errors) <= coverage_factor(dof) * s * 2**0.5) for dof in (2, 4)}

    # Three standard errors of a proportion of 0.95 in 40,000: 0.0033.
    assert inside[2] == pytest.approx(0.95, abs=0.0033)
    assert inside[4] < 0.93


def test_effective_degrees_match_the_scatter_of_the_estimated_variance():
    # What Welch and Satterthwaite match: dof = 2 mean^2 / variance of the estimate u^2 itself.
    rows = (
        Component("scatter", 0, "g", 3.0, dof=3, estimate="s"),
        Component("spread", 0, "g", 2.0, dof=3, estimate="s"),
        Component("other readings", 0, "g", 2.0, dof=6),
        Component("certificate", 0, "g", 1.0),
    )
    rng = np.random.default_rng(4)
    shared, other = (rng.chisquare(dof, 400_000) / dof for dof in (3, 6))
    estimated = (3**2 + 2**2) * shared + 2**2 * other + 1**2

    # Relative standard error of a variance of 400,000 skewed draws: about 0.5 %.
    matched = 2 * estimated.mean() ** 2 / estimated.var()
    assert budget(*rows).dof == pytest.approx(matched, rel=0.02)


@pytest.mark.parametrize(
    "change", [{"u": -1.0}, {"u": math.nan}, {"u": math.inf}, {"sensitivity": math.nan}]
)
def test_an_impossible_row_is_refused_by_name(change):
    with pytest.raises(InputError, match="component tare"):
        replace(Component("tare", 0, "g", 1.0), **change)


def test_a_row_without_degrees_of_freedom_is_refused():
    with pytest.raises(InputError, match="degrees of freedom"):
        _ = budget(Component("one reading", 0, "g", 1.0, dof=0)).dof


def test_rows_of_one_cause_add_with_their_signs():
    full = Component("full", 0, "g", 3.0, 1.0, cause="gain of scale")
    empty = Component("empty", 0, "g", 2.0, -1.0, cause="gain of scale")
    own = Component("reading", 0, "g", 1.0)

    found = budget(full, own, empty)

    assert found.standard_uncertainty == pytest.approx(math.sqrt((3 - 2) ** 2 + 1))
    assert [(c.name, c.sensitivity) for c in found.causes] == [("gain of scale", 1.0)]


def test_one_cause_is_one_estimate_with_the_degrees_of_freedom_of_the_worse_row():
    rows = [
        Component("one", 0, "g", 3.0, dof=2, cause="tare"),
        Component("two", 0, "g", 4.0, dof=9, cause="tare"),
    ]

    assert grouped_contributions(rows) == [(7.0, 2)]


def test_a_cause_that_cancels_says_nothing():
    rows = (
        Component("over", 0, "g", 3.0, 1.0, cause="gain"),
        Component("under", 0, "g", 3.0, -1.0, cause="gain"),
    )

    assert joined_causes(rows)[0].contribution == 0
    assert budget(*rows).causes == ()
