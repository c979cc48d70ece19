"""The score of one answer: exact, symmetric, refused when it means nothing."""

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import exact, score
from nearmark.errors import InputError

# Worked by hand: full marks within 1/20, zero from 4/5, so the span is 3/4.
SLOPED = RuleSet(free_within=Fraction(1, 20), zero_at=Fraction(4, 5))


@pytest.mark.parametrize(
    ("estimate", "points"),
    [("100", 100), ("105", 100), ("95", 100), ("180", 0), ("1000", 0), ("20", 0), ("142.5", 50)],
)
def test_a_rule_set_with_a_free_zone_falls_from_its_edge(estimate, points):
    assert score(Decimal(estimate), 100, SLOPED) == points


def test_the_cap_holds_the_best_answers_level():
    capped = RuleSet(highest_score=Fraction(95))

    assert score(99, 100, capped) == score(100, 100, capped) == 95
    assert score(90, 100, capped) == 90


def test_a_third_is_a_third():
    assert score(296, 300) == Fraction(296, 3)


def test_a_float_means_the_decimal_it_prints_as():
    assert exact(0.1, "answer") == exact(np.float64(0.1), "answer") == Fraction(1, 10)


def test_a_number_too_large_for_a_float_still_scores():
    assert score(10**400, 10**400) == 100


@pytest.mark.parametrize(
    ("estimate", "key"),
    [(-1, 100), (10, 0), (10, -5), (float("nan"), 100), (10, float("inf")), (Decimal("NaN"), 1)],
)
def test_what_cannot_be_scored_is_refused(estimate, key):
    with pytest.raises(InputError) as refusal:
        score(estimate, key)

    assert refusal.value.where in {"estimate", "true value"}
    assert refusal.value.mend


def test_a_key_below_one_is_a_key():
    assert score(Decimal("0.45"), Decimal("0.5")) == 90
