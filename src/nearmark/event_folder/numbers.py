"""Numbers as people and spreadsheets write them: read exactly, or refused with what to do."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from nearmark.errors import InputError

MAX_CHARACTERS = 30
MAX_SIZE = 10**12
"""Far above any count, mass or volume here, and safe for every later calculation."""

_PLAIN = re.compile(r"\d+(?:([.,])(\d+))?", re.ASCII)
_GROUPED = re.compile(r"\d[\d.,'_\s\u2019]*\d", re.ASCII)
_SCIENTIFIC = re.compile(r"[-+]?[\d.,]+e[-+]?\d+", re.ASCII | re.IGNORECASE)
_WITH_UNIT = re.compile(r"(\d+(?:[.,]\d+)?)\s*[^\W\d]\S*", re.ASCII)


@dataclass(slots=True)
class NumberStyle:
    """How one file writes its numbers; the mark that most of them have decides for all."""

    # What is between the cells; a decimal comma is possible only when it is not the comma.
    separator: str
    # The cell being read.
    row: int = 0
    column: str = ""
    # Decimal mark in use and the first row with it; empty until one was seen.
    mark: str = ""
    mark_row: int = 0
    # The first number, such as 1,234, whose mark could also group thousands ((row, column, cell) or
    # None).
    doubt: tuple[int, str, str] | None = None
    sure: bool = False  # whether a number was seen whose mark can only be a decimal mark

    def settle(self, cells: Iterable[tuple[int, str]]) -> None:
        """Take the decimal mark that most numbers of the file have; none where it is a tie.

        ``cells`` (row, cell): where cells are separated by commas there is no choice.
        """
        if self.separator == ",":
            return
        rows: dict[str, list[int]] = {}
        for row, cell in cells:
            match = _PLAIN.fullmatch(cell)
            if match and match[1] and _is_sure(cell, match[2]):
                rows.setdefault(match[1], []).append(row)
        most = sorted(rows, key=lambda mark: len(rows[mark]))
        if most and (len(most) == 1 or len(rows[most[0]]) < len(rows[most[1]])):
            self.mark, self.mark_row = most[-1], rows[most[-1]][0]

    def decimal(self, cell: str) -> Decimal:
        """The number of a cell, exactly as written."""
        match = _plain(cell)
        mark = match[1]
        if mark is None:
            return Decimal(cell)
        self._hold_to(mark, cell)
        if _is_sure(cell, match[2]):
            self.sure = True
        elif self.doubt is None and self.separator != ",":
            self.doubt = (self.row, self.column, cell)
        return Decimal(cell.replace(",", "."))

    def whole(self, cell: str) -> int:
        """The whole number of a cell."""
        match = _plain(cell)
        if match[1] is not None:
            raise InputError(
                "must be a whole number",
                mend=f"Write {cell.replace(match[1], '')} if the mark groups thousands",
            )
        return int(cell)

    def _hold_to(self, mark: str, cell: str) -> None:
        if mark == "," == self.separator:
            raise InputError(
                "has a comma inside the number in a file whose cells are separated by commas",
                mend=f"Write {cell.replace(',', '.')} or {cell.replace(',', '')}",
            )
        if not self.mark:
            self.mark, self.mark_row = mark, self.row
        if mark != self.mark:
            other = "comma" if self.mark == "," else "point"
            raise InputError(
                f"has another decimal mark than row {self.mark_row}, which has a {other}",
                mend=f"Write {cell.replace(mark, self.mark)}"
                + (
                    ""
                    if _is_sure(cell, cell.partition(mark)[2])
                    else f" or {cell.replace(mark, '')}"
                ),
            )


def _is_sure(cell: str, decimals: str) -> bool:
    """Whether the mark of a number can only be a decimal mark, and not one between thousands."""
    return len(decimals) != 3 or len(cell) > 7 or cell.startswith("0")


def _plain(cell: str) -> re.Match[str]:
    match = _PLAIN.fullmatch(cell)
    if match is None:
        raise _refused(cell)
    if len(cell) > MAX_CHARACTERS:
        raise InputError("is too long for a number", mend=f"At most {MAX_CHARACTERS} characters")
    if len(cell) > 12 and int(cell.partition(match[1] or ".")[0]) >= MAX_SIZE:
        raise InputError("is larger than anything at a contest", mend="Check the digits")
    return match


def _refused(cell: str) -> InputError:
    """Say why a cell is not a plain number."""
    if cell[0] in "-\u2212":
        return InputError("must not be below zero", mend="Check the sign")
    if cell[0] == "+":
        return InputError("has a sign", mend="Write the digits only")
    if _SCIENTIFIC.fullmatch(cell):
        return InputError(
            "is in scientific notation, which may have lost digits",
            mend="Give the column a plain number format and write every digit",
        )
    if _GROUPED.fullmatch(cell):
        return InputError(
            "has a thousands separator",
            mend="Write the digits without it: 12345 or 12345.6",
        )
    unit = _WITH_UNIT.fullmatch(cell)
    if unit:
        return InputError(
            "holds more than the number", mend=f"The heading says the unit; write {unit[1]}"
        )
    return InputError("is not a number", mend="Write digits, such as 12 or 12.4")


def shown(value: Decimal | int | None) -> str:
    """The cell for a number: every digit, no exponent; empty for none.

    ``value``: any unit.

    >>> shown(Decimal("12.40")), shown(Decimal("6.04E+3")), shown(None)
    ('12.40', '6040', '')
    """
    if value is None:
        return ""
    number = Decimal(value)
    # An absurd exponent stays one, which reading refuses: written out it would fill the memory.
    return f"{number:f}" if abs(number.adjusted()) < 2 * MAX_CHARACTERS else str(number)
