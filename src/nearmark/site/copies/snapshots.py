"""Copies that the server makes by itself while an event is open, and a restore tried out on one.

A snapshot is a backup as ``nearmark backup`` makes it: whole, with its checksum.  What became of
the newest one, of the second folder and of the last rehearsal is kept in a small file beside them,
so that a page and a command can say it.
"""

import json
import logging
import os
import shutil
import tempfile
import threading
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

from django.conf import settings

from nearmark import __version__
from nearmark.errors import InputError
from nearmark.site.copies.backups import back_up, restore
from nearmark.site.copies.database_check import DATABASE_FILE, look_at

FOLDER: Final = "snapshots"
EVERY: Final = timedelta(minutes=10)
REHEARSE_EVERY: Final = timedelta(hours=24)
LOOK_EVERY_S: Final = 20.0
_NAME: Final = "%Y-%m-%d-%H%M%S"
_STATE: Final = "state.json"

KEEP_ALL: Final = timedelta(hours=2)
KEEP_HOURLY: Final = timedelta(hours=24)
KEEP_DAILY: Final = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class Care:
    """What was done to keep a data folder safe."""

    second: str = ""  # path of the second folder; empty when none is set
    trouble: str = ""  # why the newest snapshot could not be written; empty when it was
    second_trouble: str = ""  # why it could not be copied to the second folder
    backed_up_at: str = ""  # when somebody made a backup, in ISO 8601
    # When a restore was tried out, and by which version.
    rehearsed_at: str = ""
    rehearsed_by: str = ""
    rehearsal_trouble: str = ""  # what was wrong with it


def care_of(data: Path) -> Care:
    """What was done to keep a folder safe so far."""
    try:
        found = json.loads((data / FOLDER / _STATE).read_text(encoding="utf-8"))
        return Care(**{name: str(text) for name, text in found.items()})
    except (OSError, ValueError, TypeError, AttributeError):
        return Care()


def note_care(data: Path, **changes: str) -> None:
    """Write down fields of ``Care``; a full disk keeps nothing else from being done."""
    care = replace(care_of(data), **changes)
    with suppress(OSError):
        folder = _folder(data)
        part = folder / f"{_STATE}.part"
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            json.dump(asdict(care), out)
        part.replace(folder / _STATE)


def snapshots_of(data: Path) -> list[tuple[datetime, Path]]:
    """The snapshots in a folder with their times, the newest first."""
    return _dated(data / FOLDER)


def _dated(folder: Path) -> list[tuple[datetime, Path]]:
    found = []
    for file in folder.glob("*.backup"):
        with suppress(ValueError):
            found.append((datetime.strptime(file.stem, _NAME).astimezone(), file))
    return sorted(found, reverse=True)


def take_snapshot(data: Path, now: datetime) -> Path | None:
    """Make one snapshot, copied and thinned out; ``None``: ``care_of`` says why not."""
    file = data / FOLDER / f"{now.astimezone():{_NAME}}.backup"
    try:
        _folder(data)
        back_up(data, file)
    except (InputError, OSError) as refusal:
        note_care(data, trouble=str(refusal))
        return None
    note_care(data, trouble="", second_trouble=_copied(file, care_of(data).second, now))
    _throw_away(data / FOLDER, now)
    return file


def _copied(file: Path, second: str, now: datetime) -> str:
    """Why a snapshot could not be copied to the second folder; empty when nothing went wrong."""
    if not second:
        return ""
    part = Path(second) / f"{file.name}.part"
    try:
        if not Path(second).is_dir():  # an empty mount point of a lost stick is never made again
            return "the folder is not there"
        with file.open("rb") as source, part.open("wb") as target:
            shutil.copyfileobj(source, target)
            target.flush()
            os.fsync(target.fileno())
        look_at(part)
        part.replace(Path(second) / file.name)
    except (InputError, OSError) as error:
        return getattr(error, "strerror", None) or str(error)
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    _throw_away(Path(second), now)
    return ""


def _throw_away(folder: Path, now: datetime) -> None:
    for _, old in no_more_needed(_dated(folder), now):
        with suppress(OSError):
            old.unlink()


