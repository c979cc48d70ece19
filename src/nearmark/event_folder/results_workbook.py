"""Results as one XLSX workbook: a sheet a table, numbers as numbers, everything else as text."""

import io
from collections.abc import Iterable, Sequence
from typing import Final

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.styles import Font
from openpyxl.worksheet._write_only import WriteOnlyWorksheet

from nearmark.event_folder.guard import guarded
from nearmark.event_folder.results_export import ResultTable

NUMBERS: Final = frozenset(
    {
        "place",
        "division_place",
        "pairs",
        "total",
        "estimate",
        "score",
        "weighted_score",
        "key",
        "measured_value",
        "standard_uncertainty",
        "expanded_uncertainty",
        "dof",
    }
)
"""Columns to calculate with.  The exact fractions stay text: a spreadsheet keeps 15 digits."""

_MAX: Final = 60


def results_workbook(tables: Iterable[ResultTable], about: Sequence[tuple[str, str]]) -> bytes:
    """The workbook; no cell of it is a formula.

    ``about`` ((what, words)): the last sheet: what these results are, and what was put right.
    """
    book = Workbook(write_only=True)
    for table in (*tables, about_table(about)):
        _write(book.create_sheet(table.name), table)
    packed = io.BytesIO()
    book.save(packed)
    return packed.getvalue()


def about_table(about: Sequence[tuple[str, str]]) -> ResultTable:
    """What the results are, as a table beside them.

    ``about``: (what, words).
    """
    rows = tuple((guarded(what), guarded(words)) for what, words in about)
    return ResultTable("about", ("what", "words"), rows)


def _write(sheet: WriteOnlyWorksheet, table: ResultTable) -> None:
    sheet.freeze_panes = "A2"
    for number, width in enumerate(_widths(table), start=1):
        sheet.column_dimensions[chr(ord("A") + number - 1)].width = width
    sheet.append([_cell(sheet, text, is_bold=True) for text in table.heading])
    for row in table.rows:
        sheet.append(
            [
                _cell(sheet, text, is_number=column in NUMBERS)
                for column, text in zip(table.heading, row, strict=True)
            ]
        )


def _cell(
    sheet: WriteOnlyWorksheet, text: str, *, is_number: bool = False, is_bold: bool = False
) -> WriteOnlyCell:
    number = _number(text) if is_number else None
    plain = ILLEGAL_CHARACTERS_RE.sub("\N{REPLACEMENT CHARACTER}", text)
    cell = WriteOnlyCell(sheet, value=plain if number is None else number)
    if number is None and plain:
        cell.data_type = "s"  # never "f", whatever it begins with
    if is_bold:
        cell.font = Font(bold=True)
    return cell


def _number(text: str) -> float | int | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return int(value) if text.isdigit() else value


def _widths(table: ResultTable) -> list[int]:
    columns = zip(table.heading, *table.rows, strict=True)
    return [min(_MAX, 2 + max(map(len, column))) for column in columns]
