"""Copies of the database: whole while the server writes, never silently older when they come back.

The copy is made by SQLite's own backup interface, which gives one moment of the database, not a
file that changes while it is read.  Nothing here needs the site to be set up: a damaged database
must not keep its backup from being brought back.
"""

import os
import shutil
import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from nearmark.errors import InputError
from nearmark.site.folder_lock import hold_folder
from nearmark.site.settings import DATABASE_FILE

_MIGRATIONS: Final = Path(__file__).parent / "migrations"
_SIDE_FILES: Final = ("-wal", "-shm", "-journal")
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


@dataclass(frozen=True, slots=True)
class Snapshot:
    """What stands in a database.

    Attributes
    ----------
    event : str
        Name of the newest event; empty before there is one.
    newest : datetime or None
        When the last reading or change was written down.
    counts : dict of words -> int
    """

    event: str
    newest: datetime | None
    counts: dict[str, int]


def back_up(data: Path, file: Path) -> Snapshot:
    """Copy the database of a folder, also while a server writes to it.

    Parameters
    ----------
    data : path of a folder
    file : path
        Must not be there yet; it appears only when it is whole and on the disk.

    Returns
    -------
    Snapshot
        What stands in the copy.

    Raises
    ------
    InputError
    """
    source = _database_of(data)
    if file.exists():
        raise InputError(
            "is there already", where="FILE", value=file, mend="Name a new file: backups are kept"
        )
    part = file.with_name(f"{file.name}.part")
    try:
        _copy(source, part)
        snapshot = look_at(part)
        part.replace(file)
        _sync(file.parent)
    except (OSError, sqlite3.Error) as error:
        raise InputError(
            f"cannot be written ({_said(error)})",
            where="FILE",
            value=file,
            mend="Choose another disk or folder with room; the database is as it was",
        ) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    return snapshot


def look_at(file: Path) -> Snapshot:
    """Check that a file is a whole database of Nearmark, and say what stands in it.

    Parameters
    ----------
    file : path

    Raises
    ------
    InputError
        If it is damaged, of another program, or of a newer Nearmark.
    """
    _refuse_other_files(file)
    try:
        with closing(_open(file)) as database:
            told = database.execute("PRAGMA integrity_check").fetchone()[0]
            if told != "ok":
                raise _damaged(file)
            tables = {name for (name,) in database.execute("SELECT name FROM sqlite_schema")}
            if "site_eventrecord" not in tables:
                raise _foreign(file)
            _refuse_unknown(database, file)
            return _snapshot(database, tables)
    except sqlite3.Error as error:
        raise _damaged(file) from error


def refuse_newer(file: Path) -> None:
    """Refuse a database that a newer Nearmark has written.

    Parameters
    ----------
    file : path
        May be missing, or no database yet.

    Raises
    ------
    InputError
    """
    if file.exists():
        with suppress(sqlite3.Error), closing(_open(file)) as database:
            _refuse_unknown(database, file)


def restore(data: Path, file: Path) -> Path | None:
    """Put a backup in the place of the database of a folder that no server uses.

    Parameters
    ----------
    data : path of a folder
    file : path

    Returns
    -------
    path or None
        Where what was there before is kept; ``None`` if there was nothing.

    Raises
    ------
    InputError
        Nothing is changed then.
    """
    look_at(file)
    try:
        data.mkdir(parents=True, exist_ok=True)
        with hold_folder(data, wait_s=0.0):
            return _replace(data / DATABASE_FILE, file)
    except (OSError, sqlite3.Error) as error:
        raise InputError(
            f"cannot be written to ({_said(error)}); the database is as it was",
            where="--data",
            value=data,
            mend="Make room on the disk, or choose another folder",
        ) from error


def present(data: Path) -> Snapshot | None:
    """What stands in a folder now; ``None``: nothing, or nothing that can be read.

    Parameters
    ----------
    data : path of a folder
    """
    file = data / DATABASE_FILE
    if not file.exists():
        return None
    try:
        return look_at(file)
    except InputError:
        return None


def _replace(target: Path, file: Path) -> Path | None:
    part = target.with_name(f"{target.name}.part")
    try:
        _copy(file, part)
        _note_return(part, look_at(part))
        kept = keep_before("restore", target) if target.exists() else None
        for ending in _SIDE_FILES:
            target.with_name(target.name + ending).unlink(missing_ok=True)
        part.replace(target)
        _sync(target.parent)
    finally:
        part.unlink(missing_ok=True)
    return kept


