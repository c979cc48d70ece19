"""Cups as people paste them: a number and grams on a line, or the grams alone."""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from nearmark.errors import InputError
from nearmark.site.common.forms import written_number

MAX_CUPS: Final = 500
_PARTS: Final = 2


def pasted_cups(text: str, *, first: int) -> list[tuple[str, Decimal]]:
    r"""Numbers and tares of pasted lines.

    ``text``: blank lines do not count; tab, semicolon or space between number and grams. ``first``:
    number of the first cup whose line has grams alone. Returns (number, tare in g). Raises
    InputError with the line, and what is there.

    >>> pasted_cups("7; 8,6\n8 8.7", first=1)
    [('7', Decimal('8.6')), ('8', Decimal('8.7'))]
    >>> pasted_cups("8.6\n8.7", first=41)
    [('41', Decimal('8.6')), ('42', Decimal('8.7'))]
    """
    found: dict[str, Decimal] = {}
    for row, line in _lines(text):
        parts = re.split(r"[\t;]\s*|\s+", line)
        if len(parts) == 1:
            _refuse_doubtful(line, row)
            parts = [str(first), line]
            first += 1
        if len(parts) != _PARTS:
            raise _refusal(row, line, "holds more than a number and grams", "Write it like 12 8.6")
        number, grams = parts
        if number in found:
            raise _refusal(row, line, f"is cup {number} a second time", "Keep one of the two")
        found[number] = _tare_g(grams, row)
    if not found:
        raise InputError("holds no cup", where="lines", mend="Write one a line, such as 12 8.6")
    return list(found.items())


def _lines(text: str) -> Iterator[tuple[int, str]]:
    lines = [(row, line.strip()) for row, line in enumerate(text.splitlines(), start=1)]
    lines = [(row, line) for row, line in lines if line]
    if len(lines) > MAX_CUPS:
        raise InputError("are too many", where="lines", value=len(lines), mend="500 at a time")
    yield from lines


def _refuse_doubtful(line: str, row: int) -> None:
    if "," in line and "." in line:
        raise _refusal(row, line, "may be a number and grams", "Put a space between the two")


def _tare_g(text: str, row: int) -> Decimal:
    try:
        tare_g = written_number(text)
    except InputError as refused:
        raise _refusal(row, text, refused.what, refused.mend) from refused
    if tare_g <= 0:
        raise _refusal(row, text, "must be above zero", "Weigh the cup empty")
    return tare_g


def _refusal(row: int, value: str, what: str, mend: str) -> InputError:
    return InputError(f"line {row}, {value[:40]}: {what}", where="lines", mend=mend)
