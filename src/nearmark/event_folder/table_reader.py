"""Rows of one table into records, with every problem of every row."""

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
    """Reads one file.

    Attributes
    ----------
    table : Table
    names : Names
        Of the files read before; what this one defines is added.
    problems : Problems
    """

    table: Table
    names: Names
    problems: Problems
    _rows_of_keys: dict[tuple[Any, ...], int] = field(default_factory=dict)

    def read(self, text: str) -> list[tuple[int, Any]]:
        """Read a file.

        Parameters
        ----------
        text : str

        Returns
        -------
        list of (row, record)
            The records of the rows without a problem.
        """
        sheet = opened(text, self.table, self.problems)
        defines = self.table.defines
        if defines:
            self.names[defines.what] = {} if sheet else None
        return [] if sheet is None else self._records(sheet)

    def _records(self, sheet: Sheet) -> list[tuple[int, Any]]:
        style = NumberStyle(sheet.separator)
        records = []
        for row, cells in sheet.rows():
            style.row = row
            values = [
                self._value(column, cell, style)
                for column, cell in zip(self.table.columns, cells, strict=True)
            ]
            self._define(values)
            self._refuse_repeat(row, values)
            if not any(value is _BAD for value in values):
                record = self.table.build(*values)
                self._check(row, record)
                records.append((row, record))
        if style.doubt and not style.sure:
            self._note_doubt(*style.doubt)
        return records

    def _value(self, column: Column, cell: str, style: NumberStyle) -> object:
        if not cell:
            if column.empty is not REQUIRED:
                return column.empty
            self._note(style.row, column, "", "is empty", f"Write it: {column.about}")
            return _BAD
        style.column = column.name
        try:
            value = column.kind.read(cell, style)
        except InputError as refused:
            self._note(style.row, column, cell, refused.what, refused.mend)
            return _BAD
        if column.refers:
            self._follow(column, column.refers, value, style.row)
        return value

    def _follow(self, column: Column, refers: Reference, name: str, row: int) -> None:
        """Note a name that nothing has, or that belongs to another kind of thing."""
        known = self.names.get(refers.to)
        if known is None:
            return  # the file that defines it is refused anyway
        trait = known.get(name)
        if trait is None:
            # A search among thousands of names is not worth it for a problem only counted.
            mend = "" if self.problems.is_full(self.table.file) else nearest(name, known)
            self._note(row, column, name, f"names no {refers.to}", mend)
        elif refers.only and trait and trait != refers.only:
            self._note(
                row,
                column,
                name,
                f"names {refers.to} of {trait}; only {refers.only} makes sense here",
                nearest("", [n for n, t in known.items() if t == refers.only]),
            )

    def _define(self, values: list[Any]) -> None:
        defines = self.table.defines
        if defines is None:
            return
        name = values[self.table.position(defines.column)]
        trait = values[self.table.position(defines.trait)] if defines.trait else ""
        names = self.names[defines.what]
        if name is not _BAD and names is not None:
            names.setdefault(name, "" if trait is _BAD else str(trait))

    def _refuse_repeat(self, row: int, values: list[Any]) -> None:
        """Note a key an earlier row has."""
        key = tuple(values[self.table.position(name)] for name in self.table.key)
        if not key or any(value is _BAD for value in key):
            return
        first = self._rows_of_keys.setdefault(key, row)
        if first != row:
            column = self.table.columns[self.table.position(self.table.key[-1])]
            shown = ", ".join(str(value) for value in key)
            self._note(
                row,
                column,
                shown,
                f"{' + '.join(self.table.key)} stands already in row {first}",
                f"Keep one of the rows {first} and {row}",
            )

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
