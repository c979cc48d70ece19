"""How numbers and names are written on a page."""

import math
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from nearmark.contest.scoring import points_text
from nearmark.printing.words import (
    day_text,
    dof_text,
    number_text,
    significant_text,
    wrappable,
)
from nearmark.words.numbers import ordinal, probability_text


@pytest.mark.parametrize(
    ("points", "decimals", "text"),
    [
        # Halves go to the even digit: 0.125 and 0.375 are exact halves of a hundredth.
        (Fraction(1, 8), 2, "0.12"),
        (Fraction(3, 8), 2, "0.38"),
        (Fraction(869, 3), 2, "289.67"),
        (Fraction(100), 0, "100"),
        (Fraction(0), 2, "0.00"),
        # 1/3 of 10^-6 above the half: a float of 17 digits would still see it, the text must too.
        (Fraction(1, 8) + Fraction(1, 10**20), 2, "0.13"),
    ],
)
def test_points_are_rounded_from_the_exact_value(points, decimals, text):
    assert points_text(points, decimals) == text


@pytest.mark.parametrize(
    ("number", "decimals", "text"),
    [
        (Decimal(9999), None, "9999"),
        (Decimal(10000), None, "10_000"),
        (Decimal("1234567.5"), None, "1_234_567.5"),
        (14312.4, -1, "14_310"),
        (-12345.0, 0, "-12_345"),
        (0.05, 1, "0.0"),  # an exact half of a tenth as it prints goes to the even digit
    ],
)
def test_thousands_are_set_apart_from_five_digits_on(number, decimals, text):
    assert number_text(number, decimals).replace("\N{NO-BREAK SPACE}", "_") == text


def test_a_probability_never_claims_certainty():
    assert [probability_text(p) for p in (0.0, 0.009, 0.01, 0.5, 0.99, 0.991, 1.0)] == [
        "< 1 %",
        "< 1 %",
        "1 %",
        "50 %",
        "99 %",
        "> 99 %",
        "> 99 %",
    ]


def test_a_small_uncertainty_is_written_out():
    assert significant_text(6.6666e-5) == "0.0000667"


def test_a_date_names_its_month():
    assert day_text(date(2027, 12, 1)) == "1 December 2027"


def test_degrees_of_freedom_taken_as_exact_get_the_sign():
    assert dof_text(math.inf) == "∞"


def test_the_teens_are_th():
    assert [ordinal(n) for n in (11, 12, 13, 111, 113)] == [
        "11th",
        "12th",
        "13th",
        "111th",
        "113th",
    ]


def test_an_unbroken_name_may_break_every_eighteen_characters():
    pieces = wrappable("x" * 60).split("\N{ZERO WIDTH SPACE}")

    assert "".join(pieces) == "x" * 60
    assert max(map(len, pieces)) == 18


def test_a_name_of_words_is_left_alone():
    name = "Saltmeadow End Primary School, upper class"

    assert wrappable(name) == name


def test_a_very_long_name_is_cut_with_an_ellipsis():
    assert wrappable("ab " * 100, 20) == "ab ab ab ab ab ab a…"
