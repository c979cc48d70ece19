"""Check whether a file is a whole database of Nearmark, and say what is in it.

Nothing here needs the site to be set up, and nothing believes what it reads: a file full of noise
is refused in words.

A copy that ``nearmark backup`` makes ends in a line with the SHA-256 of everything before it.
SQLite reads as many pages as its first page says and never sees that line (the database file
format, section 1.3.7, https://www.sqlite.org/fileformat2.html).
"""

import hashlib
import re
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from nearmark.errors import InputError

DATABASE_FILE = "nearmark.sqlite3"

MARK: Final = 0x4E4D424B
"""``application_id`` of a copy: it says that a checksum belongs to it."""

_MIGRATIONS: Final = Path(__file__).parents[1] / "migrations"
_SEAL: Final = b"\nnearmark backup, sha256 of everything before this line: "
_SEAL_LINE: Final = re.compile(re.escape(_SEAL) + rb"([0-9a-f]{64})\n\Z")
_SEAL_BYTES: Final = len(_SEAL) + 65

_COUNTED: Final = {
    "pairs": "site_pairrecord",
    "readings of answers": "site_answerentry",
    "decisions between readings": "site_adjudicationentry",
    "practice attempts": "site_practiceattempt",
}
_DATED: Final = {
    "site_answerentry": "at",
    "site_adjudicationentry": "at",
    "site_decisionentry": "at",
    "site_change": "at",
}
_NEEDED: Final = {
    "django_migrations": "app, name",
    "django_session": "session_key, session_data, expire_date",
    "site_account": "name, password, role",
    "site_device": "account_id, seen_at",
    "site_eventrecord": "name, day, released_at",
    "site_itemrecord": "event_id, code, station",
    "site_pairrecord": "event_id, code, status",
    "site_answerentry": "key, pair_id, item_id, reading, clerk, status, value, at",
    "site_adjudicationentry": "pair_id, item_id, clerk, status, value, at",
    "site_decisionentry": "item_id, value, at",
    "site_change": "event_id, at, who, what, old, new, why",
}
"""Tables and columns that every version has had since the first."""


@dataclass(frozen=True, slots=True)
class Snapshot:
    """What is in a database."""

    event: str  # name of the newest event; empty before there is one
    newest: datetime | None  # when the last reading or change was written down
    counts: dict[str, int]  # number by words
    has_checksum: bool = False  # whether the file carries a checksum, which was right


def look_at(file: Path) -> Snapshot:
    """What is in a whole database; InputError if it is damaged, hollow, foreign or newer."""
    _refuse_other_files(file, "FILE")
    return _look(file, "FILE", has_checksum=_checked(file, "FILE"))


def look_at_live(file: Path) -> Snapshot:
    """Look at a database that this process may have in use.

    By SQLite alone: whoever opens the file beside it and closes it again takes the locks of all
    connections of the process away (sqlite.org, "How to corrupt a database", 2.2, from memory), and
    the next program that closes the database then deletes the log that they still write to.
    """
    return _look(file, "database", has_checksum=False)


def _look(file: Path, where: str, *, has_checksum: bool) -> Snapshot:
    try:
        with closing(open_to_read(file)) as database:
            _refuse_broken(database, file, where)
            tables = {name for (name,) in database.execute("SELECT name FROM sqlite_schema")}
            if not {"site_eventrecord", "django_migrations"} <= tables:
                raise _foreign(file, where)
            refuse_unknown(database, file)
            _refuse_hollow(database, tables, file, where)
            return _snapshot(database, tables, has_checksum=has_checksum)
    except (sqlite3.Error, ValueError, TypeError, OverflowError) as error:
        raise damaged(file, where, f"SQLite says: {error}") from error


def refuse_damaged(file: Path, *, where: str) -> None:
    """Refuse a database that SQLite finds damaged; one that is not there or empty is new."""
    if not file.exists() or file.stat().st_size == 0:
        return
    try:
        with closing(open_to_read(file)) as database:
            _refuse_broken(database, file, where)
    except (sqlite3.Error, ValueError) as error:
        raise damaged(file, where, f"SQLite says: {error}") from error


def _refuse_broken(database: sqlite3.Connection, file: Path, where: str) -> None:
    said = database.execute("PRAGMA integrity_check(1)").fetchone()[0]
    if said != "ok":
        raise damaged(file, where, f"SQLite finds: {said}")


def refuse_newer(file: Path) -> None:
    """Refuse a database that a newer Nearmark has written; a file that is none passes."""
    if file.exists():
        try:
            with closing(open_to_read(file)) as database:
                refuse_unknown(database, file)
        except (sqlite3.Error, ValueError):  # no database yet, or a damaged one: others say so
            return


