"""Unlikely answers are asked about with the slip that would explain them."""

from decimal import Decimal
from fractions import Fraction

import pytest

from nearmark.contest.rules import StationRule
from nearmark.contest.unlikely import unlikely_answers

RULE = StationRule(lowest=Fraction(20), highest=Fraction(100_000))


def question(value, others=("14200", "15000", "21000", "9500")):
    estimates = [Decimal(v) for v in (*others, value)]
    return unlikely_answers(estimates, RULE)[-1]


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("17", "is that thousands?"),
        ("1450", "is a digit missing?"),
        ("145000", "is there a digit too many?"),
        ("14500000", "are three digits too many?"),
        ("250", "was it read well?"),
        ("0", "was it read well?"),
    ],
)
def test_the_likely_slip_is_named(value, words):
    assert question(value) == f"{value} is far from what the others wrote: {words}"


@pytest.mark.parametrize("value", ["3000", "14500", "60000"])
def test_a_wide_miss_is_no_slip(value):
    assert question(value) == ""


def test_with_few_answers_only_the_limits_of_the_rules_ask():
    assert unlikely_answers([Decimal(21), Decimal(9000)], RULE) == ("", "")
    assert unlikely_answers([Decimal(3), None], RULE) == (
        "3 is outside 20 to 100000: was it read well?",
        "",
    )


def test_a_limit_itself_is_inside():
    assert unlikely_answers([Decimal(20), Decimal(100_000)], RULE) == ("", "")


def test_five_times_the_median_is_asked_about_and_a_little_less_is_not():
    field = [Decimal(100)] * 4

    assert unlikely_answers([*field, Decimal(500)], RULE)[-1]
    assert unlikely_answers([*field, Decimal(499)], RULE)[-1] == ""
    assert unlikely_answers([*field, Decimal(20)], RULE)[-1]
    assert unlikely_answers([*field, Decimal(21)], RULE)[-1] == ""


def test_three_answers_are_a_field_and_zero_is_none_of_them():
    assert unlikely_answers([Decimal(v) for v in (100, 110, 900)], RULE)[-1]
    assert unlikely_answers([Decimal(v) for v in (0, 100, 900)], RULE)[1:] == ("", "")
