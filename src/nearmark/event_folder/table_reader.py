"""Rows of one table into records, with every problem of every row."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from nearmark.errors import InputError, Problem
from nearmark.event_folder.numbers import NumberStyle
from nearmark.event_folder.problems import Problems, nearest
from nearmark.event_folder.sheet import Sheet, opened
from nearmark.event_folder.table import REQUIRED, Column, Reference, Table

Names = dict[str, dict[str, str] | None]
"""What may be referred to -> name -> trait; ``None`` when that file could not be read."""

_BAD = object()


@dataclass(slots=True)
class TableReader:
    """Reads one file."""

    table: Table
    names: Names  # of the files read before; what this one defines is added
    problems: Problems
    # The file that defines each thing that may be referred to (file by name of the thing).
    files: Mapping[str, str] = field(default_factory=dict)
    _key_at: tuple[int, ...] = field(init=False)
    _rows_of_keys: dict[tuple[Any, ...], int] = field(default_factory=dict)
    _row_is_whole: bool = True
    _defined: dict[str, str] = field(default_factory=dict)
    _shared: dict[str, str] = field(default_factory=dict)
    _owners: dict[str, str] = field(default_factory=dict)
    _name_is_lost: bool = False

    def __post_init__(self) -> None:
        self._key_at = tuple(self.table.position(name) for name in self.table.key)

    def read(self, text: str) -> list[tuple[int, Any]]:
        """Read a file.

        Returns (row, record): the records of the rows without a problem.
        """
        sheet = opened(text, self.table, self.problems)
        records = [] if sheet is None else self._records(sheet)
        if self.table.defines:
            # With a name lost, whoever uses it is not to blame: then none is looked up.
            all_known = sheet is not None and sheet.is_whole and not self._name_is_lost
            self.names[self.table.defines.what] = (
                self._shared | self._defined if all_known else None
            )
            self.names[self.table.defines.either] = (
                self._owners | self._defined if all_known else None
            )
        return records

    def _records(self, sheet: Sheet) -> list[tuple[int, Any]]:
        rows = list(sheet.rows())
        style = NumberStyle(sheet.separator)
        style.settle((row, cell) for row, cells in rows for cell in cells)
        # Cells repeat (codes, clerks, statuses) and a cell that was fine once is fine again.
        columns = [(column, self._known_cells(column)) for column in self.table.columns]
        records = []
        for row, cells in rows:
            style.row = row
            self._row_is_whole = True
            values = [
                known[cell] if cell in known else self._value(column, cell, style, known)
                for (column, known), cell in zip(columns, cells, strict=True)
            ]
            self._define(values)
            self._refuse_repeat(row, values)
            if self._row_is_whole:
                record = self.table.build(*values)
                self._check(row, record)
                records.append((row, record))
        if style.doubt and not style.sure:
            self._note_doubt(*style.doubt)
        return records

    @staticmethod
    def _known_cells(column: Column) -> dict[str, object]:
        return {} if column.empty is REQUIRED else {"": column.empty}

    def _value(
        self, column: Column, cell: str, style: NumberStyle, known: dict[str, object]
    ) -> object:
        """The value of a cell not seen before in its column."""
        if not cell:
            self._row_is_whole = False
            self._note(style.row, column, "", "is empty", f"Write it: {column.about}")
            return _BAD
        style.column = column.name
        try:
            value = column.kind.read(cell, style)
        except InputError as refused:
            self._row_is_whole = False
            self._note(style.row, column, cell, refused.what, refused.mend)
            return _BAD
        refers = column.refers
        named = value if isinstance(value, tuple) else (value,)
        lost = [n for n in named if refers and not self._follow(column, refers, n, style.row)]
        if not lost:
            known[cell] = value
        return value

    def _follow(self, column: Column, refers: Reference, name: str, row: int) -> bool:
        """Whether something has this name and makes sense here; noted when not."""
        known = self.names.get(refers.to)
        if known is None:
            return True  # the file that defines it is refused anyway
        if not known:
            self._note_empty(refers.to)
            return True
        trait = known.get(name)
        if trait is None:
            # A search among thousands of names is not worth it for a problem only counted.
            full = self.problems.is_full(self.table.file)
            mend = "" if full else _else_add(nearest(name, known), self.files[refers.to])
            self._note(row, column, name, f"names no {refers.to}", mend)
            return False
        if refers.only and trait and trait != refers.only:
            what = f"names {refers.to} of {trait}; only {refers.only} makes sense here"
            fitting = [name for name, trait in known.items() if trait == refers.only]
            self._note(row, column, name, what, nearest("", fitting))
            return False
        return True

    def _note_empty(self, what: str) -> None:
        """Blame the file without a row, once, and not every row that names one of it."""
        file = self.files[what]
        missing = f"has no {what}, but {self.table.file} names one"
        mend = "Add what is missing; docs/reference/event-folder.md shows a whole file"
        self.problems.add(Problem(file, 0, "", "", missing, mend))
        self.names[what] = None

    def _define(self, values: list[Any]) -> None:
        """Keep what this row defines; a bad or repeated name means that another one is lost."""
        defines = self.table.defines
        if defines is None:
            return
        name = values[self.table.position(defines.column)]
        trait = values[self.table.position(defines.trait)] if defines.trait else ""
        if name is _BAD or name in self._defined:
            self._name_is_lost = True
        else:
            self._defined[name] = "" if trait is _BAD else str(trait)
        shared = values[self.table.position(defines.also)] if defines.also else ""
        if shared and shared is not _BAD:
            self._shared[shared] = ""
        owner = values[self.table.position(defines.owner)] if defines.owner else ""
        if owner and owner is not _BAD:
            self._owners[owner] = ""

    def _refuse_repeat(self, row: int, values: list[Any]) -> None:
        """Note a key an earlier row has."""
        key = tuple([values[position] for position in self._key_at])
        if not key or _BAD in key:
            return
        first = self._rows_of_keys.setdefault(key, row)
        if first != row:
            what = f"{' + '.join(self.table.key)} is there already in row {first}"
            column = self.table.columns[self._key_at[-1]]
            shown = ", ".join(map(str, key))
            self._note(row, column, shown, what, f"Keep one of the rows {first} and {row}")

    def _check(self, row: int, record: object) -> None:
        wrong = self.table.check(record) if self.table.check else None
        if wrong:
            column, what, mend = wrong
            self.problems.add(Problem(self.table.file, row, column, "", what, mend))

    def _note_doubt(self, row: int, column: str, cell: str) -> None:
        whole = cell.replace(",", "").replace(".", "")
        self.problems.add(
            Problem(
                self.table.file,
                row,
                column,
                cell,
                "may be a decimal number or grouped thousands; no other number of the file tells",
                f"Write {cell}0 or {whole}",
            )
        )

    def _note(self, row: int, column: Column, value: str, what: str, mend: str) -> None:
        self.problems.add(Problem(self.table.file, row, column.name, value, what, mend))


def _else_add(mend: str, file: str) -> str:
    """Behind the names there are: where one more is added."""
    return mend if mend.endswith("?") else f"{mend}; or add it to {file}"