def seal(file: Path) -> None:
    """Add the line with the checksum to a copy that nobody opens for writing any more."""
    with file.open("r+b") as opened:
        digest = hashlib.file_digest(opened, "sha256").hexdigest()
        opened.seek(0, 2)
        opened.write(_SEAL + digest.encode("ascii") + b"\n")


def open_to_read(file: Path) -> sqlite3.Connection:
    """A connection that changes nothing."""
    database = sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True, timeout=20)
    # Noise is no reason to break off: even SQLite's own report of it may hold some.
    database.text_factory = lambda raw: raw.decode("utf-8", "replace")
    return database


def damaged(file: Path, where: str, how: str) -> InputError:
    """The refusal of a damaged file, and what was found in it."""
    mend = (
        "Take another backup" if where == "FILE" else "Bring a backup back: nearmark restore --help"
    )
    return InputError(f"is damaged ({how})", where=where, value=file, mend=mend)


def _checked(file: Path, where: str) -> bool:
    """Whether there is a checksum; a wrong or a lost one is refused."""
    with file.open("rb") as opened:
        head = opened.read(100)
        size = opened.seek(0, 2)
        opened.seek(max(size - _SEAL_BYTES, 0))
        found = _SEAL_LINE.fullmatch(opened.read())
        if found is None:
            if head[68:72] == MARK.to_bytes(4, "big"):
                raise damaged(file, where, "its end with the checksum is missing")
            return False
        opened.seek(0)
        digest, left = hashlib.sha256(), size - _SEAL_BYTES
        while left > 0 and (part := opened.read(min(left, 1_000_000))):
            digest.update(part)
            left -= len(part)
    if digest.hexdigest().encode("ascii") != found[1]:
        raise damaged(file, where, "it is not what was written: the checksum differs")
    return True


def _refuse_other_files(file: Path, where: str) -> None:
    try:
        with file.open("rb") as opened:
            start = opened.read(16)
    except OSError as error:
        raise InputError(
            f"cannot be read ({error.strerror})", where=where, value=file, mend="Name a backup"
        ) from error
    if start != b"SQLite format 3\x00":
        raise _foreign(file, where)


def _foreign(file: Path, where: str) -> InputError:
    return InputError(
        "is no backup of Nearmark",
        where=where,
        value=file,
        mend="Name a file that nearmark backup has made",
    )


def refuse_unknown(database: sqlite3.Connection, file: Path) -> None:
    """Refuse a database with migrations that this version does not know."""
    known = {path.stem for path in _MIGRATIONS.glob("[0-9]*.py")}
    rows = database.execute("SELECT name FROM django_migrations WHERE app = 'site'")
    if not {name for (name,) in rows} <= known:
        raise InputError(
            "was written by a newer Nearmark",
            where="database",
            value=file,
            mend="Install that version, or a later one, and try again",
        )


def _refuse_hollow(database: sqlite3.Connection, tables: set[str], file: Path, where: str) -> None:
    """Tables by name only are no backup: what every version has must be there."""
    missing = sorted(set(_NEEDED) - tables)
    if missing:
        raise damaged(file, where, f"the table {missing[0]} is missing")
    for table, columns in _NEEDED.items():
        try:
            database.execute(f"SELECT {columns} FROM {table} LIMIT 1").fetchone()  # noqa: S608 - own names
        except sqlite3.OperationalError as error:
            raise damaged(file, where, f"table {table}: {error}") from error
    if not database.execute("SELECT 1 FROM django_migrations WHERE app = 'site'").fetchone():
        raise damaged(file, where, "it does not say which version has written it")
    is_revised = "site_revisionrow" in tables
    if is_revised and not database.execute("SELECT 1 FROM site_revisionrow").fetchone():
        raise damaged(file, where, "its revision is missing")


def _snapshot(database: sqlite3.Connection, tables: set[str], *, has_checksum: bool) -> Snapshot:
    found = database.execute(
        "SELECT name FROM site_eventrecord ORDER BY id DESC LIMIT 1"
    ).fetchone()
    times = [
        database.execute(f"SELECT max({column}) FROM {table}").fetchone()[0]  # noqa: S608 - own names
        for table, column in _DATED.items()
        if table in tables
    ]
    newest = max(filter(None, times), default=None)
    return Snapshot(
        event=str(found[0]) if found else "",
        newest=None if newest is None else datetime.fromisoformat(newest).replace(tzinfo=UTC),
        counts={
            words: database.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608
            for words, table in _COUNTED.items()
            if table in tables
        },
        has_checksum=has_checksum,
    )
