"""Whether everything is ready: a list of checks for command and page, each with what to do.

Only looks; nothing here needs the site to be set up, so that it works beside a running server and
over a folder whose server does not start.
"""

import os
import shutil
import socket
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Final

import nearmark
from nearmark import __version__
from nearmark.errors import InputError
from nearmark.site.copies.database_check import DATABASE_FILE, look_at_live, open_to_read
from nearmark.site.copies.snapshots import EVERY, care_of, snapshots_of, troubles
from nearmark.site.server.log_file import LOG_FILE

MIN_FREE_MB: Final = 500
MAX_BACKUP_AGE: Final = timedelta(hours=12)
MAX_DEVICES: Final = 12
_NEEDED: Final = ("django", "granian", "numpy", "scipy", "numba", "typst", "openpyxl", "pillow")
_FONTS: Final = ("printing/fonts", "site/static/shared/fonts")
_CODE: Final = Path(nearmark.__file__).parent


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at."""

    name: str
    words: str  # what was found
    mend: str = ""  # what to do; empty when it is good

    @property
    def is_good(self) -> bool:
        """Whether there is nothing to do."""
        return not self.mend


def checks(data: Path, *, port: int, address: str, url: str, now: datetime) -> list[Check]:
    """Look at everything a day needs.

    ``port``: where the site is served. ``address``: of this computer on its network. ``url``: what
    other devices open. ``now``: by this computer's clock.
    """
    return [
        _installation(),
        _fonts(),
        _database(data),
        _disk(data),
        _clock(data, now),
        _port(port),
        _address(address, url),
        _devices(data, now),
        _backup(data, now),
        *_snapshots(data, now),
        _log(),
    ]


def _installation() -> Check:
    lost = [name for name in _NEEDED if not _version(name)]
    words = (
        f"Nearmark {__version__}, Python {sys.version.split()[0]}, "
        f"database engine {sqlite3.sqlite_version}"
    )
    if lost:
        mend = "Install Nearmark again: pip install --force-reinstall nearmark"
        return Check("installation", f"{words}; missing: {', '.join(lost)}", mend)
    return Check("installation", words)


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return ""


def _fonts() -> Check:
    lost = [
        place
        for place in _FONTS
        if not [*(_CODE / place).glob("*.ttf"), *(_CODE / place).glob("*.woff2")]
    ]
    if lost:
        mend = "Install Nearmark again: pip install --force-reinstall nearmark"
        return Check("fonts", f"missing in {' and '.join(lost)}", mend)
    return Check("fonts", "for paper and screen are there")


def _database(data: Path) -> Check:
    if os.environ.get("NEARMARK_DATABASE_URL"):
        return Check("database", "PostgreSQL, which has its own checks and backups")
    file = data / DATABASE_FILE
    if not file.exists():
        mend = "Name the right folder with --data, or start nearmark serve, which makes one"
        return Check("database", f"there is none in the folder {data.name}", mend)
    try:
        found = look_at_live(file)
    except InputError as refusal:
        return Check("database", refusal.what, refusal.mend)
    counts = ", ".join(f"{n:,} {words}" for words, n in found.counts.items())
    return Check("database", f"whole: {counts}")


def _disk(data: Path) -> Check:
    there = next(folder for folder in (data.resolve(), *data.resolve().parents) if folder.exists())
    free_mb = shutil.disk_usage(there).free / 1e6
    words = f"{free_mb:,.0f} MB free"
    if free_mb < MIN_FREE_MB:
        return Check("disk", words, f"Make room: {MIN_FREE_MB} MB at least")
    return Check("disk", words)


def _clock(data: Path, now: datetime) -> Check:
    words = f"this computer says {now.astimezone():%d %B %Y, %H:%M:%S}"
    try:
        newest = look_at_live(data / DATABASE_FILE).newest
    except InputError:
        newest = None
    if newest is not None and newest > now + timedelta(minutes=1):
        return Check(
            "clock",
            f"{words}, but the newest entry is of {newest.astimezone():%d %B %Y, %H:%M}",
            "Set the clock of this computer right before anybody types",
        )
    return Check("clock", f"{words}; compare it with your watch")


def _port(port: int) -> Check:
    with socket.socket() as probe:
        probe.settimeout(1)
        is_served = probe.connect_ex(("127.0.0.1", port)) == 0
    state = "something answers there" if is_served else "free, no server runs there"
    return Check("port", f"{port}: {state}")


def _address(address: str, url: str) -> Check:
    if address.startswith("127."):
        return Check(
            "address",
            "this computer is in no network: no other device can reach it",
            "Join the Wi-Fi of the hall, then start nearmark serve again",
        )
    return Check("address", f"{address}: devices in the same Wi-Fi open {url}, not from outside it")


def _devices(data: Path, now: datetime) -> Check:
    try:
        with closing(open_to_read(data / DATABASE_FILE)) as database:
            rows = database.execute(
                "SELECT about, count(*), max(seen_at) FROM site_device "
                "WHERE revoked_at IS NULL AND expires_at > ? GROUP BY about ORDER BY 3 DESC",
                (f"{now.astimezone(UTC):%Y-%m-%d %H:%M:%S.%f}",),
            ).fetchall()
    except (sqlite3.Error, ValueError):
        rows = []
    if not rows:
        return Check("devices", "none is signed in")
    kinds = "; ".join(f"{n} x {about}" for about, n, _ in rows[:MAX_DEVICES])
    return Check("devices", f"{sum(n for _, n, _ in rows)} signed in: {kinds}")


def _backup(data: Path, now: datetime) -> Check:
    mend = "Make one: nearmark backup stick/FILE.backup"
    try:
        made = datetime.fromisoformat(care_of(data).backed_up_at)
    except ValueError:
        return Check("backup", "none was made with nearmark backup yet", mend)
    words = f"the last one is {_age(now - made)} old"
    is_good = timedelta() <= now - made < MAX_BACKUP_AGE
    return Check("backup", words, "" if is_good else mend)


def _snapshots(data: Path, now: datetime) -> Iterator[Check]:
    found = snapshots_of(data)
    care = care_of(data)
    for trouble in troubles(data):
        yield Check("snapshots", trouble, "Do what it says")
    words = (
        f"{len(found)} there, the newest {_age(now - found[0][0])} old"
        if found
        else "none yet; the server makes one every "
        f"{EVERY.total_seconds() / 60:.0f} minutes while an event is open"
    )
    second = care.second or "none set: start nearmark serve with --second-folder STICK"
    yield Check("snapshots", f"{words}; second folder: {second}")
    if care.rehearsed_at and not care.rehearsal_trouble:
        age = _age(now - datetime.fromisoformat(care.rehearsed_at))
        yield Check("restore", f"tried out on a copy {age} ago, all came back")
    elif not care.rehearsed_at:
        yield Check("restore", "not tried out yet; the server does so once a day")


def _age(span: timedelta) -> str:
    minutes = span.total_seconds() / 60
    if minutes < 120:
        return f"{minutes:.0f} minutes"
    return f"{minutes / 60:.0f} hours" if minutes < 2880 else f"{minutes / 1440:.0f} days"


def _log() -> Check:
    return Check(
        "log", f"{LOG_FILE} in the data folder holds no name and no key: it may be sent on"
    )
