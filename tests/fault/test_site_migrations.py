"""A database that the first version has written, brought up to date without a loss.

``tests/data/site-0003.sql`` is the dump of a data folder made by the code of the commit before the
fourth migration: the small invented event of ``conftest``, a device, a code, a heat, a job with its
file.
"""

import json
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from nearmark.contest.event import Event
from nearmark.event_folder import read_event

DUMP = Path(__file__).parents[1] / "data" / "site-0003.sql"
BRING_UP_TO_DATE = """
import json, sys
from pathlib import Path
from nearmark.site.server.serving import Served, prepare
prepare(Served(Path(sys.argv[1]), 0, "127.0.0.1", is_local=True))
from django.core.management import call_command
from nearmark.event_folder import write_event
from nearmark.site.event.load import current_event, load_event
call_command("makemigrations", "--check", "--dry-run", verbosity=0)
write_event(load_event(current_event()), Path(sys.argv[2]))
"""

pytestmark = pytest.mark.slow

Rows = dict[str, tuple[list[str], list[tuple[object, ...]]]]


def rows(file: Path, columns: dict[str, list[str]] | None = None) -> Rows:
    """Every row of every table, in its columns of then."""
    with closing(sqlite3.connect(file)) as database:
        tables = [
            name
            for (name,) in database.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
            if name.startswith("site_")
        ]
        found: Rows = {}
        for table in tables if columns is None else columns:
            info = database.execute(f"PRAGMA table_info({table})")
            names = columns[table] if columns else [row[1] for row in info]
            chosen = ", ".join(f'"{name}"' for name in names)
            found[table] = (names, sorted(database.execute(f"SELECT {chosen} FROM {table}")))
        return found


@pytest.fixture
def data(tmp_path) -> Path:
    """The folder as the first version left it."""
    (tmp_path / "data").mkdir()
    with closing(sqlite3.connect(tmp_path / "data" / "nearmark.sqlite3")) as database:
        database.executescript(DUMP.read_text(encoding="utf-8"))
    return tmp_path / "data"


def as_dumped(event: Event) -> Event:
    """The small event with the samples that it had when the dump was made."""
    masses_g = ("63.2", "62.8", "63.1")
    samples = zip(event.samples, masses_g, strict=True)
    return replace(
        event, samples=tuple(replace(row, mass_g=Decimal(mass)) for row, mass in samples)
    )


def test_nothing_is_lost_from_the_first_version_to_this_one(data, tmp_path, small_event):
    file = data / "nearmark.sqlite3"
    before = rows(file)
    assert sum(len(table) for _, table in before.values()) > 50

    said = subprocess.run(
        [sys.executable, "-c", BRING_UP_TO_DATE, str(data), str(tmp_path / "event")],
        check=False,
        capture_output=True,
        text=True,
    )

    assert said.returncode == 0, said.stderr
    assert rows(file, {table: names for table, (names, _) in before.items()}) == before
    assert read_event(tmp_path / "event") == as_dumped(small_event)
    with closing(sqlite3.connect(file)) as database:
        assert database.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []


def test_what_was_there_before_is_kept_in_a_file(data, tmp_path):
    before = rows(data / "nearmark.sqlite3")
    subprocess.run(
        [sys.executable, "-c", BRING_UP_TO_DATE, str(data), str(tmp_path / "event")],
        check=True,
        capture_output=True,
    )

    (kept,) = data.glob("before-update-*.sqlite3")
    assert rows(kept) == before


def test_a_database_of_a_newer_version_is_refused_and_unchanged(data, tmp_path):
    file = data / "nearmark.sqlite3"
    with closing(sqlite3.connect(file)) as database:
        database.execute(
            "INSERT INTO django_migrations (app, name, applied)"
            " VALUES ('site', '9999_later', '2030-01-01')"
        )
        database.commit()
    before = shutil.copy(file, tmp_path / "copy")

    command = [sys.executable, "-m", "nearmark.cli", "serve", "--local", "--json"]
    said = subprocess.run(
        [*command, "--data", str(data)],
        check=False,
        capture_output=True,
        text=True,
        timeout=100,
    )

    assert said.returncode == 2, said.stderr
    assert "newer Nearmark" in json.loads(said.stdout)["error"]["what"]
    assert rows(file) == rows(Path(before))
