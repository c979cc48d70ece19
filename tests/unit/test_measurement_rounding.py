"""Rounding: two digits of the uncertainty, the value to match."""

import math

import pytest

from nearmark.errors import InputError
from nearmark.measurement.rounding import decimals_for, result_text, round_to, two_digits


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
        (-3.14159, 0.012, "-3.142 ± 0.012"),
        (0.0, 0.5, "0.00 ± 0.50"),
    ],
)
def test_a_result_is_printed_to_two_digits_of_its_uncertainty(value, u, text):
    assert result_text(value, u) == text


@pytest.mark.parametrize(
    ("u", "digits"), [(0.0999, "0.10"), (99.6, "100"), (1.25e-7, "0.00000012"), (9.95, "10")]
)
def test_two_digits_survive_rounding_up(u, digits):
    assert two_digits(u) == digits


def test_ties_go_to_the_even_digit_of_the_decimal_seen():
    assert str(round_to(2.675, 2)) == "2.68"
    assert str(round_to(2.665, 2)) == "2.66"


def test_an_uncertainty_of_rounding_size_can_still_be_printed():
    # 31 digits: more than the decimal module carries unless told to.
    assert result_text(1e25, 1e-5).startswith("10000000000000000000000000.0")
    assert str(round_to(6041.0, 320)).startswith("6041.000")


@pytest.mark.parametrize("u", [math.inf, math.nan, 0.0])
def test_what_has_no_digits_asks_for_no_decimals(u):
    assert decimals_for(u) == 0


@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
def test_what_is_not_a_number_is_not_printed_as_one(value):
    with pytest.raises(InputError, match="not a finite number"):
        result_text(value, 0.1)
