"""The field's answers against the expected, as arrays."""

import math
from functools import partial

import numpy as np
import pytest
from scipy import integrate
from scipy.stats import norm

from nearmark.contest.field_doubts import field_doubts
from nearmark.contest.field_offset import (
    FieldBias,
    Offset,
    explain_offset,
    field_offsets,
)

USUAL = FieldBias(-0.4, 0.1, item_sd=0.05)


def alone(answers, key_u=0.0):
    (offset,) = field_offsets(answers[:, np.newaxis], [400], [key_u], USUAL)
    return offset


def test_seven_answers_are_too_few():
    assert alone(np.full(7, 0.0)) is None


def test_blanks_do_not_count_as_answers():
    answers = np.array([0.0] * 7 + [math.nan] * 20)

    assert alone(answers) is None


def test_the_keys_uncertainty_widens_the_comparison():
    answers = np.full(20, 0.3)

    # identical answers: the even spread of usual fields, the item's 0.05 and the key's 0.09 remain
    spread = 0.5 / math.sqrt(12) * math.sqrt(32 / 30)  # 31 levels at even steps
    assert alone(answers, 0.09).sd == pytest.approx(math.hypot(spread, 0.05, 0.09))


def test_an_unbiased_field_of_children_is_not_suspicious():
    rng = np.random.default_rng(2)

    assert abs(alone(rng.normal(0, 0.25, 40), 0.005).z) < 3


@pytest.mark.slow
@pytest.mark.parametrize("item", [0, 1, 2])
def test_an_item_is_expected_where_the_others_and_usual_fields_say(item):
    usual = FieldBias(-0.5, 0.1, steepest=-0.2, flattest=0.0, item_sd=0.08, size=500)
    sizes, key_u, middles = [400, 3000, 15_000], [0.01, 0.02, 0.005], [-0.05, -0.3, -0.5]
    others = [k for k in range(3) if k != item]

    def weighted(power, seen, slope, level):
        """Likelihood of the seen items times a power of the bias at the item."""
        bias = [level + slope * math.log(size / 500) for size in sizes]
        densities = (norm.pdf(middles[k], bias[k], math.hypot(0.08, key_u[k])) for k in seen)
        return math.prod(densities) * bias[item] ** power

    whole, first, second, all_three = (
        integrate.dblquad(partial(weighted, power, seen), -0.5, 0.1, -0.2, 0.0, epsrel=1e-4)[0]
        for power, seen in ((0, others), (1, others), (2, others), (0, range(3)))
    )
    variance = second / whole - (first / whole) ** 2

    offset = field_offsets(np.tile(middles, (9, 1)), sizes, key_u, usual)[item]

    density = math.exp(offset.log_density) / math.sqrt(2 * math.pi)
    assert offset.expected == pytest.approx(first / whole, abs=0.003)
    assert density == pytest.approx(all_three / whole, rel=0.05)
    assert offset.sd == pytest.approx(math.sqrt(0.08**2 + key_u[item] ** 2 + variance), rel=0.02)


def test_an_item_without_answers_enough_predicts_no_other():
    ratios = np.zeros((10, 2))
    ratios[:4, 1] = math.nan
    both = field_offsets(ratios, [400, 400], [0.0, 0.0], USUAL)

    assert both[1] is None
    assert both[0] == alone(ratios[:, 0])


def doubted(ratios):
    n = ratios.shape[1]
    found = field_doubts(ratios, [400] * n, [0.0] * n, [[]] * n, USUAL)
    return [doubt.is_doubted for doubt in found]


@pytest.mark.parametrize("n_items", [3, 4])
def test_one_item_against_the_others_is_doubted_and_does_not_pull_them_along(n_items):
    ratios = np.random.default_rng(3).normal(-0.1, 0.1, (30, n_items))
    ratios[:, 1] += 0.6

    assert doubted(ratios) == [j == 1 for j in range(n_items)]


def test_two_wrong_keys_are_both_doubted():
    ratios = np.random.default_rng(3).normal(-0.1, 0.1, (30, 5))
    ratios[:, 1] += 0.7
    ratios[:, 4] -= 1.5

    assert doubted(ratios) == [False, True, False, False, True]


def test_two_items_that_contradict_each_other_are_each_the_others_rival():
    usual = FieldBias(-1, 1, item_sd=0.05)
    ratios = np.tile([0.3, -0.3], (10, 1))

    one, other = field_doubts(ratios, [400, 400], [0.0, 0.0], [[], []], usual)

    assert one.is_doubted
    assert other.is_doubted
    assert (one.rivals, other.rivals) == ((1,), (0,))


def test_explanations_are_a_probability_distribution():
    right, slips, other = explain_offset(Offset(40, -0.8, 0.05, -0.12, 0.13), [0.7, -0.7, 2.3])

    assert right + sum(slips) + other == pytest.approx(1)


def test_an_offset_of_nothing_leaves_the_key_as_it_is():
    right, _, _ = explain_offset(Offset(40, -0.12, 0.05, -0.12, 0.13), [0.7, -0.7])

    assert right > 0.98


def test_an_offset_beyond_all_densities_is_still_explained():
    right, slips, other = explain_offset(Offset(40, -50.0, 0.05, -0.12, 0.05), [0.7])

    assert right + sum(slips) + other == pytest.approx(1)
    assert other == pytest.approx(1)