def no_more_needed(
    snapshots: Sequence[tuple[datetime, Path]], now: datetime
) -> list[tuple[datetime, Path]]:
    """Those to throw away: all of two hours are kept, one an hour of a day, one a day of 14 days.

    ``snapshots``: the newest first.
    """
    seen: set[str] = set()
    old = []
    for at, file in snapshots:
        age = now - at
        if age <= KEEP_ALL:
            continue
        span = f"{at:%Y-%m-%d %H}" if age <= KEEP_HOURLY else f"{at:%Y-%m-%d}"
        if age > KEEP_DAILY or span in seen:
            old.append((at, file))
        seen.add(span)
    return old


def rehearse(data: Path, now: datetime) -> str:
    """Bring the newest snapshot back into a folder of its own; what was wrong, or nothing."""
    found = snapshots_of(data)
    file = found[0][1] if found else take_snapshot(data, now)
    trouble = "there is no snapshot to try" if file is None else _tried(file)
    note_care(
        data, rehearsed_at=now.isoformat(), rehearsed_by=__version__, rehearsal_trouble=trouble
    )
    return trouble


def _tried(file: Path) -> str:
    try:
        with tempfile.TemporaryDirectory(prefix="nearmark-rehearsal-") as folder:
            restore(Path(folder), file)
            before, after = look_at(file), look_at(Path(folder) / DATABASE_FILE)
            return "" if before.counts == after.counts else "the counts differ after the restore"
    except (InputError, OSError) as error:
        return str(error)


def is_rehearsal_due(data: Path, now: datetime) -> bool:
    """Whether a restore should be tried: once a day, and after each update."""
    care = care_of(data)
    try:
        last = datetime.fromisoformat(care.rehearsed_at)
    except ValueError:
        return True
    return care.rehearsed_by != __version__ or not timedelta() <= now - last < REHEARSE_EVERY


def is_snapshot_due(data: Path, now: datetime) -> bool:
    """Whether the newest is ten minutes old; one dated in the future does not count."""
    found = snapshots_of(data)
    return not found or not timedelta() <= now - found[0][0] < EVERY


def troubles(data: Path) -> list[str]:
    """What the lead has to know about the copies, each with what to do."""
    care = care_of(data)
    said = []
    if care.trouble:
        said.append(f"The newest snapshot was not written: {care.trouble}.")
    if care.second_trouble:
        said.append(
            f"No copy reaches the second folder {care.second}: {care.second_trouble}. "
            "Put the stick back, or start nearmark serve with another --second-folder."
        )
    if care.rehearsal_trouble:
        said.append(
            f"A restore that was tried out failed: {care.rehearsal_trouble}. "
            "Make a backup now: nearmark backup."
        )
    return said


def _folder(data: Path) -> Path:
    folder = data / FOLDER
    folder.mkdir(mode=0o700, exist_ok=True)
    return folder


def start(data: Path) -> None:
    """Start the thread that makes the copies, in the process that answers."""
    threading.Thread(target=_look_after, args=(data,), name="snapshots", daemon=True).start()


def _look_after(data: Path) -> None:
    from nearmark.site.common import clock  # noqa: PLC0415 - the rest of this module needs no site

    while True:
        threading.Event().wait(LOOK_EVERY_S)
        try:
            look_after_once(data, clock.now())
        except Exception:
            logging.getLogger(__name__).exception("looking after the data folder")


def look_after_once(data: Path, now: datetime) -> None:
    """Do what is due: a snapshot while the event is open, a rehearsal once a day."""
    from django.db import connection  # noqa: PLC0415 - the rest of this module needs no site

    from nearmark.site.event.load import current_event  # noqa: PLC0415

    if connection.vendor != "sqlite":  # PostgreSQL has its own backups
        return
    event = current_event()
    if event is not None and event.released_at is None and is_snapshot_due(data, now):
        take_snapshot(data, now)
    if event is not None and is_rehearsal_due(data, now):
        rehearse(data, now)


def troubles_of_copies() -> list[str]:
    """What the lead has to know about the copies of this server's data folder."""
    return troubles(Path(getattr(settings, "NEARMARK_DATA", "")))
