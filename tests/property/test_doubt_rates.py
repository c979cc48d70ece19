"""Sound readings are seldom asked about, slips mostly; fixed seeds, ``benchmarks/doubts.py``."""

import numpy as np
import pytest

from benchmarks import doubts


@pytest.mark.slow
def test_of_800_sound_weigh_ins_at_most_2_in_100_are_asked_about():
    rng = np.random.default_rng(20_270_508)

    assert sum(doubts.weigh_in(rng) for _ in range(800)) <= 16


def test_of_100_sound_boxes_and_batches_of_cups_at_most_1_is_asked_about():
    rng = np.random.default_rng(1)

    assert sum(doubts.box(rng) for _ in range(100)) <= 1
    assert sum(doubts.cups(rng) for _ in range(100)) <= 1


def test_a_point_one_place_off_is_asked_about_in_every_weigh_in():
    rng = np.random.default_rng(1)
    slip = doubts.SLIPS["point one place off (42.9 for 4.29)"]

    assert all(doubts.weigh_in(rng, slip) for _ in range(40))


def test_75_for_100_is_asked_about_in_two_of_three_random_lots():
    rng = np.random.default_rng(1)
    slip = doubts.SLIPS["75 typed for 100"]

    assert sum(doubts.weigh_in(rng, slip, 100) for _ in range(60)) >= 40