def _note_return(part: Path, snapshot: Snapshot) -> None:
    """A line in the history of the event: readings that came after the backup are missing here."""
    now = datetime.now(UTC)  # noqa: TID251 - no site is set up whose clock could be asked
    of = f"{snapshot.newest.astimezone():%Y-%m-%d %H:%M}" if snapshot.newest else "no entry yet"
    with closing(sqlite3.connect(part)) as database, database:
        database.execute(
            "INSERT INTO site_change (event_id, at, who, what, old, new, why) "
            "SELECT max(id), ?, 'nearmark restore', 'brought a backup back', '', ?, '' "
            "FROM site_eventrecord",
            (f"{now:%Y-%m-%d %H:%M:%S.%f}", f"newest entry {of}"),
        )
    _sync(part)


def keep_before(what: str, target: Path) -> Path:
    """A copy beside a database of what is there now.

    Parameters
    ----------
    what : str
        What is about to be done; part of the name of the copy.
    target : path
        Whole after this, with or without its side files.

    Returns
    -------
    path
    """
    now = datetime.now(UTC).astimezone()  # noqa: TID251 - a name for a file, not a fact of the event
    kept = target.with_name(f"before-{what}-{now:%Y-%m-%d-%H%M%S}.sqlite3")
    if kept.exists():
        raise InputError("is there already", where="FILE", value=kept, mend="Try again")
    try:
        _copy(target, kept)
        # Takes in what stands in the side files, which are about to go.
        with closing(sqlite3.connect(target)) as database:
            database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except sqlite3.DatabaseError:
        # Damaged: every byte of it is kept, for somebody who can read more out of it.
        kept.unlink(missing_ok=True)
        for ending in ("", *_SIDE_FILES):
            part = target.with_name(target.name + ending)
            if part.exists():
                shutil.copy2(part, kept.with_name(kept.name + ending))
                _sync(kept.with_name(kept.name + ending))
    _sync(kept.parent)
    return kept


def _copy(source: Path, target: Path) -> None:
    """One moment of a database as a single file, on the disk when this returns."""
    target.unlink(missing_ok=True)
    with closing(_open(source)) as old, closing(sqlite3.connect(target)) as new:
        old.backup(new)
        # A copy that is carried around must not need files beside it.
        new.execute("PRAGMA journal_mode=DELETE")
    target.chmod(0o600)  # children's names, hashes of passwords
    _sync(target)


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _open(file: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True, timeout=20)


def _database_of(data: Path) -> Path:
    file = data / DATABASE_FILE
    if not file.is_file():
        raise InputError(
            "holds no database of Nearmark",
            where="--data",
            value=data,
            mend="Name the folder that nearmark serve uses (a PostgreSQL database has its own "
            "backup program)",
        )
    return file


def _refuse_other_files(file: Path) -> None:
    try:
        with file.open("rb") as opened:
            start = opened.read(16)
    except OSError as error:
        raise InputError(
            f"cannot be read ({error.strerror})", where="FILE", value=file, mend="Name a backup"
        ) from error
    if start != b"SQLite format 3\x00":
        raise _foreign(file)


def _foreign(file: Path) -> InputError:
    return InputError(
        "is no backup of Nearmark",
        where="FILE",
        value=file,
        mend="Name a file that nearmark backup has made",
    )


def _damaged(file: Path) -> InputError:
    return InputError("is damaged", where="FILE", value=file, mend="Take another backup")


def _refuse_unknown(database: sqlite3.Connection, file: Path) -> None:
    known = {path.stem for path in _MIGRATIONS.glob("[0-9]*.py")}
    rows = database.execute("SELECT name FROM django_migrations WHERE app = 'site'")
    if not {name for (name,) in rows} <= known:
        raise InputError(
            "was written by a newer Nearmark",
            where="database",
            value=file,
            mend="Install that version, or a later one, and try again",
        )


def _snapshot(database: sqlite3.Connection, tables: set[str]) -> Snapshot:
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
        event=found[0] if found else "",
        newest=None if newest is None else datetime.fromisoformat(newest).replace(tzinfo=UTC),
        counts={
            words: database.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608
            for words, table in _COUNTED.items()
            if table in tables
        },
    )


def _said(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error)
