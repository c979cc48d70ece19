"""Budgets, coverage and rounding: what each row adds and how a result is printed."""

import math
from dataclasses import replace

import numpy as np
import pytest

from nearmark.errors import InputError, TooFewReadings, UnitError
from nearmark.measurement.budget import Budget, Component, grouped_contributions
from nearmark.measurement.coverage import coverage_factor, welch_satterthwaite
from nearmark.measurement.instruments import Instrument, Reading, checked_reading
from nearmark.measurement.rounding import decimals_for, result_text, round_to, two_digits
from nearmark.measurement.type_a import type_a

SCALE = Instrument("bench scale", "g", 0.1, capacity=6000)


def budget(*components, **more):
    return Budget("net mass", 100.0, "g", components, **more)


def test_independent_contributions_add_in_squares():
    assert budget(
        Component("a", 0, "g", 3.0), Component("b", 0, "g", 2.0, sensitivity=-2)
    ).standard_uncertainty == pytest.approx(5.0)


def test_full_correlation_of_opposite_signs_cancels():
    rows = (Component("gross", 0, "g", 2.0, 1), Component("tare", 0, "g", 2.0, -1))

    assert budget(*rows, correlations={("tare", "gross"): 1.0}).standard_uncertainty == 0


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


def test_tiny_units_do_not_underflow():
    assert welch_satterthwaite([(1e-90, 4.0), (1e-90, 4.0)]) == pytest.approx(8.0)


def test_no_contribution_has_infinite_degrees_of_freedom():
    assert math.isinf(welch_satterthwaite([]))
    assert math.isinf(welch_satterthwaite([(0.0, 2.0)]))


@pytest.mark.parametrize(
    ("value", "u", "text"),
    [
        # JCGM 100, 7.2.6: y = 10.05762 ohm with u = 27 mohm is rounded to 10.058 ohm.
        (10.05762, 0.0273, "10.058 ± 0.027"),
        (6040.87, 86.4, "6041 ± 86"),
        (6040.87, 864.0, "6040 ± 860"),
        (107.1, 0.0408, "107.100 ± 0.041"),
        (1.0, 0.0996, "1.00 ± 0.10"),
        (5.0, 0.0, "5 ± 0"),
    ],
)
def test_a_result_is_printed_to_two_digits_of_its_uncertainty(value, u, text):
    assert result_text(value, u) == text


@pytest.mark.parametrize(
    ("u", "digits"), [(0.0999, "0.10"), (99.6, "100"), (1.25e-7, "0.00000012")]
)
def test_two_digits_survive_rounding_up(u, digits):
    assert two_digits(u) == digits


def test_ties_go_to_the_even_digit_of_the_decimal_seen():
    assert str(round_to(2.675, 2)) == "2.68"
    assert str(round_to(2.665, 2)) == "2.66"
    assert decimals_for(float("inf")) == 0


def test_one_reading_has_no_scatter():
    with pytest.raises(TooFewReadings):
        type_a([1.0])
    assert Reading((61.2,), SCALE).type_a() is None


@pytest.mark.parametrize(
    ("indications", "kind"),
    [
        ((), InputError),
        ((0.0,), InputError),
        ((-1.0,), InputError),
        ((math.nan,), InputError),
        ((math.inf,), InputError),
        ((7000.0,), InputError),
        ((0.0612,), UnitError),
    ],
)
def test_what_no_scale_can_mean_is_refused(indications, kind):
    with pytest.raises(kind) as refusal:
        checked_reading(indications, SCALE, "sample 1")

    assert refusal.value.where == "sample 1"
    assert refusal.value.mend


def test_a_tared_scale_may_show_zero():
    assert checked_reading((0.0,), SCALE, "tare", zero_allowed=True).mean == 0


@pytest.mark.parametrize("change", [{"resolution": 0}, {"resolution": math.nan}, {"gain_u": -1}])
def test_an_impossible_instrument_is_refused(change):
    with pytest.raises(InputError, match="bench scale"):
        replace(SCALE, **change)
