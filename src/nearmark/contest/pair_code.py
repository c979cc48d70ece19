"""A check character behind a pair's code, so that a code copied or keyed wrongly is caught.

ISO/IEC 7064, MOD 37-2: every character has a value (0 to 9, A to Z as 10 to 35, ``*`` as 36) and a
weight, a power of two that grows to the left; the sum must leave 1 when divided by 37.  As 37 is
prime and 2 one of its primitive roots, one wrong character, or two characters exchanged, always
change the remainder.  Capitals, spaces and hyphens do not matter.
"""

from collections.abc import Iterable
from typing import Final

from nearmark.errors import InputError

ALPHABET: Final = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SYMBOLS: Final = f"{ALPHABET}*"
"""Check characters: those of a code and, for the value 36, an asterisk."""

MODULUS: Final = 37
_IGNORED: Final = str.maketrans("", "", " -\N{NO-BREAK SPACE}")


def check_character(code: str) -> str:
    """The check character of a code.

    Parameters
    ----------
    code : str
        Letters A to Z and digits; spaces and hyphens do not count.

    Returns
    -------
    str
        One of ``0`` to ``9``, ``A`` to ``Z``, ``*``.

    Raises
    ------
    InputError
        If the code is empty or holds another character.

    References
    ----------
    ISO/IEC 7064:2003, clauses 6.1 (formula), 7.1 (recursive method), MOD 37-2 (clause numbers from
    its published table of contents); the steps as in *Guidelines for the Blood Transfusion Services
    in the UK*, annex 2 (opened).

    Examples
    --------
    >>> check_character("G123 498 654 321")
    'H'
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
    """A code as it stands on the paper: with its check character behind a hyphen.

    Parameters
    ----------
    code : str

    Returns
    -------
    str

    Raises
    ------
    InputError
        If the code cannot carry one.

    Examples
    --------
    >>> with_check("P07")
    'P07-9'
    """
    return f"{code}-{check_character(code)}"


def checked_codes(codes: Iterable[str]) -> dict[str, str]:
    """Every code as it stands on the paper.

    Parameters
    ----------
    codes : iterable of str

    Returns
    -------
    dict code -> code with its check character
        In the order given.

    Raises
    ------
    InputError
        If a code cannot carry one, or two differ in capitals, spaces and hyphens only.

    Examples
    --------
    >>> checked_codes(["P07", "P08"])
    {'P07': 'P07-9', 'P08': 'P08-7'}
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


def read_pair_code(typed: str, codes: Iterable[str]) -> str:
    """Which pair a typed or scanned code means.

    Parameters
    ----------
    typed : str
        As on the paper, with its check character.
    codes : iterable of str
        Codes of the pairs of the event.

    Returns
    -------
    str
        One of ``codes``.

    Raises
    ------
    InputError
        If the check character does not fit, or there is no such pair.

    Examples
    --------
    >>> read_pair_code("p079", ["P07", "P08"])
    'P07'
    """
    letters = _letters(typed)
    body, check = letters[:-1], letters[-1:]
    if not body or not set(body) <= set(ALPHABET) or check_character(body) != check:
        raise InputError(
            "does not fit its check character",
            where="pair code",
            value=repr(typed),
            mend="Read the whole code again from the sheet, with the sign behind the hyphen",
        )
    bearers = {_letters(code): code for code in codes}
    if body not in bearers:
        raise InputError(
            "is no pair of this event",
            where="pair code",
            value=repr(typed),
            mend="Look whether the sheet belongs to this event, or add the pair",
        )
    return bearers[body]


def _letters(code: str) -> str:
    return code.translate(_IGNORED).upper()
