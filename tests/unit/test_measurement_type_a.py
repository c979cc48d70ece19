"""Repeated readings: mean, scatter and their edges."""

import math
import statistics
from fractions import Fraction

import pytest

from nearmark.errors import InputError, TooFewReadings
from nearmark.measurement.type_a import type_a


@pytest.mark.parametrize("readings", [[], [1.0]])
def test_one_reading_has_no_scatter(readings):
    with pytest.raises(TooFewReadings) as refusal:
        type_a(readings)

    assert refusal.value.got == len(readings)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_not_a_number_is_refused_with_its_place(bad):
    with pytest.raises(InputError, match="number 2"):
        type_a([1.0, bad, 2.0])


def test_equal_readings_scatter_by_nothing():
    result = type_a([0.1] * 7)

    assert result.standard_deviation == 0
    assert result.mean == 0.1


@pytest.mark.parametrize("offset", [0.0, 1e6, 1e12])
def test_a_large_common_offset_costs_no_digit_of_the_scatter(offset):
    # Exact with fractions of the very doubles given; the mean, 7/12, is not a double.
    readings = [offset + x for x in (0.25, 0.5, 1.0)]
    exact = statistics.variance([Fraction(x) for x in readings])

    assert type_a(readings).standard_deviation == pytest.approx(math.sqrt(exact), rel=1e-14)


def test_the_uncertainty_of_the_mean_halves_with_four_times_the_readings():
    once, fourfold = type_a([1.0, 2.0] * 5), type_a([1.0, 2.0] * 20)

    assert fourfold.u / fourfold.standard_deviation == pytest.approx(
        once.u / once.standard_deviation / 2
    )


@pytest.mark.parametrize("readings", [[61.2, 61.2, 61.2], [61.2, 61.9, 60.8]])
def test_the_mean_is_the_double_nearest_to_the_exact_mean(readings):
    # The sum divided by three rounds twice and misses by one last bit.
    exact = float(statistics.mean([Fraction(x) for x in readings]))

    assert type_a(readings).mean == exact
