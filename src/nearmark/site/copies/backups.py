"""Copies of the database: whole while the server writes, never silently older when they come back.

The copy is made by SQLite's own backup interface, which gives one moment of the database, not a
file that changes while it is read.  Nothing here needs the site to be set up: a damaged database
must not keep its backup from being brought back.
"""

import os
import shutil
import sqlite3
from contextlib import closing, suppress
from datetime import UTC, datetime
from itertools import chain, count
from pathlib import Path
from typing import Final

from nearmark.errors import InputError
from nearmark.site.copies.database_check import (
    DATABASE_FILE,
    MARK,
    Snapshot,
    damaged,
    look_at,
    open_to_read,
    seal,
)
from nearmark.site.copies.folder_lock import hold_folder

_SIDE_FILES: Final = ("-wal", "-shm", "-journal")


def back_up(data: Path, file: Path) -> Snapshot:
    """Copy the database of a folder, also while a server writes to it.

    ``file``: must not be there yet; it appears only when it is whole and on the disk. Returns what
    is in the copy.
    """
    source = _database_of(data)
    if file.exists():
        raise InputError(
            "is there already", where="FILE", value=file, mend="Name a new file: backups are kept"
        )
    part = file.with_name(f"{file.name}.part")
    try:
        _copy(source, part, mark=MARK)
        seal(part)
        _sync(part)
        snapshot = _looked_at(part, source)
        part.replace(file)
        _sync(file.parent)
    except (OSError, sqlite3.Error) as error:
        raise InputError(
            f"cannot be written ({_said(error)})",
            where="FILE",
            value=file,
            mend="Choose another disk or folder with room; the database is as it was",
        ) from error
    except UnicodeDecodeError as error:
        raise damaged(source, "database", "the names of its tables are no text") from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    return snapshot


def _looked_at(copy: Path, source: Path) -> Snapshot:
    try:
        return look_at(copy)
    except InputError as refusal:
        raise InputError(
            refusal.what,
            where="database",
            value=source,
            mend="Bring an earlier copy back: nearmark restore --help",
        ) from refusal


def restore(data: Path, file: Path) -> Path | None:
    """Put a backup in the place of the database of a folder that no server uses.

    Returns where what was there before is kept; ``None`` if there was nothing. Raises InputError:
    nothing is changed then.
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
    """What is in a folder now; ``None``: nothing, or nothing that can be read."""
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

    ``what``: what is about to be done; part of the name of the copy. ``target``: whole after this,
    with or without its side files.
    """
    now = datetime.now(UTC).astimezone()  # noqa: TID251 - a name for a file, not a fact of the event
    kept = _free_name(target.parent, f"before-{what}-{now:%Y-%m-%d-%H%M%S}")
    try:
        _copy(target, kept)
        # Takes in what is in the side files, which are about to go.
        with closing(sqlite3.connect(target)) as database:
            database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except (sqlite3.DatabaseError, ValueError):
        # Damaged: every byte of it is kept, for somebody who can read more out of it.
        kept.unlink(missing_ok=True)
        for ending in ("", *_SIDE_FILES):
            part = target.with_name(target.name + ending)
            if part.exists():
                shutil.copy2(part, kept.with_name(kept.name + ending))
                _sync(kept.with_name(kept.name + ending))
    _sync(kept.parent)
    return kept


def _free_name(folder: Path, stem: str) -> Path:
    """A name that no file has: two restores may come within a second."""
    names = chain([stem], (f"{stem}-{n}" for n in count(2)))
    return next(file for name in names if not (file := folder / f"{name}.sqlite3").exists())


def _copy(source: Path, target: Path, *, mark: int = 0) -> None:
    """One moment of a database as a single file, on the disk when this returns."""
    target.unlink(missing_ok=True)
    with closing(open_to_read(source)) as old, closing(sqlite3.connect(target)) as new:
        old.backup(new)
        # A copy that is carried around must not need files beside it.
        new.execute("PRAGMA journal_mode=DELETE")
        new.execute(f"PRAGMA application_id={mark}")
    target.chmod(0o600)  # children's names, hashes of passwords
    _sync(target)


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


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


def _said(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error)
