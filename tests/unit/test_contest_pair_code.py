"""Check characters of pair codes: what is read, what is refused, and with which words."""

import pytest

from nearmark.contest.pair_code import check_character, checked_codes, read_pair_code, with_check
from nearmark.errors import InputError

CODES = ("P07", "P08", "fern-1")


@pytest.mark.parametrize("typed", ["P07-9", "p07-9", " P07 9 ", "P079", "P-0-7-9"])
def test_capitals_spaces_and_hyphens_do_not_matter(typed):
    assert read_pair_code(typed, CODES) == "P07"


def test_the_code_comes_back_as_the_event_writes_it():
    assert read_pair_code(with_check("fern-1").upper(), CODES) == "fern-1"


@pytest.mark.parametrize("typed", ["P08-9", "P70-9", "P07", "PO7-9", "", "9", "-", "P0*-9", "Ω-1"])
def test_a_wrong_code_is_sent_back_to_the_sheet(typed):
    with pytest.raises(InputError, match="does not fit its check character") as refusal:
        read_pair_code(typed, CODES)

    assert refusal.value.value == repr(typed)


def test_a_sheet_of_another_event_is_told_apart_from_a_slip():
    with pytest.raises(InputError, match="is no pair of this event"):
        read_pair_code(with_check("Q12"), CODES)


@pytest.mark.parametrize("code", ["", " - ", "Käfer", "P_1", "P07*", "٣"])
def test_a_code_beyond_letters_and_digits_is_refused_with_the_mend(code):
    with pytest.raises(InputError, match="letters A to Z and digits"):
        check_character(code)


def test_codes_that_paper_cannot_tell_apart_are_refused():
    with pytest.raises(InputError, match="would be read as 'P07' too") as refusal:
        checked_codes(["P07", "p-07"])

    assert refusal.value.value == repr("p-07")


def test_checked_codes_keep_their_order():
    assert list(checked_codes(["P09", "P02", "P05"])) == ["P09", "P02", "P05"]
