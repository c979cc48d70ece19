"""Sizes, limits and the draw of the paper audit."""

import pytest

from nearmark.contest.audit_sampling import (
    audit_outcome,
    drawn_sheets,
    sample_size,
    wrong_rate_limit,
    wrong_sheets_limit,
)
from nearmark.errors import InputError
from nearmark.words.paper_audit import drawn_at_random


def test_if_all_sheets_may_be_wrong_one_is_enough():
    assert sample_size(80, 80) == 1


@pytest.mark.parametrize("wrong", [0, 81, -1])
def test_a_number_of_wrong_sheets_out_of_range_is_refused(wrong):
    with pytest.raises(InputError, match=r"from 1 to the number of sheets \(80\)"):
        sample_size(80, wrong)


@pytest.mark.parametrize(("n_read", "n_wrong"), [(0, 0), (81, 0), (10, 11), (10, -1)])
def test_a_finding_that_cannot_be_is_refused(n_read, n_wrong):
    with pytest.raises(InputError):
        audit_outcome(80, n_read, n_wrong)


def test_reading_all_sheets_leaves_no_doubt_about_their_number():
    assert wrong_sheets_limit(80, 80, 3) == 3
    assert wrong_sheets_limit(80, 80, 0) == 0


def test_all_sheets_wrong_leaves_no_limit():
    assert wrong_rate_limit(5, 5) == 1


def test_the_finding_is_told_with_its_limit():
    assert drawn_at_random(audit_outcome(70, 20, 0)) == (
        "Of those drawn at random, 0 of 20 sheets were wrong: at 95 % confidence no more than 8 of "
        "all 70 (rate up to 13.9 %)."
    )


def test_a_code_keeps_its_lot_whoever_else_takes_part():
    codes = [f"P{i:02d}" for i in range(30)]
    drawn = drawn_sheets(codes, 10, seed=5)
    with_latecomer = drawn_sheets([*codes, "P99"], 10, seed=5)

    assert len(set(drawn) - set(with_latecomer)) <= 1


def test_another_seed_draws_other_sheets():
    codes = [f"P{i:02d}" for i in range(30)]

    assert drawn_sheets(codes, 10, seed=5) != drawn_sheets(codes, 10, seed=6)
