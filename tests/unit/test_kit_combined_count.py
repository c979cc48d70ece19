"""A count by weighing and a count by hand of the same pieces."""

import math
from dataclasses import replace
from decimal import Decimal

import pytest

from nearmark.errors import ReadingsDisagree
from nearmark.kit import Sample, combined_count, count_by_weighing, hand_count
from nearmark.kit.key_warnings import Lack
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.measurement.row_notes import FullCounts, WeighingAgrees
from nearmark.words.key_advice import advice_words

SCALE = Instrument("bench scale", "g", 0.1)


def weighed(pieces=342, n_samples=3):
    """Cubes of 1 g in samples of 40; the container holds that many."""
    samples = [Sample(40, 40.0 + 0.1 * (i % 3 - 1)) for i in range(n_samples)]
    return count_by_weighing(samples, Reading((100.0 + pieces,), SCALE), Reading((100.0,), SCALE))


def test_two_who_agree_settle_the_key_and_the_weighing_is_their_check():
    # found on a day: 342 twice by hand and 342 by weight, and still "not fit, 1.5 %"
    alone = weighed()
    joined = combined_count(alone, hand_count([342, 342]))

    assert not alone.fit
    assert joined.fit
    assert joined.key == Decimal(342)
    assert joined.u == pytest.approx(math.sqrt(342 * 0.0005 / 2))
    assert joined.method == "count by hand, checked by weighing"
    counts, weighing = joined.budget.components[0].notes
    assert counts == FullCounts(2, agree=True)
    assert isinstance(weighing, WeighingAgrees)
    assert (weighing.weighed, weighing.expanded_u) == (alone.value, alone.expanded_u)


def test_one_persons_count_and_a_weighing_are_weighted_by_their_variances():
    by_scale, by_hand = weighed(340, 6), hand_count([342])
    joined = combined_count(by_scale, by_hand)

    # u by hand sqrt(342 * 0.0005 + 0.05 * 100) = 2.27398
    weight = by_scale.u**-2 / (by_scale.u**-2 + 2.27398**-2)
    assert joined.value == pytest.approx(weight * by_scale.value + (1 - weight) * 342)
    assert joined.u == pytest.approx((by_scale.u**-2 + 2.27398**-2) ** -0.5, rel=1e-5)
    assert joined.u < min(by_scale.u, by_hand.u)
    names = [row.name for row in joined.budget.components]
    assert names == ["count by weighing", "count by hand"]
    assert joined.missing is None
    assert joined.interval == (joined.value - joined.expanded_u, joined.value + joined.expanded_u)


def test_a_weighing_too_rough_to_check_leaves_one_persons_count_unfit():
    rough = weighed(10_000, 2)
    joined = combined_count(rough, hand_count([10_000]))

    assert rough.relative_expanded_u > 0.03
    assert joined.relative_expanded_u < 0.01
    assert not joined.fit
    assert joined.missing is Lack.SECOND_COUNTER
    assert advice_words(joined.advice[0]).startswith("Let a second person count")


def test_a_weighing_that_is_fit_stays_so_with_a_count_that_agrees():
    by_scale = weighed(5_000, 30)
    joined = combined_count(by_scale, hand_count([5_001]))

    assert by_scale.fit
    assert joined.fit
    assert joined.advice == ()


def test_counts_that_disagree_are_not_averaged():
    with pytest.raises(ReadingsDisagree, match="They do not agree: 40 pieces apart") as caught:
        combined_count(weighed(342, 6), hand_count([382, 382]))

    assert caught.value.where == "the weighed count and the count by hand"


def test_the_rows_of_two_counts_are_the_two_counts():
    by_scale, by_hand = weighed(340, 6), hand_count([342])
    rows = combined_count(by_scale, by_hand).budget.components

    assert [row.unit for row in rows] == ["pieces", "pieces"]
    assert [row.dof for row in rows] == [by_scale.budget.dof, by_hand.budget.dof]
    assert [row.distribution for row in rows] == ["normal", "normal"]
    assert [row.u for row in rows] == [by_scale.u, by_hand.u]


def test_two_counts_are_fit_by_the_limit_of_the_weighing():
    strict = replace(weighed(340, 6), u_limit=0.001)
    joined = combined_count(strict, hand_count([342]))

    assert joined.u_limit == 0.001
    assert not joined.fit
