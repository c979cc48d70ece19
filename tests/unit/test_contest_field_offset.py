"""The field's answers against the expected, as arrays."""

import math

import numpy as np
import pytest

from nearmark.contest.field_offset import (
    FieldBias,
    Offset,
    between_items,
    explain_offset,
    field_offset,
)

USUAL = FieldBias(-0.12, 0.12)


def test_seven_answers_are_too_few():
    assert field_offset(np.full(7, 0.0), 0.0, USUAL) is None


def test_blanks_do_not_count_as_answers():
    answers = np.array([0.0] * 7 + [math.nan] * 20)

    assert field_offset(answers, 0.0, USUAL) is None


def test_the_keys_uncertainty_widens_the_comparison():
    answers = np.full(20, 0.3)

    # identical answers: only 0.12 and the key's 0.05 remain
    assert field_offset(answers, 0.05, USUAL).sd == pytest.approx(0.13)


def test_an_unbiased_field_of_children_is_not_suspicious():
    rng = np.random.default_rng(2)

    assert abs(field_offset(rng.normal(0, 0.25, 40), 0.005, USUAL).z) < 3


def test_one_item_against_two_others_is_judged_and_does_not_pull_them_along():
    rng = np.random.default_rng(3)
    ratios = rng.normal(-0.1, 0.1, (30, 3))
    ratios[:, 1] += 0.6

    offsets = between_items(ratios, [0.0] * 3, ())

    assert offsets[1].z > 3
    assert offsets[0] is None
    assert offsets[2] is None


def test_with_four_items_the_sound_ones_are_still_compared_with_each_other():
    rng = np.random.default_rng(3)
    ratios = rng.normal(-0.1, 0.1, (30, 4))
    ratios[:, 1] += 0.6

    offsets = between_items(ratios, [0.0] * 4, ())

    assert offsets[1].z > 3
    assert all(abs(offsets[j].z) < 3 for j in (0, 2, 3))


def test_an_item_already_suspect_is_not_compared_with():
    ratios = np.zeros((10, 3))

    offsets = between_items(ratios, [0.0] * 3, [0])

    assert offsets[0] is not None
    assert offsets[1] is None


def test_two_items_cannot_be_told_apart():
    assert between_items(np.zeros((10, 2)), [0.0, 0.0], ()) == [None, None]


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
