"""The elements of a workbook's parts, counted before the workbook is read.

The library makes an object of every cell, style and run of text: a file of 150 kB kept it busy for
17 s.  Counting with the parser alone takes hundredths of a second for what a list of pairs needs,
and stops as soon as there is more.
"""

from typing import IO
from xml.parsers import expat

from nearmark.errors import InputError
from nearmark.event_folder.grid import MAX_COLUMNS

MAX_CELLS = 40_000
"""Of all sheets together: 5,000 rows of 8 columns."""

MAX_ROW_ELEMENTS = 200_000
"""Of all sheets and their texts together; a cell with a text of its own has four."""

MAX_RUNS = 10_000
"""Pieces of text with a format of their own."""

MAX_SHEET_ROWS = 30_000
MAX_SHEETS_LISTED = 100
MAX_LIST_ELEMENTS = 10_000
"""Of all other parts together, such as styles; a usual workbook has about 500."""

MAX_ATTRIBUTES = 100
"""Of one element."""

_CHUNK_BYTES = 1_000_000
_RE_SAVE = "Copy the pairs into a new workbook, or save them as CSV UTF-8"
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class Scan:
    """What all parts of one workbook hold together."""

    def __init__(self) -> None:
        self.has_formulas = False
        self._left = {
            "c": MAX_CELLS,
            "r": MAX_RUNS,
            "row": MAX_SHEET_ROWS,
            "sheet": MAX_SHEETS_LISTED,
        }
        self._elements_left = {True: MAX_ROW_ELEMENTS, False: MAX_LIST_ELEMENTS}
        self._is_rows = False
        self._row = self._column = 0

    def part(self, opened: IO[bytes], *, is_rows: bool) -> None:
        """Go through a part.

        ``is_rows``: whether it is a sheet or the texts of the sheets. Raises InputError if there is
        more than a list of pairs needs, or a document type declaration. Raises expat.ExpatError if
        it is no XML.
        """
        self._is_rows = is_rows
        self._row = self._column = 0
        parser = expat.ParserCreate()
        parser.StartDoctypeDeclHandler = _refuse_doctype
        parser.StartElementHandler = self._element
        while chunk := opened.read(_CHUNK_BYTES):
            parser.Parse(chunk, False)  # noqa: FBT003 - expat takes it by position
        parser.Parse(b"", True)  # noqa: FBT003

    def _element(self, name: str, attributes: dict[str, str]) -> None:
        self._elements_left[self._is_rows] -= 1
        if self._elements_left[self._is_rows] < 0 or len(attributes) > MAX_ATTRIBUTES:
            raise _too_much()
        name = name.rpartition(":")[2]
        if name in self._left:
            self._left[name] -= 1
            if self._left[name] < 0:
                raise _too_much()
        if self._is_rows:
            self._in_sheet(name, attributes)

    def _in_sheet(self, name: str, attributes: dict[str, str]) -> None:
        if name == "row":
            self._row, self._column = self._row + 1, 0
        elif name == "c":
            self._column = _column(attributes.get("r", "")) or self._column + 1
        elif name == "f":
            self.has_formulas = True
        elif name in {"v", "is"} and self._column > MAX_COLUMNS:
            raise InputError(
                f"has more than {MAX_COLUMNS} columns in row {self._row}",
                mend="Remove the others",
            )


def _column(coordinate: str) -> int:
    """``A1`` is in column 1; 0 when there are no letters."""
    column = 0
    for letter in coordinate[:4]:
        if letter not in _LETTERS:
            break
        column = 26 * column + 1 + _LETTERS.index(letter)
    return column


def _too_much() -> InputError:
    return InputError("holds far more than a list of pairs needs", mend=_RE_SAVE)


def _refuse_doctype(*_declaration: object) -> None:
    raise InputError(
        "holds a document type declaration, which no spreadsheet writes", mend=_RE_SAVE
    )
