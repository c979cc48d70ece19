"""One CSV file of its own, read as strictly as those of an event folder."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from nearmark.errors import InputError
from nearmark.event_folder.loading import FileName, load, text_of
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.table import Table
from nearmark.event_folder.table_reader import TableReader


def read_single(path: Path, table_named: Callable[[str], Table]) -> list[Any]:
    """Read the records of a table that refers to no other file.

    ``table_named`` (callable file name -> Table): the file may have any name; messages use the one
    it has. Returns list of record. Raises FilesError with every problem of the file, by row and
    column. Raises InputError if the file is not there or holds no row.
    """
    problems = Problems()
    contents = load(path.parent, [FileName(path.name, required=True)], problems)
    problems.raise_if_any()
    if path.name not in contents:
        raise InputError("is not there", where="file", value=str(path), mend="Name a CSV file")
    return read_content(path.name, contents[path.name], table_named)


def read_content(name: str, content: bytes, table_named: Callable[[str], Table]) -> list[Any]:
    """Read the records of a table from its bytes, as they come with an upload.

    ``name``: of the file, for the messages. ``table_named``: callable file name -> Table. Returns
    list of record. Raises FilesError with every problem, by row and column. Raises InputError if
    there is no row.
    """
    problems = Problems()
    text = text_of(name, content, problems)
    rows = [] if text is None else TableReader(table_named(name), {}, problems).read(text)
    problems.raise_if_any()
    if not rows:
        raise InputError("holds no row", where=name, mend="Write the rows beneath the heading")
    return [record for _, record in rows]
