"""Pasted text, a CSV file or a workbook as rows of texts; nothing is understood yet."""

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass, field

from nearmark.errors import InputError

MAX_BYTES = 5_000_000
MAX_ROWS = 5_000
MAX_COLUMNS = 50
MAX_CELL_CHARACTERS = 1_000
SEPARATORS = "\t;,"


@dataclass(frozen=True, slots=True)
class Flaw:
    """Something wrong with a cell before its meaning is known."""

    what: str
    mend: str


@dataclass(frozen=True, slots=True)
class Line:
    """One row with something in it."""

    row: int  # as a spreadsheet or an editor counts, from 1
    cells: list[str]
    flaws: dict[int, Flaw] = field(default_factory=dict)  # Flaw by position


@dataclass(frozen=True, slots=True)
class Grid:
    """Rows in order; the first one should be the headings."""

    lines: list[Line]


def text_grid(text: str, n_known: Callable[[list[str]], int]) -> Grid:
    """Rows of pasted text or of a CSV file.

    ``text``: cells between tabs, semicolons or commas. ``n_known`` (callable cells -> int): how
    many of the cells of the first row are known headings; it chooses the separator. Raises
    InputError if a quotation mark is not closed, or there are too many rows or columns.
    """
    first = next(filter(str.strip, io.StringIO(text)), "")
    separator = max(
        SEPARATORS, key=lambda mark: n_known([cell.strip('" \r\n') for cell in first.split(mark)])
    )
    lines: list[Line] = []
    # newline="" leaves line ends to the csv module, which knows those inside quotes.
    reader = csv.reader(
        io.StringIO(text, newline=""), delimiter=separator, strict=True, skipinitialspace=True
    )
    row = 0
    try:
        for row, cells in enumerate(reader, start=1):
            if any(map(str.strip, cells)):
                lines.append(_line(row, cells))
            if len(lines) > MAX_ROWS + 1:
                raise InputError(
                    f"has more than {MAX_ROWS:,} rows", mend="Import one day at a time"
                )
    except csv.Error as error:
        raise InputError(
            f"has a quotation mark that is not closed, or not doubled inside quotes, in row "
            f"{row + 1}",
            mend='Close it, or write "" for a quotation mark inside a quoted cell',
        ) from error
    return Grid(lines)


def _line(row: int, cells: list[str]) -> Line:
    while not cells[-1].strip():
        cells.pop()
    if len(cells) > MAX_COLUMNS:
        raise InputError(
            f"has more than {MAX_COLUMNS} columns in row {row}", mend="Remove the others"
        )
    flaws = {}
    for at, cell in enumerate(cells):
        if len(cell) > MAX_CELL_CHARACTERS:
            flaws[at] = Flaw(
                f"has more than {MAX_CELL_CHARACTERS:,} characters",
                "Look for a quotation mark that is not closed",
            )
            cells[at] = cell[:60]
    return Line(row, cells, flaws)
