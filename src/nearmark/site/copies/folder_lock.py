"""One server to a data folder: a second one would have a write lock of its own.

The lock is the operating system's: it ends with the process however that ends, so that nothing is
left for a hand to clear after a kill or a power cut.
"""

import os
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import IO, Final

from nearmark.errors import InputError
from nearmark.site.copies.database_check import DATABASE_FILE

LOCK_FILE: Final = "in-use"
WAIT_S: Final = 5.0
"""A server that was killed a moment ago may still be ending."""

_EVERY_S: Final = 0.1


def hold_folder(data: Path, *, wait_s: float = WAIT_S) -> IO[bytes]:
    """Take a data folder for this process and those it starts.

    ``wait_s``: how long to wait for another process to end. Returns the open lock: the folder is
    free again when it is closed everywhere. Raises InputError if another process has it.
    """
    handle = os.open(data / LOCK_FILE, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o600)
    file = os.fdopen(handle, "ab")
    until = time.monotonic() + wait_s
    while not _locked(file):
        if time.monotonic() > until:
            file.close()
            raise InputError(
                "is in use by a running Nearmark",
                where="--data",
                value=data,
                mend="Stop that one first (Ctrl+C in its terminal), or name another folder",
            )
        time.sleep(_EVERY_S)
    return file


def own_folder(data: Path) -> None:
    """Let nobody else on this computer read what is in a data folder; make it if it is missing."""
    data.mkdir(parents=True, exist_ok=True)
    # The side files of a database get the rights of the database.
    (data / DATABASE_FILE).touch()
    for file in (data, *(file for file in data.rglob("*") if not file.is_symlink())):
        with suppress(OSError):  # a stick may know no rights
            file.chmod(0o700 if file.is_dir() else 0o600)


def _locked(file: IO[bytes]) -> bool:
    if sys.platform == "win32":
        return True  # the port is the only guard there
    import fcntl  # noqa: PLC0415 - not on every system

    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
