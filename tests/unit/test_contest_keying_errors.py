"""Numbers that may stand on the paper behind a keyed one."""

from decimal import Decimal

import pytest

from nearmark.contest.keying_errors import papers_behind


def test_a_digit_misread_shares_its_half_over_all_digits():
    papers = dict(papers_behind(Decimal(42)))

    # 2 digits x 9 others = 18; 43 can only be a misread digit
    assert papers[43.0] == pytest.approx(0.5 / 18)


def test_exchanged_neighbours_of_a_two_digit_number_have_one_paper():
    assert dict(papers_behind(Decimal(42)))[24.0] == pytest.approx(0.25)


def test_a_digit_left_out_and_a_digit_too_many_are_tried():
    papers = dict(papers_behind(Decimal(42)))

    # 442 may come of 42 by a 4 put before or after the 4: 2 of 30 insertions
    assert papers[442.0] == pytest.approx(0.125 * 2 / 30)
    assert papers[4.0] == pytest.approx(0.125 / 2)


def test_the_keyed_number_itself_is_no_error():
    assert 42.0 not in dict(papers_behind(Decimal(42)))


@pytest.mark.parametrize("keyed", ["7", "42", "1420", "131.2", "0.5", "11", "100"])
def test_probabilities_are_at_most_one_together(keyed):
    total = sum(chance for _, chance in papers_behind(Decimal(keyed)))

    assert 0.5 < total <= 1 + 1e-12


def test_the_decimal_point_is_never_misread():
    assert all(paper >= 0 for paper, _ in papers_behind(Decimal("131.2")))
