"""Numbers as people type them on a command line, read strictly."""

import math
import re
from decimal import Decimal

from nearmark.errors import InputError

# Python's own float() would also take 1_000, nan, inf and Arabic-Indic digits.
_NUMBER = re.compile(r"[+-]?(\d{1,15}(\.\d{0,15})?|\.\d{1,15})([eE][+-]?\d{1,2})?", re.ASCII)
_WHOLE = re.compile(r"\d{1,12}", re.ASCII)


def decimal_number(text: str, where: str, unit: str = "") -> Decimal:
    """Read one number exactly as typed.

    ``where``: the option, for the message. ``unit``: unit the number is asked in, for the message.
    Raises InputError if it is not one plain, finite number with a decimal point.

    >>> decimal_number("61.2", "--gross", "g")
    Decimal('61.2')
    """
    stripped = text.strip()
    if not _NUMBER.fullmatch(stripped):
        mend = "Write a plain number with a decimal point"
        if re.fullmatch(r"\d+,\d+", stripped):
            mend = f"Use a decimal point: {stripped.replace(',', '.')}"
        if unit:
            mend += f", in {unit}"
        raise InputError("not a number", where=where, value=repr(text), mend=mend)
    return Decimal(stripped)


def number(text: str, where: str, unit: str = "") -> float:
    """Read one number as a float; see ``decimal_number``.

    >>> number("0.1", "--resolution")
    0.1
    """
    return float(decimal_number(text, where, unit))


def numbers(texts: tuple[str, ...], where: str, unit: str = "") -> tuple[float, ...]:
    """Read repeated readings: the option given several times, or separated by commas.

    Raises InputError if a part is not a number, or commas look like decimal commas.

    >>> numbers(("12.4,12.5", "12.4"), "--length", "cm")
    (12.4, 12.5, 12.4)
    """
    parts = [part for text in texts for part in text.split(",")]
    _refuse_decimal_commas(texts, where)
    return tuple(number(part, where, unit) for part in parts)


def _refuse_decimal_commas(texts: tuple[str, ...], where: str) -> None:
    """``12,4`` is two readings here; that it was meant as 12.4 shows in parts far too unlike."""
    for text in texts:
        parts = [p.strip() for p in text.split(",")]
        if len(parts) < 2 or not all(_NUMBER.fullmatch(p) for p in parts):
            continue
        sizes = [abs(float(p)) for p in parts]
        low, high = min(sizes), max(sizes)
        if high > 0 and (low == 0 or high / low > 1.5):
            raise InputError(
                "readings of one quantity, separated by commas, that are far apart",
                where=where,
                value=repr(text),
                mend="Write decimals with a point (12.4), readings with commas (12.4,12.5)",
            )


def whole_number(text: str, where: str) -> int:
    """Read a count of pieces.

    Raises InputError if it is not a whole number above zero.

    >>> whole_number("150", "--sample")
    150
    """
    stripped = text.strip()
    if not _WHOLE.fullmatch(stripped) or int(stripped) == 0:
        raise InputError(
            "pieces must be a whole number above zero",
            where=where,
            value=repr(text),
            mend="Write the pieces counted, such as 150",
        )
    return int(stripped)


def percent(text: str, where: str) -> float:
    """Read a percentage, with or without the sign, as a fraction of one.

    Returns: fraction, >= 0. Raises InputError if it is not a number from 0 to 100.

    >>> percent("1.5 %", "--limit")
    0.015
    """
    value = number(text.replace("%", ""), where, "percent")
    if not (math.isfinite(value) and 0 <= value <= 100):
        raise InputError(
            "must be between 0 and 100 percent",
            where=where,
            value=repr(text),
            mend="Write a number such as 1.5",
        )
    return float(decimal_number(text.replace("%", ""), where) / 100)
