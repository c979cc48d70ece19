"""The 95 % intervals hold: simulated weigh-ins and boxes through the public functions."""

import pytest

from benchmarks.covering import box_holds, count_holds, coverage

DRAWS = 2000
NOISE = 2 * (0.95 * 0.05 / DRAWS) ** 0.5
"""Two binomial standard deviations of the share of intervals that hold: 0.97 %."""


@pytest.mark.slow
def test_between_94_and_96_of_a_hundred_intervals_of_boxes_hold():
    share, refused = coverage(box_holds, DRAWS, seed=20_260_314)

    assert refused == 0
    assert 0.94 - NOISE <= share <= 0.96 + NOISE


@pytest.mark.slow
def test_intervals_of_counts_hold_more_often_when_the_number_of_samples_is_fixed():
    """They are meant for weighing until it is fit, see ``test_kit_stopping``."""
    share, refused = coverage(count_holds, DRAWS // 8, seed=20_260_314)

    assert refused == 0
    assert share >= 0.95


@pytest.mark.slow
def test_readings_that_agree_by_the_care_of_the_reader_do_not_promise_too_much():
    share, _ = coverage(lambda rng: box_holds(rng, scatter_cm=(0.005, 0.02)), DRAWS // 2, seed=7)

    assert share >= 0.95
