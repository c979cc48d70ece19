"""What a correction does to places and totals."""

from fractions import Fraction

import pytest

from nearmark.contest.audit_findings import audit_findings, rolled_seed
from nearmark.contest.place_changes import Standing, place_changes
from nearmark.errors import InputError
from nearmark.words.paper_audit import findings_sentences
from nearmark.words.place_changes import change_words


def standing(code: str, place: int | None, total: int) -> Standing:
    return Standing(code, "North", place, Fraction(total, 3))


def test_those_who_stay_are_not_named():
    before = (standing("P1", 1, 9), standing("P2", 2, 8), standing("P3", 3, 7))
    after = (standing("P1", 1, 9), standing("P3", 2, 9), standing("P2", 3, 8))

    changes = place_changes(before, after)

    assert [(c.code, c.before.place, c.after.place) for c in changes] == [
        ("P3", 3, 2),
        ("P2", 2, 3),
    ]


def test_another_total_with_the_same_place_is_a_change_of_no_place():
    (change,) = place_changes([standing("P1", 1, 9)], [standing("P1", 1, 12)])

    assert not change.is_of_place
    assert change_words(change, 1) == "P1: place 1 as before; 3.0 points before, 4.0 now"


def test_a_pair_that_is_gone_or_new_is_named():
    changes = place_changes([standing("P1", 1, 9)], [standing("P2", 1, 9)])

    assert [change_words(c, 0) for c in changes] == [
        "P2: place none before, 1 now; no points before, 3 now",
        "P1: place 1 before, none now; 3 points before, no now",
    ]


def test_a_standing_reads_back_equal():
    for kept in (standing("P1", 1, 10), standing("P2", None, 0)):
        assert Standing.from_json(kept.as_json()) == kept


def test_a_sheet_in_both_lists_is_counted_once_read_or_not():
    found = audit_findings(("P1", "P2"), ("P3",), {"P1": True, "P3": False}, n_others=5)

    assert (found.n_listed, found.n_read, found.n_wrong) == (3, 2, 1)
    assert found.unread == ("P2",)
    assert (found.n_sample_read, found.n_sample_wrong) == (1, 1)
    assert not found.must_read_all


def test_two_wrong_sheets_call_for_all():
    found = audit_findings(("P1", "P2"), (), {"P1": False, "P2": False}, n_others=0)

    assert "read all sheets again" in findings_sentences(found)[1]


@pytest.mark.parametrize(
    "rolls", ["", "12345", "1234567", "0" * 6, "1" * 13, "1,2,3,4,5,6", "-12345"]
)
def test_only_dice_are_a_seed(rolls):
    with pytest.raises(InputError):
        rolled_seed(rolls)
