"""The cells of a workbook as text; values only, formulas are never run."""

import io
import warnings
from collections.abc import Iterator
from datetime import date, time, timedelta
from threading import Lock
from typing import Any

from nearmark.errors import InputError
from nearmark.event_folder.grid import (
    MAX_CELL_CHARACTERS,
    MAX_COLUMNS,
    MAX_ROWS,
    Flaw,
    Grid,
    Line,
)
from nearmark.event_folder.xlsx_guard import refuse_unsafe

LAST_ROW = 10_000
"""Rows below are not looked at: thousands of empty, formatted rows are a slip or an attack."""

MAX_SHEETS = 3
_ONE_AT_A_TIME = Lock()
"""Bounds the memory of a server, and keeps the warnings filter to one thread."""

_ERROR = Flaw("holds the error of a formula", "Write the text itself")
_DATE = Flaw("was turned into a date by the spreadsheet", "Give the column the format Text")
_UNSAVED = Flaw(
    "holds a formula whose value is not in the file",
    "Open and save it in a spreadsheet, or paste the values only",
)
_LONG = Flaw(f"has more than {MAX_CELL_CHARACTERS:,} characters", "Write the name only")


def xlsx_grid(content: bytes) -> Grid:
    """Read the one sheet of a workbook.

    Raises InputError if it is unsafe, damaged or too large, or the sheet with the pairs is not
    plain.
    """
    has_formulas = refuse_unsafe(content).has_formulas
    try:
        with _ONE_AT_A_TIME, warnings.catch_warnings():
            warnings.simplefilter("ignore")  # extensions the library passes over
            return _grid(content, has_formulas=has_formulas)
    except InputError:
        raise
    except Exception as error:  # a damaged workbook makes the library raise anything
        raise InputError(
            "is no workbook that can be read",
            mend="Copy the pairs into a new workbook, or save them as CSV UTF-8",
        ) from error


def _opened(content: bytes, *, data_only: bool) -> Any:  # noqa: ANN401 - a library without types
    # Not at the top: it takes a tenth of a second that no other command needs.
    from openpyxl import load_workbook  # noqa: PLC0415

    return load_workbook(io.BytesIO(content), read_only=True, data_only=data_only, keep_links=False)


def _grid(content: bytes, *, has_formulas: bool) -> Grid:
    values = _opened(content, data_only=True)
    visible = [sheet for sheet in values.worksheets if sheet.sheet_state == "visible"]
    if len(visible) > MAX_SHEETS:
        raise InputError(
            f"has {len(visible)} sheets", mend="Keep the one sheet with the pairs, or hide the rest"
        )
    filled = [(sheet, lines) for sheet in visible if (lines := _lines(sheet))]
    if not filled:
        raise InputError("has no visible sheet with anything in it", mend="Fill in the pairs")
    if len(filled) > 1:
        raise InputError(
            f"has {len(filled)} sheets with something in them",
            value=", ".join(sheet.title[:60] for sheet, _ in filled),
            mend="Keep the one with the pairs, or hide the rest",
        )
    ((sheet, lines),) = filled
    if not has_formulas:
        return Grid(lines)
    formulas = _opened(content, data_only=False).worksheets[values.worksheets.index(sheet)]
    return Grid(_with_unsaved(formulas, lines))


def _rows(sheet: Any, **limits: Any) -> Iterator[tuple[int, Any]]:  # noqa: ANN401 - as above
    sheet.reset_dimensions()  # what the file says of its size may be wrong
    for row, cells in enumerate(sheet.iter_rows(**limits), start=1):
        if row > LAST_ROW:
            raise InputError(
                f"has rows below row {LAST_ROW:,}", mend="Copy the pairs into a new sheet"
            )
        yield row, cells


def _lines(sheet: Any) -> list[Line]:  # noqa: ANN401
    """Every row with something in it."""
    lines = []
    for row, cells in _rows(sheet, max_col=MAX_COLUMNS):
        flaws: dict[int, Flaw] = {}
        texts = [_text(cell, at, flaws) for at, cell in enumerate(cells)]
        while texts and not texts[-1]:
            texts.pop()
        if texts:
            lines.append(Line(row, texts, flaws))
        if len(lines) > MAX_ROWS + 1:
            raise InputError(f"has more than {MAX_ROWS:,} rows", mend="Import one day at a time")
    return lines


def _text(cell: Any, at: int, flaws: dict[int, Flaw]) -> str:  # noqa: ANN401
    value = cell.value
    if value is None:
        return ""
    if cell.data_type == "e":
        flaws[at] = _ERROR
    elif isinstance(value, date | time | timedelta):
        flaws[at] = _DATE
    elif isinstance(value, float) and value.is_integer():
        value = int(value)
    text = value if isinstance(value, str) else str(value)
    if len(text) > MAX_CELL_CHARACTERS:
        flaws[at] = _LONG
        text = text[:60]
    return text


def _with_unsaved(sheet: Any, lines: list[Line]) -> list[Line]:  # noqa: ANN401
    """Note formulas that have no value: they read as empty cells."""
    by_row = {line.row: line for line in lines}
    for row, cells in _rows(sheet, max_col=MAX_COLUMNS):
        for at, cell in enumerate(cells):
            if cell.data_type == "f":
                line = by_row.setdefault(row, Line(row, []))
                line.cells.extend([""] * (at + 1 - len(line.cells)))
                if not line.cells[at]:
                    line.cells[at] = f"formula in {cell.coordinate}"
                    line.flaws[at] = _UNSAVED
    return [line for _, line in sorted(by_row.items())]
