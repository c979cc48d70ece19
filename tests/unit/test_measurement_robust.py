"""Algorithm A at its edges: few values, equal values, wild values."""

import math

import pytest

from nearmark.errors import InputError, TooFewReadings
from nearmark.measurement.robust import robust_mean


@pytest.mark.parametrize("values", [[], [1.0]])
def test_one_value_has_no_scatter(values):
    with pytest.raises(TooFewReadings):
        robust_mean(values)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_not_a_number_is_refused(bad):
    with pytest.raises(InputError, match="finite"):
        robust_mean([1.0, bad])


def test_equal_values_scatter_by_nothing():
    result = robust_mean([7.0] * 5)

    assert (result.mean, result.standard_deviation, result.u, result.rounds) == (7.0, 0.0, 0.0, 0)


def test_two_values_are_not_pulled():
    # 1.5 s = 1.5 * 1.483 * 0.5 = 1.11 reaches both: 1.134 times the plain standard deviation.
    result = robust_mean([1.0, 2.0])

    assert result.mean == 1.5
    assert result.standard_deviation == pytest.approx(1.134 * math.sqrt(0.5))


def test_one_wild_value_among_equal_ones_is_no_scatter():
    result = robust_mean([5.0, 5.0, 5.0, 5.0, 5.0, 1e9])

    assert (result.mean, result.standard_deviation) == (5.0, 0.0)


def test_scatter_shows_although_more_than_half_agree():
    # The median distance from the median is zero, the scatter is not.
    result = robust_mean([5.0, 5.0, 5.0, 5.0, 6.0, 7.0, 8.0])

    assert 0.8 < result.standard_deviation < 2
    assert 5 < result.mean < 6.2


def test_how_wild_does_not_matter_although_more_than_half_agree():
    wild, wilder = (robust_mean([0, 0, 0, 0, 1, 1, w]) for w in (1e3, 1e9))

    assert wild.standard_deviation > 0
    assert wilder.mean == pytest.approx(wild.mean, rel=1e-9)
    assert wilder.standard_deviation == pytest.approx(wild.standard_deviation, rel=1e-9)


def test_the_result_stays_where_one_more_round_leaves_it():
    values = [9.9, 10.0, 10.1, 10.2, 99.0]
    result = robust_mean(values)

    reach = 1.5 * result.standard_deviation
    pulled = [min(max(x, result.mean - reach), result.mean + reach) for x in values]
    mean = sum(pulled) / 5
    assert mean == pytest.approx(result.mean, rel=1e-12)
    again = 1.134 * math.sqrt(sum((x - mean) ** 2 for x in pulled) / 4)
    assert again == pytest.approx(result.standard_deviation, rel=1e-10)


def test_a_large_common_offset_costs_no_digits_and_no_rounds():
    offset = 2.0**40
    plain = robust_mean([0.25, 0.5, 0.75, 1.0, 9.0])
    moved = robust_mean([offset + x for x in (0.25, 0.5, 0.75, 1.0, 9.0)])

    assert moved.standard_deviation == plain.standard_deviation
    assert moved.rounds == plain.rounds


def test_the_uncertainty_is_a_quarter_more_than_that_of_a_mean():
    result = robust_mean([1.0, 2.0, 3.0, 4.0])

    assert result.u == pytest.approx(1.25 * result.standard_deviation / 2)
