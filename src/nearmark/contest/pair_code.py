"""A check character behind a pair's code, so that a code copied or keyed wrongly is caught.

ISO/IEC 7064, MOD 37-2: every character has a value (0 to 9, A to Z as 10 to 35, ``*`` as 36) and a
weight, a power of two that grows to the left; the sum must leave 1 when divided by 37.  As 37 is
prime and 2 one of its primitive roots, one wrong character, or two characters exchanged, always
change the remainder.  Capitals, spaces and hyphens do not matter.
"""

import re
from collections.abc import Iterable
from typing import Final

from nearmark.errors import InputError

ALPHABET: Final = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SYMBOLS: Final = f"{ALPHABET}*"
"""Check characters: those of a code and, for the value 36, an asterisk."""

MODULUS: Final = 37
_IGNORED: Final = str.maketrans("", "", " -\N{NO-BREAK SPACE}")


def check_character(code: str) -> str:
    """The check character of a code: one of ``0`` to ``9``, ``A`` to ``Z``, ``*``.

    >>> check_character("G123 498 654 321")
    'H'

    Parameters
    ----------
    code : letters A to Z and digits; spaces and hyphens do not count

    Raises
    ------
    InputError : if the code is empty or holds another character

    References
    ----------
    ISO/IEC 7064:2003, clauses 6.1 (formula), 7.1 (recursive method), MOD 37-2 (clause numbers from
    its published table of contents); the steps as in *Guidelines for the Blood Transfusion Services
    in the UK*, annex 2 (opened).
    """
    letters = _letters(code)
    if not letters or not set(letters) <= set(ALPHABET):
        raise InputError(
            "cannot carry a check character",
            where="pair code",
            value=repr(code),
            mend="Use only the letters A to Z and digits, such as P07",
        )
    remainder = 0
    for letter in letters:
        remainder = (remainder + SYMBOLS.index(letter)) * 2 % MODULUS
    return SYMBOLS[(1 - remainder) % MODULUS]


def with_check(code: str) -> str:
    """A code as it is on the paper: with its check character behind a hyphen.

    >>> with_check("P07")
    'P07-9'

    Raises
    ------
    InputError : if the code cannot carry one
    """
    return f"{code}-{check_character(code)}"


def checked_codes(codes: Iterable[str]) -> dict[str, str]:
    """Every code, and the code with its check character as it is on the paper.

    >>> checked_codes(["P07", "P08"])
    {'P07': 'P07-9', 'P08': 'P08-7'}

    Raises
    ------
    InputError : if a code cannot carry one, or two differ in capitals, spaces and hyphens only
    """
    checked: dict[str, str] = {}
    bearers: dict[str, str] = {}
    for code in codes:
        checked[code] = with_check(code)
        other = bearers.setdefault(_letters(code), code)
        if other != code:
            raise InputError(
                f"would be read as {other!r} too",
                where="pair code",
                value=repr(code),
                mend="Codes must differ in more than capitals, spaces and hyphens",
            )
    return checked


def pair_spellings(codes: Iterable[str]) -> dict[str, str]:
    """Every way in which the code of a pair may be typed or scanned.

    Spelling (in capitals, without spaces) -> code; empty where a spelling means two pairs.  Where
    it is both a code and a shorter way to write another one, it means the code.

    >>> sorted(pair_spellings(["P02"]))
    ['2', 'P02', 'P02-J', 'P02J', 'P2', 'P2-J', 'P2J']
    """
    layers: tuple[dict[str, str], ...] = ({}, {}, {}, {})
    for code in codes:
        for layer, spellings in zip(layers, _spellings(code), strict=True):
            for spelling in spellings:
                layer[spelling] = code if layer.get(spelling, code) == code else ""
    found: dict[str, str] = {}
    for layer in reversed(layers):
        found |= layer
    return found


def _spellings(code: str) -> tuple[set[str], set[str], set[str], set[str]]:
    """Ways to write a code, the surest first."""
    plain, letters = _typed(code), _letters(code)
    if not letters or not set(letters) <= set(ALPHABET):
        return {plain}, set(), set(), set()
    check = check_character(code)
    short: set[str] = set()
    numbered = _NUMBERED.fullmatch(letters)
    if numbered:
        number = numbered[2].lstrip("0") or "0"
        stem = numbered[1] + number
        short = {number, stem, f"{stem}-{check}"}
        # P2 with the check character 1 is not P21.
        short |= set() if check.isdigit() else {f"{stem}{check}"}
    return {plain}, {f"{plain}-{check}"}, {letters, f"{letters}{check}"}, short


def read_pair_code(typed: str, codes: Iterable[str]) -> str:
    """Which of the codes a typed or scanned code means.

    >>> [read_pair_code(typed, ["P07", "P08"]) for typed in ("P07-9", "p079", "p7", "7")]
    ['P07', 'P07', 'P07', 'P07']

    Parameters
    ----------
    typed : as on the paper, with its check character; without it; or the number alone
    codes : codes of the pairs of the event

    Raises
    ------
    InputError : if the check character does not fit, there is no such pair, or it could be two
    """
    found = pair_spellings(codes)
    plain = _typed(typed)
    bare = plain.replace("-", "")
    spellings = [plain, bare, bare.lstrip("0") if _DIGITS.fullmatch(bare) else bare]
    means = next((found[spelling] for spelling in spellings if spelling in found), None)
    if means:
        return means
    if means is not None:
        what, mend = "could be two pairs", "Type the whole code as it is on the sheet"
    elif found.get(bare[:-1]) and ("-" in plain or not bare[-1].isdigit()):
        what = "has a wrong check letter"
        mend = "Read the whole code again from the sheet, with the sign behind the hyphen"
    else:
        what = "is no pair of this event"
        mend = "Read the code again from the sheet; if it is right, tell the lead"
    raise InputError(what, where="pair", value=typed.strip()[:20], mend=mend)


_DIGITS: Final = re.compile(r"[0-9]+")
_NUMBERED: Final = re.compile(r"([A-Z]+)([0-9]+)")


def _typed(text: str) -> str:
    return "".join(text.split()).upper()


def _letters(code: str) -> str:
    return code.translate(_IGNORED).upper()
