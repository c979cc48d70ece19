"""An ``Event`` into a folder of readable files; what would not read back equal is not written."""

import csv
import os
from collections.abc import Collection, Iterable, Sequence
from dataclasses import fields
from pathlib import Path
from types import SimpleNamespace

import tomli_w

from nearmark.contest.event import Event
from nearmark.contest.rule_files import rules_as_mapping
from nearmark.errors import FilesError, InputError
from nearmark.event_folder import settings
from nearmark.event_folder.as_found import as_found
from nearmark.event_folder.loading import load
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.reader import FILES, RULES_FILE, event_of
from nearmark.event_folder.saving import save
from nearmark.event_folder.table import Table
from nearmark.event_folder.tables import TABLES


def write_event(event: Event, path: str | os.PathLike[str]) -> None:
    """Write an event folder; a crash leaves the old event or the new one, whole.

    ``path`` (path of a folder): made when it is not there; files that are not an event's stay
    untouched, and so do those of the event whose content is the same. Raises InputError if the
    event would not read back equal, or the folder cannot be written to.
    """
    folder = Path(path)
    found = load(folder, FILES, Problems()) if folder.is_dir() else {}
    contents = contents_of(event, present=found)
    _refuse_unless_equal(event, contents)
    save(folder, _as_found_if_equal(event, contents, found))


def _as_found_if_equal(
    event: Event, contents: dict[str, bytes], found: dict[str, bytes]
) -> dict[str, bytes]:
    """As the files were found, unless that cannot be read back, as 1,234 alone in a table."""
    kept = as_found(event, contents, found)
    try:
        _refuse_unless_equal(event, kept)
    except InputError:
        return contents
    return kept


def contents_of(event: Event, *, present: Collection[str] = ()) -> dict[str, bytes]:
    """The bytes of every file of an event; the same event gives the same bytes.

    ``present`` (file names): written also without rows, so that no old rows stay in the folder.
    Returns bytes by file name. Raises InputError if a text holds half of a surrogate pair, which no
    file can.
    """
    texts = {
        settings.FILE: settings.settings_text(event),
        RULES_FILE: tomli_w.dumps(rules_as_mapping(event.rules)),
        **{
            table.file: _table_text(table, getattr(event, table.field))
            for table in TABLES
            if getattr(event, table.field) or not table.only_if_used or table.file in present
        },
    }
    return {name: encoded(name, text) for name, text in texts.items()}


def _table_text(table: Table, records: Sequence[object]) -> str:
    rows = [table.values(record) for record in records]
    written = [
        (at, column)
        for at, column in enumerate(table.columns)
        if not column.only_if_used or any(row[at] != column.empty for row in rows)
    ]
    cells = ([column.kind.show(row[at]) for at, column in written] for row in rows)
    return csv_text([column.name for _, column in written], cells)


def csv_text(heading: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    r"""Rows as CSV with commas and LF.

    >>> csv_text(["code", "name"], [["C1", "jar, tall"]])
    'code,name\nC1,"jar, tall"\n'
    """
    lines: list[str] = []
    # Before Python 3.11.9 (CPython gh-67044) a carriage return in a cell is quoted only when line
    # ends have one: so write CRLF and keep the LF.
    writer = csv.writer(SimpleNamespace(write=lines.append), lineterminator="\r\n")
    writer.writerow(heading)
    writer.writerows(rows)
    return "".join(f"{line[:-2]}\n" for line in lines)


def encoded(name: str, text: str) -> bytes:
    """UTF-8 of a file's text."""
    try:
        return text.encode()
    except UnicodeEncodeError as error:
        raise InputError(
            "holds half of a surrogate pair, which is no character",
            where=name,
            value=ascii(text[max(0, error.start - 20) : error.start + 1]),
            mend="Type the text again",
        ) from error


def _refuse_unless_equal(event: Event, contents: dict[str, bytes]) -> None:
    try:
        read = event_of(contents, Problems())
    except FilesError as refused:
        first = refused.problems[0]
        raise InputError(
            f"could not be read back, so nothing was written; {first.what}",
            where=f"event, {first.file} row {first.row} {first.column}".rstrip(),
            value=first.value or None,
            mend=first.mend,
        ) from refused
    for field in fields(Event):
        if getattr(read, field.name) != getattr(event, field.name):
            raise InputError(
                "would not read back equal, so nothing was written",
                where=f"event, {field.name}",
                mend="Use tuples of the record types, no empty or three members, no blank caution",
            )
