"""A text as rows of cells under known headings, as spreadsheets of different habits write it."""

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from nearmark.errors import Problem
from nearmark.event_folder.problems import Problems, nearest
from nearmark.event_folder.table import REQUIRED, Table

MAX_ROWS = 200_000
MAX_CELL_CHARACTERS = 1_000
MAX_COLUMNS = 100
SEPARATORS = ",;\t"
MAX_TITLE_ROWS = 5
"""How far below the first row a heading is looked for."""

_OPEN_QUOTE = (
    "has a quotation mark that is not closed, or not doubled inside quotes",
    'Close it, or write "" for a quotation mark inside a quoted cell',
)


@dataclass(slots=True)
class Sheet:
    """An opened table: its heading is understood, its rows are not read yet."""

    table: Table
    separator: str
    headings: list[str]  # as they stand in the file
    positions: list[int]  # where each column of the table is in the file; -1 for one left out
    lines: Iterator[list[str]]  # what follows the heading
    problems: Problems
    is_whole: bool = True  # whether no row had to be passed over so far

    def rows(self) -> Iterator[tuple[int, list[str]]]:
        """Row number and trimmed cells, in the order of the table, of every row not empty."""
        width = len(self.headings)
        padding = [""] * (width + 1)  # position -1 finds its last, always empty
        unheaded = [i for i, heading in enumerate(self.headings) if not heading.strip()]
        filled = list(islice(self._filled(), MAX_ROWS + 1))
        if len(filled) > MAX_ROWS:
            what = f"is one row more than {MAX_ROWS:,}"
            self._note(filled[-1][0], what, "Keep only the rows of this event")
            return
        for row, cells in filled:
            if self._fits(row, cells, unheaded):
                cells[width:] = padding[len(cells) :] or padding[-1:]
                yield row, [cells[position] for position in self.positions]

    def _fits(self, row: int, cells: list[str], unheaded: list[int]) -> bool:
        """Whether no cell is too long and none is outside the headings."""
        # The length of the whole row, quickly known, settles nearly every row.
        if sum(map(len, cells)) > MAX_CELL_CHARACTERS < max(map(len, cells)):
            self._note(
                row,
                f"has a cell of more than {MAX_CELL_CHARACTERS:,} characters",
                "Look for a quotation mark that is not closed",
            )
            return False
        strays = cells[len(self.headings) :]
        strays += [cells[position] for position in unheaded if position < len(cells)]
        stray = next(filter(None, strays), None)
        if stray is not None:
            self._note(
                row,
                f"has a cell under no heading: {stray[:60]!r}",
                f"Empty it, or quote a cell that holds {self.separator!r}",
            )
        return stray is None

    def _filled(self) -> Iterator[tuple[int, list[str]]]:
        """Row number and trimmed cells of every row not empty, up to one whose end is lost."""
        row = 1
        try:
            for row, line in enumerate(self.lines, start=2):
                if any(line):
                    cells = [cell.strip() for cell in line]
                    if any(cells):
                        yield row, cells
        except csv.Error:
            self._note(row + 1, *_OPEN_QUOTE)

    def _note(self, row: int, what: str, mend: str) -> None:
        self.is_whole = False
        self.problems.add(Problem(self.table.file, row, "", "", what, mend))


def opened(text: str, table: Table, problems: Problems) -> Sheet | None:
    """Understand the heading of a file.

    ``problems``: what is wrong with the heading is added. Returns: ``None`` when the rows cannot be
    read.
    """
    # newline="" leaves line ends to the csv module, which knows those inside quotes.
    separator = _separator(io.StringIO(text, newline="").readline(), table)
    lines = csv.reader(
        io.StringIO(text, newline=""), delimiter=separator, strict=True, skipinitialspace=True
    )
    try:
        found = next(lines, [])
    except csv.Error:
        problems.add(Problem(table.file, 1, "", "", *_OPEN_QUOTE))
        return None
    if not any(found) and (below := _heading_below(text, table)):
        problems.add(below)
        return None
    if not any(found):
        what, mend = "has no heading row", f"Begin with {','.join(c.name for c in table.columns)}"
        problems.add(Problem(table.file, 1, "", "", what, mend))
        return None
    positions = _positions(found, table, text, problems)
    return None if positions is None else Sheet(table, separator, found, positions, lines, problems)


def _separator(first_line: str, table: Table) -> str:
    """The separator that shows most of the known headings; the comma when none is better."""
    known = {column.name for column in table.columns}

    def n_known(separator: str) -> int:
        return sum(_folded(cell.strip('"')) in known for cell in first_line.split(separator))

    return max(SEPARATORS, key=n_known)


def _folded(heading: str) -> str:
    return heading.strip().casefold().replace(" ", "_")


def _heading_below(text: str, table: Table) -> Problem | None:
    """What to do about a title above the heading; ``None`` where no heading follows it soon."""
    required = {column.name for column in table.columns if column.empty is REQUIRED}
    lines = io.StringIO(text, newline="")
    title = lines.readline()
    for row, line in enumerate(islice(lines, MAX_TITLE_ROWS), start=2):
        separator = _separator(line, table)
        if required <= {_folded(cell.strip().strip('"')) for cell in line.split(separator)}:
            rows = "row 1" if row == 2 else f"rows 1 to {row - 1}"
            shown = title.strip(f'{SEPARATORS}" \r\n')
            what = f"is not the heading, which is in row {row}"
            return Problem(table.file, 1, "", shown, what, f"Delete {rows}")
    return None


def _positions(
    headings: list[str], table: Table, text: str, problems: Problems
) -> list[int] | None:
    """Position of each column, -1 when left out; ``None`` when the heading is wrong."""
    at: dict[str, int] = {}
    known = [column.name for column in table.columns]
    wrong: list[tuple[str, str, str]] = []
    if len(headings) > MAX_COLUMNS and any(headings[MAX_COLUMNS:]):
        wrong.append(("", f"has more than {MAX_COLUMNS} headings", "Remove the others"))
        headings = headings[:MAX_COLUMNS]
    for position, heading in enumerate(headings):
        name = _folded(heading)
        if name in at:
            wrong.append((heading, "is a heading twice", "Remove one of the two columns"))
        elif name in known:
            at[name] = position
        elif name:
            wrong.append((heading, "is not a heading of this file", nearest(name, known)))
    missing = [c for c in table.columns if c.empty is REQUIRED and c.name not in at]
    below = _heading_below(text, table) if missing else None
    if below:
        problems.add(below)
        return None
    wrong += [(c.name, "is missing in the heading", f"Add the column: {c.about}") for c in missing]
    for heading, what, mend in wrong:
        problems.add(Problem(table.file, 1, heading.strip()[:60], "", what, mend))
    return None if wrong else [at.get(column.name, -1) for column in table.columns]
