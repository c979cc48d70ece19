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


@pytest.mark.parametrize(
    "typed", ["P02-J", "P02J", "p02-j", " p02j ", "p2j", "P2-J", "p2", "2", "02"]
)
def test_the_sheet_s_code_is_read_however_it_is_typed(typed):
    assert read_pair_code(typed, ["P01", "P02", "P12"]) == "P02"


@pytest.mark.parametrize("typed", ["P08-9", "P079P", "p078", "P7-8", "P08-*"])
def test_a_wrong_check_letter_is_sent_back_to_the_sheet(typed):
    with pytest.raises(InputError, match=r"has a wrong check letter|is no pair"):
        read_pair_code(typed, CODES)


def test_a_wrong_check_character_is_told_apart_from_an_unknown_pair():
    with pytest.raises(InputError, match="has a wrong check letter") as refusal:
        read_pair_code(" P08-9 ", CODES)

    assert refusal.value.value == "P08-9"


@pytest.mark.parametrize("typed", ["P70-9", "PO7-9", "", "9", "-", "P0*-9", "\u03a9-1", "\u0667"])
def test_what_is_no_pair_is_refused(typed):
    with pytest.raises(InputError, match="is no pair of this event"):
        read_pair_code(typed, CODES)


def test_a_number_that_two_pairs_bear_is_not_guessed():
    with pytest.raises(InputError, match="could be two pairs"):
        read_pair_code("7", ["A7", "B7"])
    assert read_pair_code("b7", ["A7", "B7"]) == "B7"


def test_a_code_comes_before_a_short_way_to_write_another():
    codes = ["P1", "P01", "P11", with_check("P1").replace("-", "")]
    assert [read_pair_code(code, codes) for code in codes] == codes


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
