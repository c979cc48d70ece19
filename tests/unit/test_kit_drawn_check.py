"""The line on a certificate that says what drawing found."""

import math

import numpy as np
import pytest
from scipy import stats

from nearmark.kit import Sample, box_volume, count_by_weighing
from nearmark.kit.drawn_check import MAX_DRAWS, drawn_check
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.words.key_remarks import drawn_words
from nearmark.words.results_json import drawn_as_json

FINE = Instrument("bench scale", "g", 1e-6)
NOISE = 0.02
"""Relative to u: ends of 100,000 draws scatter by 0.009 u for a normal law, twice that."""


def checked(*rows, half, value=100.0):
    return drawn_check(Budget("mass", value, "g", rows), (value - half, value + half))


def test_an_interval_that_drawing_finds_too_is_as_stated():
    found = checked(Component("one", 0, "g", 3.0), Component("two", 0, "g", 4.0), half=1.96 * 5)

    assert found.agrees
    assert drawn_words(found).endswith("g, as stated")
    assert found.interval == pytest.approx((100 - 9.8, 100 + 9.8), abs=5 * NOISE)


@pytest.mark.parametrize(
    ("half", "said"),
    [
        (15.0, "is wider by up to 5.2 g: that is on the safe side"),
        (5.0, "is narrower by up to 4.8"),
    ],
)
def test_a_disagreement_says_which_way_it_goes(half, said):
    found = checked(Component("one", 0, "g", 5.0), half=half)

    assert not found.agrees
    assert said in drawn_words(found)


def test_an_interval_that_lies_beside_the_drawn_one_is_told_so():
    found = drawn_check(Budget("m", 100, "g", (Component("one", 0, "g", 5.0),)), (85.0, 105.0))

    assert "is beside it" in drawn_words(found)


def test_rectangular_rows_are_drawn_as_rectangles():
    # Of one rectangle of half-width 1 the middle 95 % reach 0.95, where k u = 1.96 / sqrt(3).
    found = checked(Component("r", 0, "g", 1 / math.sqrt(3), 1, "rectangular"), half=1.131)

    assert found.interval == pytest.approx((99.05, 100.95), abs=0.005)
    assert "is wider" in drawn_words(found)


def test_a_cause_is_drawn_once_for_all_its_rows():
    over = Component("full", 0, "g", 3.0, cause="gain of scale")
    under = Component("empty", 0, "g", 2.0, -1.0, cause="gain of scale")

    assert checked(over, under, half=1.96).agrees


def test_rows_of_one_estimate_share_the_draw_of_its_scale():
    # Both of one estimate of two degrees of freedom: t(2) of 5 g, not two t of 3 and 4.
    rows = [Component(n, 0, "g", u, 1, "t", 2, "s") for n, u in (("one", 3.0), ("two", 4.0))]
    half = stats.t.ppf(0.975, 2) * 5

    found = checked(*rows, half=half, value=1000.0)

    assert found.interval == pytest.approx((1000 - half, 1000 + half), abs=0.3)


def test_a_count_whose_piece_mass_alone_is_unsure_has_the_interval_of_fieller():
    """The interval of the piece mass, turned over: by hand and by drawing."""
    masses = [60.9, 61.4, 61.9]
    result = count_by_weighing(
        [Sample(100, mass) for mass in masses], Reading((6500.0,), FINE), Reading((350.0,), FINE)
    )

    found = result.drawn_check

    assert found.interval == pytest.approx(result.interval, abs=0.05 * result.u)
    assert found.agrees


def test_a_box_is_drawn_as_a_product():
    ruler = Instrument("ruler", "cm", 0.5)
    result = box_volume(*(Reading((edge,), ruler) for edge in (4.0, 3.0, 3.0)))
    rng = np.random.default_rng(8)
    edges = np.array([4.0, 3.0, 3.0]) + rng.uniform(-0.25, 0.25, (400_000, 3))
    expected = np.quantile(edges.prod(axis=1), [0.025, 0.975])

    assert result.drawn_check.interval == pytest.approx(tuple(expected), abs=0.02 * result.u)


def test_the_same_budget_gives_the_same_line():
    rows = (Component("one", 0, "g", 3.0, dof=4),)
    once = checked(*rows, half=8.0)
    drawn_check.cache_clear()

    assert checked(*rows, half=8.0) == once


def test_the_json_has_the_draws_and_the_verdict():
    told = drawn_as_json(checked(Component("one", 0, "g", 5.0), half=9.8))

    assert told["agrees"] is True
    assert told["draws"] <= MAX_DRAWS
    assert told["interval"] == pytest.approx([90.2, 109.8], abs=0.2)
