"""What the check character promises: no one-character slip and no exchange goes through."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nearmark.contest.pair_code import ALPHABET, SYMBOLS, check_character, read_pair_code
from nearmark.errors import InputError

CODE = st.text(ALPHABET, min_size=1, max_size=20)


def accepts(letters: str) -> bool:
    """Whether a string passes its own check, whichever pair it would be."""
    try:
        read_pair_code(letters, [letters[:-1]])
    except InputError:
        return False
    return True


@given(CODE)
def test_every_code_with_its_character_is_accepted(code):
    assert accepts(code + check_character(code))


@pytest.mark.slow
@given(CODE, st.data())
def test_every_wrong_character_is_caught(code, data):
    whole = code + check_character(code)
    at = data.draw(st.integers(0, len(whole) - 1))
    wrong = data.draw(st.sampled_from([s for s in SYMBOLS if s != whole[at]]))

    assert not accepts(whole[:at] + wrong + whole[at + 1 :])


@given(CODE, st.data())
def test_every_exchange_of_two_characters_is_caught(code, data):
    # Not only neighbours: 2 is a primitive root of 37, so weights differ up to 36 places apart.
    whole = list(code + check_character(code))
    first = data.draw(st.integers(0, len(whole) - 2))
    second = data.draw(st.integers(first + 1, len(whole) - 1))
    exchanged = list(whole)
    exchanged[first], exchanged[second] = exchanged[second], exchanged[first]

    assert exchanged == whole or not accepts("".join(exchanged))


@given(CODE, st.sampled_from(SYMBOLS))
def test_exactly_one_character_fits(code, symbol):
    assert accepts(code + symbol) == (symbol == check_character(code))
