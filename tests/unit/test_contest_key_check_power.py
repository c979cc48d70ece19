"""A small part of ``benchmarks/key_check.py`` with a fixed seed: false alarms and power."""

import math

import numpy as np
import pytest

from nearmark.contest.field_doubts import field_doubts
from nearmark.contest.key_check import DEFAULT_BIAS
from nearmark.station import Station

pytestmark = pytest.mark.slow

SIZES = np.array([420, 2900, 14_300])
N_PAIRS = 49


def doubted(percent, factors, n_items=3, n_fields=60):
    """Which keys are doubted, shape (n_fields, n_items); invented fields as in the benchmark."""
    rng = np.random.default_rng(11)
    found = []
    for _ in range(n_fields):
        item = np.log1p(np.array(percent) / 100) + rng.normal(0, 0.07, 3)
        pair = rng.normal(0, 0.2, (N_PAIRS, 1))
        x = (item + pair + rng.normal(0, 0.35, (N_PAIRS, 3)) - np.log(factors))[:, :n_items]
        sizes = (SIZES * factors)[:n_items].tolist()
        checks = field_doubts(
            x, sizes, [0.005] * n_items, [[]] * n_items, DEFAULT_BIAS[Station.COUNT]
        )
        found.append([check.is_doubted for check in checks])
    return np.array(found)


@pytest.mark.parametrize("n_items", [1, 2, 3])
@pytest.mark.parametrize(
    "percent", [(-11, -11, -11), (-40, -40, -40), (-5, -21, -34), (-5, -28, -45)]
)
def test_sound_keys_are_seldom_doubted(percent, n_items):
    # At most 2 % an item: 2.4 of 120; seven or more would come once in 70 by chance at 2 %.
    assert doubted(percent, np.ones(3), n_items, n_fields=120).sum(axis=0).max() < 7


@pytest.mark.parametrize("item", [0, 1, 2])
def test_a_key_ten_times_too_large_is_doubted_and_no_other(item):
    factors = np.ones(3)
    factors[item] = 10

    found = doubted((-11, -11, -11), factors)

    assert found[:, item].mean() >= 0.99
    assert np.delete(found, item, axis=1).mean() <= 0.02


def test_a_key_at_half_is_found_in_most_fields():
    for percent in ((-11, -11, -11), (-5, -21, -34)):
        shares = [
            doubted(percent, np.where(np.arange(3) == item, 0.5, 1))[:, item].mean()
            for item in range(3)
        ]

        assert np.mean(shares) >= 0.9


def test_an_error_of_a_quarter_hides_and_the_words_must_say_so():
    shares = [
        doubted((-11, -11, -11), np.where(np.arange(3) == item, 1.25, 1))[:, item].mean()
        for item in range(3)
    ]

    assert math.fsum(shares) / 3 < 0.5
