"""The files of an event in the manner of those that are there: what is the same stays as it is.

A spreadsheet of another country writes semicolons, decimal commas, a byte order mark, other line
ends.  Written otherwise, it would open as one column of broken words.
"""

import codecs
import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass

from nearmark.contest.event import Event
from nearmark.errors import FilesError
from nearmark.event_folder import settings
from nearmark.event_folder.loading import text_of
from nearmark.event_folder.numbers import shown
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.reader import RULES_FILE, event_of
from nearmark.event_folder.sheet import opened
from nearmark.event_folder.table import Table
from nearmark.event_folder.tables import TABLES

_SETTINGS = ("name", "day", "venue", "seed", "instruments")
_WITH_COMMA = re.compile(r"\d+,\d+", re.ASCII)
_WITH_POINT = re.compile(r"\d+\.\d+", re.ASCII)


@dataclass(frozen=True, slots=True)
class Manner:
    """How one table is written."""

    separator: str = ","
    decimal_mark: str = "."
    line_end: str = "\n"
    encoding: str = "utf-8"


def as_found(
    event: Event, contents: Mapping[str, bytes], found: Mapping[str, bytes]
) -> dict[str, bytes]:
    """The files of an event as they were found, as far as the event is still the same.

    Parameters
    ----------
    contents : bytes by file name, as ``contents_of`` gives them
    found : bytes by file name, as they are in the folder

    Returns
    -------
    dict file name -> bytes
        A file whose content did not change has the bytes that were found; a changed table keeps
        separator, decimal mark, byte order mark and line ends.  ``contents`` where the folder found
        is no event.
    """
    try:
        before = event_of(found, Problems())
    except FilesError:
        return dict(contents)
    kept = dict(contents)
    if RULES_FILE in found and before.rules == event.rules:
        kept[RULES_FILE] = found[RULES_FILE]
    if all(getattr(before, name) == getattr(event, name) for name in _SETTINGS):
        kept[settings.FILE] = found[settings.FILE]
    for table in TABLES:
        if table.file not in found or table.file not in contents:
            continue
        if getattr(before, table.field) == getattr(event, table.field):
            kept[table.file] = found[table.file]
        else:
            manner = manner_of(table, found[table.file])
            kept[table.file] = _written(table, contents[table.file].decode(), manner)
    return kept


def manner_of(table: Table, content: bytes) -> Manner:
    """How a table that can be read is written."""
    text = text_of(table.file, content, Problems()) or ""
    sheet = opened(text, table, Problems())
    separator = sheet.separator if sheet else ","
    cells = [cell.strip() for row in sheet.lines for cell in row] if sheet else []
    has_comma = separator != "," and any(map(_WITH_COMMA.fullmatch, cells))
    has_point = any(map(_WITH_POINT.fullmatch, cells))
    # Without a decimal in it the separator says which spreadsheet it was.
    is_comma = has_comma or (separator == ";" and not has_point)
    return Manner(
        separator,
        "," if is_comma else ".",
        "\r\n" if "\r\n" in text else "\n",
        _encoding(content),
    )


def _encoding(content: bytes) -> str:
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    return "utf-8-sig" if content.startswith(codecs.BOM_UTF8) else "utf-8"


def _written(table: Table, text: str, manner: Manner) -> bytes:
    numbers = {column.name for column in table.columns if column.kind.show is shown}
    rows = list(csv.reader(io.StringIO(text, newline="")))
    heading = rows[0]
    marked = [
        [
            cell.replace(".", manner.decimal_mark) if name in numbers else cell
            for name, cell in zip(heading, row, strict=True)
        ]
        for row in rows[1:]
    ]
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=manner.separator, lineterminator=manner.line_end)
    writer.writerows([heading, *marked])
    return out.getvalue().encode(manner.encoding)
