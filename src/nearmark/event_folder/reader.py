"""An event folder into an ``Event``, or every problem of every file at once."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    AuditReading,
    Event,
)
from nearmark.contest.rule_files import rules_from_mapping
from nearmark.contest.rules import RuleSet
from nearmark.errors import InputError, Problem
from nearmark.event_folder import settings
from nearmark.event_folder.loading import FileName, load, text_of
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.table import Table
from nearmark.event_folder.table_reader import Names, TableReader
from nearmark.event_folder.tables import ADJUDICATIONS, ANSWERS, AUDIT_READINGS, TABLES
from nearmark.station import Station

RULES_FILE = "rules.toml"
FILES = (
    FileName(settings.FILE, required=True),
    FileName(RULES_FILE, required=False),
    *(FileName(table.file, table.required) for table in TABLES),
)

_DEFINED_IN = {"instrument": settings.FILE} | {
    what: table.file
    for table in TABLES
    if table.defines
    for what in (table.defines.what, table.defines.either)
}
"""What rows of other files may name -> the file that defines it."""


def read_event(path: str | os.PathLike[str]) -> Event:
    """Read an event folder.

    ``path`` (path of a folder): its files are described in ``docs/reference/event-folder.md``.
    Returns: every number exactly as it is in the files. Raises FilesError with every problem of
    every file; then nothing was read.
    """
    problems = Problems()
    contents = load(Path(path), FILES, problems)
    return event_of(contents, problems)


def event_of(contents: Mapping[str, bytes], problems: Problems) -> Event:
    """Build the event that the contents of the files stand for.

    ``contents`` (bytes by file name): of the files that could be loaded. ``problems``: what was
    found while loading.
    """
    texts = {name: text_of(name, content, problems) for name, content in contents.items()}
    for file in FILES:
        if file.required and file.name not in contents and file.name not in problems.found:
            mend = "Add it; docs/reference/event-folder.md shows one"
            problems.add(Problem(file.name, 0, "", "", "is missing", mend))
    head = settings.read_settings(texts.get(settings.FILE), problems)
    rules = _rules(texts.get(RULES_FILE), problems)
    names: Names = {
        "instrument": None if head is None else {i.name: i.unit for i in head["instruments"]}
    }
    rows = {}
    for table in TABLES:
        text = texts.get(table.file)
        if text is not None:
            rows[table.file] = TableReader(table, names, problems, _DEFINED_IN).read(text)
            continue
        rows[table.file] = []
        if table.defines:
            # Missing is empty; there but unusable is unknown, and nothing is held against it.
            none: dict[str, str] | None = None if table.file in problems.found else {}
            names |= {table.defines.what: none, table.defines.either: none}
    for table in (ANSWERS, ADJUDICATIONS, AUDIT_READINGS):
        _check_cups(table, rows[table.file], names["item"], problems)
    problems.raise_if_any()
    tables: dict[str, Any] = {
        table.field: tuple(record for _, record in rows[table.file]) for table in TABLES
    }
    # Without a problem there is a head; the type checker cannot know.
    return Event(**(head or {}), rules=rules, **tables)


def _check_cups(
    table: Table,
    rows: list[tuple[int, AnswerReading | Adjudication | AuditReading]],
    stations: Mapping[str, str] | None,
    problems: Problems,
) -> None:
    """A cup belongs to every answer of the mass station and to no other."""
    for row, reading in rows:
        station = (stations or {}).get(reading.item)
        if not station:
            continue
        is_mass = station == Station.MASS
        if is_mass and reading.status is AnswerStatus.ANSWERED and not reading.cup:
            what = "is empty: without the cup's number its tare is not known"
            problems.add(Problem(table.file, row, "cup", "", what, "Write the number on the cup"))
        elif reading.cup and not is_mass:
            what = f"is given although {reading.item} is at the {station} station"
            problems.add(Problem(table.file, row, "cup", reading.cup, what, "Empty the cell"))


def _rules(text: str | None, problems: Problems) -> RuleSet:
    """The rule set of the event; the shipped default when the folder has none."""
    mapping = None if text is None else settings.parsed(RULES_FILE, text, problems)
    if mapping is None:
        return RuleSet()
    oversized = _oversized(mapping)
    if oversized:
        problems.add(
            Problem(RULES_FILE, 0, oversized, "", "is too large or too long", "Check the number")
        )
        return RuleSet()
    try:
        return rules_from_mapping(mapping)
    except InputError as refused:
        value = "" if refused.value is None else str(refused.value)
        problems.add(Problem(RULES_FILE, 0, refused.where, value, refused.what, refused.mend))
        return RuleSet()


def _oversized(mapping: Mapping[str, Any], above: str = "") -> str:
    """Name of the first setting too long to print or to calculate with; empty if none."""
    for name, value in mapping.items():
        where = f"{above}{name}"[:60]
        if isinstance(value, Mapping):
            where = _oversized(value, f"{where}.")
            if where:
                return where
        elif len(name) > settings.MAX_TEXT_CHARACTERS or _is_oversized(value):
            return where
    return ""


def _is_oversized(value: object) -> bool:
    if isinstance(value, str):
        return len(value) > settings.MAX_TEXT_CHARACTERS
    if isinstance(value, list):
        return any(_is_oversized(part) for part in value)
    if isinstance(value, int | float):
        return abs(value) >= settings.MAX_SIZE
    return False
