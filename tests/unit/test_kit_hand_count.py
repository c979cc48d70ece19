"""A count by hand, repeated, and whether two results agree."""

import math
from decimal import Decimal

import pytest

from nearmark.errors import InputError, ReadingsDisagree
from nearmark.kit import agreement, hand_count, net_mass
from nearmark.kit.key_warnings import Lack
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.measurement.row_notes import FullCounts
from nearmark.words.key_advice import advice_words
from nearmark.words.key_remarks import warning_words


def test_three_counts_give_their_mean_rounded_to_a_piece():
    # mean 412.333, sd 0.57735, u 0.33333; the allowance sqrt(412.333 * 0.0005 / 3) = 0.26215
    # is smaller; they agree (2 sqrt(2 * 412.333 * 0.0005) = 1.28): U = 1.95996 * 0.33333 = 0.65332
    result = hand_count([412, 412, 413])

    assert result.key == Decimal(412)
    assert result.u == pytest.approx(1 / 3)
    assert result.expanded_u == pytest.approx(0.65332, abs=1e-5)
    assert result.fit
    assert result.warnings == ()


def test_counts_that_all_agree_keep_the_allowance_for_miscounts():
    # sqrt(400 * 0.0005 / 2) = 0.31623, normal: U = 0.61981
    result = hand_count([400, 400])

    assert result.u == pytest.approx(0.31623, abs=1e-5)
    assert result.expanded_u == pytest.approx(0.61981, abs=1e-4)


def test_one_persons_count_is_never_fit_alone():
    # sqrt(10000 * 0.0005 + 0.05 * 10^2) = 3.16228: U = 6.198 of 10,000, far below the limit
    result = hand_count([10_000])

    assert result.u == pytest.approx(3.16228, abs=1e-5)
    assert result.relative_expanded_u < 0.001
    assert not result.fit
    assert result.missing is Lack.SECOND_COUNTER
    assert tuple(map(advice_words, result.advice)) == (
        "Let a second person count all pieces, without knowing the first count",
    )


def test_two_counts_of_one_person_are_one_persons():
    assert not hand_count([400, 400], counters=["Rowan", "Rowan"]).fit
    assert hand_count([400, 400], counters=["Rowan", "Sorrel"]).fit


def test_two_independent_counts_that_agree_settle_the_key_and_the_budget_says_so():
    # u = sd / sqrt(2) = 0.5, and the allowance sqrt(400.5 * 0.0005 / 2) = 0.316 is within: U 0.98
    result = hand_count([400, 401])

    assert result.fit
    assert result.expanded_u == pytest.approx(0.97998, abs=1e-5)
    assert result.budget.components[0].notes == (FullCounts(2, agree=True),)
    assert result.warnings == ()


def test_two_counts_that_differ_say_so_and_call_for_a_third():
    result = hand_count([400, 404])

    assert tuple(map(warning_words, result.warnings)) == (
        "the counts do not agree (400, 404): miscounts of single pieces explain 1 apart, not 4",
    )
    assert not result.fit  # t(1) = 12.7
    assert "let another person count all pieces" in advice_words(result.advice[0])


def test_counts_that_scatter_too_much_call_for_another_person():
    assert "let another person count all pieces" in advice_words(
        hand_count([400, 420, 390]).advice[0]
    )


def test_a_large_count_by_hand_is_pointed_at():
    assert any(
        "by weighing as well" in text
        for text in map(warning_words, hand_count([2500, 2500]).warnings)
    )


@pytest.mark.parametrize("count", [0, -3, 412.5, "412", None, 10**40])
def test_a_count_must_be_a_whole_number_above_zero(count):
    with pytest.raises(InputError, match="count 2: must be a whole number"):
        hand_count([412, count])


def test_no_count_at_all_is_refused():
    with pytest.raises(InputError, match="no count given"):
        hand_count([])


@pytest.mark.parametrize("limit", [0.0, 1.0, math.nan])
def test_an_impossible_limit_is_refused(limit):
    with pytest.raises(InputError, match="u_limit"):
        hand_count([400, 400], u_limit=limit)


def test_counts_far_apart_disagree():
    with pytest.raises(ReadingsDisagree, match="from 412 to 4120"):
        hand_count([412, 4120])


def test_results_agree_when_their_uncertainties_bridge_the_gap():
    found = agreement(hand_count([412, 413, 414]), hand_count([413, 413]))

    assert found.agrees
    assert found.e_n == 0
    assert found.apart == 0


def test_results_disagree_when_they_do_not():
    found = agreement(hand_count([412, 412]), hand_count([418, 418]))

    assert not found.agrees
    assert found.e_n > 1
    assert found.apart == 6
    # E_n = |a - b| / sqrt(U_a^2 + U_b^2): ISO 13528:2015 clause 9.7 (from memory)
    assert found.e_n == pytest.approx(6 / found.joint_u)


def test_agreement_does_not_depend_on_the_order():
    a, b = hand_count([412, 412, 413]), hand_count([415, 415])

    assert agreement(a, b) == agreement(b, a)


def test_pieces_and_grams_cannot_be_compared():
    scale = Instrument("bench scale", "g", 0.1)
    cup = net_mass(Reading((131.2,), scale), Reading((24.1,), scale))

    with pytest.raises(InputError, match="pieces cannot be compared with g"):
        agreement(hand_count([107]), cup)
