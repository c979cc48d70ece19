"""Which pair somebody means: its code, its number alone, or the checked code on its sheet."""

import re
from collections.abc import Collection

from nearmark.contest.pair_code import read_pair_code

_NUMBER = re.compile(r"\d+", re.ASCII)


def pair_meant(typed: str, codes: Collection[str]) -> str:
    """The code of a pair from what was typed at the scale.

    Parameters
    ----------
    typed : str
    codes : collection of str
        Of the event.

    Returns
    -------
    str
        What was typed, where it means no pair.

    Raises
    ------
    InputError
        If a check character was typed and does not fit.

    Examples
    --------
    >>> codes = ["P07", "P08"]
    >>> pair_meant("p07", codes), pair_meant("7", codes), pair_meant("P07-9", codes)
    ('P07', 'P07', 'P07')
    """
    plain = typed.strip()
    same = [code for code in codes if code.casefold() == plain.casefold()]
    if plain in codes or len(same) == 1:
        return plain if plain in codes else same[0]
    if _NUMBER.fullmatch(plain):
        numbered = [code for code in codes if _number(code) == int(plain)]
        return numbered[0] if len(numbered) == 1 else plain
    return read_pair_code(plain, codes) if "-" in plain else plain


def _number(code: str) -> int | None:
    found = _NUMBER.findall(code)
    return int(found[-1]) if found else None
