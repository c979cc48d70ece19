"""An event as rows of text to be hashed, with keyed hashes where people's names are."""

import csv
import io
import re
import tomllib
from collections.abc import Mapping
from typing import Any, Final

from nearmark.contest.proof.canonical import Plain, digest, is_hash, keyed_digest
from nearmark.errors import InputError
from nearmark.event_folder.guard import unguarded
from nearmark.event_folder.writer import csv_text, encoded

PEOPLE: Final[Mapping[str, tuple[str, ...]]] = {
    "pairs.csv": ("member_1", "member_2"),
    "hand_counts.csv": ("counter",),
    "answers.csv": ("clerk",),
    "adjudications.csv": ("clerk",),
    "key_decisions.csv": ("by",),
    "audit_readings.csv": ("clerk",),
    "closings.csv": ("by",),
}
"""Columns that name a person: file -> columns."""

HIDDEN: Final = "~"
"""Begins a name that is shown as its keyed hash."""

_TRAILING_ZEROS: Final = re.compile(r"(\d+)(?:\.0+|(\.\d*[1-9])0+)", re.ASCII)

Rows = dict[str, list[dict[str, str]]]


def event_rows(contents: Mapping[str, bytes], salt: str) -> Rows:
    """Every file of an event as rows: column -> text, without empty cells.

    ``contents`` (bytes by file name): as ``writer.contents_of`` gives them: so line ends, quotes,
    order of columns and trailing zeros of the files that were read do not matter. ``salt``
    (hexadecimal digits): of the names; empty where every name is hidden already. Returns list of
    dict by file name. Raises InputError if a name is not hidden and there is no salt.
    """
    return {
        name: _settings(content) if name.endswith(".toml") else _table(name, content, salt)
        for name, content in contents.items()
    }


def row_digests(rows: Rows) -> dict[str, list[str]]:
    """The hash of every row.

    ``rows``: rows by file name.
    """
    return {name: [digest(row) for row in table] for name, table in rows.items()}


def rows_digest(digests: Mapping[str, list[str]]) -> str:
    """One hash of all rows; files without rows do not count, so that a new kind of file may come.

    ``digests``: hashes of its rows by file name.

    >>> rows_digest({"cups.csv": []}) == rows_digest({})
    True
    """
    plain: dict[str, Plain] = {name: digest(hashes) for name, hashes in digests.items() if hashes}
    return digest(plain)


def without_names(contents: Mapping[str, bytes], salt: str) -> dict[str, bytes]:
    """The same files with keyed hashes in place of people's names: for everybody.

    ``contents``: bytes by file name. ``salt``: hexadecimal digits.
    """
    shown = dict(contents)
    for name, columns in PEOPLE.items():
        if name not in contents:
            continue
        heading, *rows = csv.reader(io.StringIO(contents[name].decode()))
        hidden = [
            [
                _hidden(unguarded(cell), salt, name) if column in columns else cell
                for column, cell in zip(heading, row, strict=True)
            ]
            for row in rows
        ]
        shown[name] = encoded(name, csv_text(heading, hidden))
    return shown


def _table(name: str, content: bytes, salt: str) -> list[dict[str, str]]:
    heading, *rows = csv.reader(io.StringIO(content.decode()))
    people = PEOPLE.get(name, ())
    return [
        {
            column: _hidden(unguarded(cell), salt, name) if column in people else _short(cell)
            for column, cell in zip(heading, row, strict=True)
            if cell
        }
        for row in rows
    ]


def _hidden(name: str, salt: str, where: str) -> str:
    if not name or (name.startswith(HIDDEN) and is_hash(name[1:])):
        return name
    if not salt:
        raise InputError(
            "shows a name that the proof does not hold",
            where=where,
            value=name,
            mend="Take the folder as the site gave it",
        )
    return HIDDEN + keyed_digest(salt, name)


def _short(cell: str) -> str:
    """A number without trailing zeros: 12.40 says what 12.4 says."""
    match = _TRAILING_ZEROS.fullmatch(cell)
    return match[1] + (match[2] or "") if match else cell


def _settings(content: bytes) -> list[dict[str, str]]:
    flat: dict[str, str] = {}
    _flatten(tomllib.loads(content.decode()), "", flat)
    return [flat]


def _flatten(value: Any, name: str, flat: dict[str, str]) -> None:  # noqa: ANN401 - any TOML
    if isinstance(value, dict):
        for key, inner in value.items():
            _flatten(inner, f"{name}/{key}", flat)
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            _flatten(inner, f"{name}/{number}", flat)
    else:
        flat[name] = str(value)
