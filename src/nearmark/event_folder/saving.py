"""A set of files saved so that a crash leaves all of the old ones or all of the new ones.

The new files are written to a side folder, which becomes ``.saved`` by one rename: before it the
old files count, from then on the new ones do (``loading.load`` looks there first).  Then each is
put in its place, and ``.saved`` is renamed away before it is removed.  Other files stay.
"""

import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from nearmark.errors import InputError
from nearmark.event_folder.loading import SAVED

UNFINISHED = ".unfinished"
"""Being written; of no value when found."""

DONE = ".done"
"""Everything of it is in place; of no value when found."""


def save(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write the files, all or none.

    ``folder``: made when it is not there. ``contents``: bytes by file name. Raises InputError if
    the folder cannot be written to.
    """
    with _refusals(folder):
        folder.mkdir(parents=True, exist_ok=True)
        if (folder / SAVED).is_dir():
            _put_in_place(folder)
        side = folder / UNFINISHED
        _remove(side)
        side.mkdir()
        for name, content in contents.items():
            _write_through(side / name, content)
        _sync(side)
        side.rename(folder / SAVED)
        _sync(folder)
        _put_in_place(folder)


def replace_each(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write each file whole, one after the other: enough for what can be computed again.

    ``folder``: made when it is not there. ``contents``: bytes by file name. Raises InputError if
    the folder cannot be written to.
    """
    with _refusals(folder):
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in contents.items():
            _replace(folder / name, content)
        _sync(folder)


def _put_in_place(folder: Path) -> None:
    """Copy every file of ``.saved`` to its place, then retire ``.saved``."""
    saved = folder / SAVED
    for source in sorted(saved.iterdir()):
        # Copied, not moved: until the last one is in place ``.saved`` stays whole.
        _replace(folder / source.name, source.read_bytes(), modified_as=source)
    _sync(folder)
    _remove(folder / DONE)
    saved.rename(folder / DONE)
    _sync(folder)
    _remove(folder / DONE)


def _replace(path: Path, content: bytes, *, modified_as: Path | None = None) -> None:
    step = path.with_name(f"{UNFINISHED}-{path.name}")
    _write_through(step, content)
    if modified_as:
        shutil.copystat(modified_as, step)
    step.replace(path)


@contextmanager
def _refusals(folder: Path) -> Iterator[None]:
    """Turn what the system refuses into a message with a mend."""
    try:
        yield
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(
            f"cannot be written to: {reason}",
            where="folder",
            value=folder,
            mend="Check the room on the disk and who may write there; no file is left half-written",
        ) from error


def _remove(folder: Path) -> None:
    if folder.is_dir():
        shutil.rmtree(folder)


def _write_through(path: Path, content: bytes) -> None:
    """Write a file down to the disk, not only to the system's memory."""
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _sync(folder: Path) -> None:
    """Have the folder's own entries on the disk, where the system knows how."""
    if os.name != "posix":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
