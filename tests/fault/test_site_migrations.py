"""A database of every schema there was, brought up to date without a loss.

``tests/data/site-NNNN.sql`` is the dump of a data folder whose newest migration was NNNN, made by
the code of then (``tools/site_dump.py``).  Where that code could not do something yet, and the
schema could hold it, the first line of the file says so.
"""

import json
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

import nearmark.site

DUMPS = sorted((Path(__file__).parents[1] / "data").glob("site-*.sql"))
MIGRATIONS = sorted((Path(nearmark.site.__file__).parent / "migrations").glob("[0-9]*.py"))
HELPER = Path(__file__).with_name("upgrading.py")
MAX_DUMPS_BYTES = 3_000_000
pytestmark = [pytest.mark.fault, pytest.mark.slow]

Rows = dict[str, tuple[list[str], list[tuple[object, ...]]]]
Upgrade = Callable[..., dict[str, Any]]


def rows(file: Path, columns: dict[str, list[str]] | None = None) -> Rows:
    """Every row of every table of the site, in the columns given or in all.

    Left out is the revision: it is drawn anew with every change, and an update is one.
    """
    with closing(sqlite3.connect(file)) as database:
        tables = [
            name
            for (name,) in database.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
            if name.startswith("site_") and name != "site_revisionrow"
        ]
        found: Rows = {}
        for table in tables if columns is None else columns:
            info = database.execute(f"PRAGMA table_info({table})")
            names = columns[table] if columns else [row[1] for row in info]
            chosen = ", ".join(f'"{name}"' for name in names)
            listed = database.execute(f"SELECT {chosen} FROM {table}")
            found[table] = (names, sorted(listed, key=repr))
        return found


def loaded(dump: Path, folder: Path) -> Path:
    """A data folder as the code of then left it."""
    folder.mkdir()
    with closing(sqlite3.connect(folder / "nearmark.sqlite3")) as database:
        database.executescript(dump.read_text(encoding="utf-8"))
    return folder


@pytest.fixture(scope="module")
def upgrade(site_kill) -> Iterator[Upgrade]:
    """Bring a folder up to date and use it, in the helper's processes."""
    with subprocess.Popen(
        [sys.executable, str(HELPER)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as helper:
        assert helper.stdin is not None
        assert helper.stdout is not None
        stdin, stdout = helper.stdin, helper.stdout

        def ask(data: Path, what: str = "use") -> dict[str, Any]:
            asked = {"data": str(data), "port": site_kill.free_port(), "what": what}
            print(json.dumps(asked), file=stdin)
            stdin.flush()
            told: dict[str, Any] = json.loads(stdout.readline())
            assert "broke" not in told, told["broke"]
            return told

        yield ask
        stdin.close()


@pytest.mark.parametrize("dump", DUMPS, ids=lambda dump: dump.stem)
def test_nothing_is_lost_and_the_event_goes_on(dump, tmp_path, upgrade):
    data = loaded(dump, tmp_path / "data")
    before = rows(data / "nearmark.sqlite3")
    used = upgrade(data)

    after = data / "upgraded.sqlite3"
    assert rows(after, {table: names for table, (names, _) in before.items()}) == before
    with closing(sqlite3.connect(after)) as database:
        assert database.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
    assert used["sign in"] == 302
    assert {address: status for address, status in used["pages"].items() if status != 200} == {}
    assert used["saved"] == ["1357"]
    assert ("site_club" in before) == any("/season/pupil/" in page for page in used["pages"])
    kept = [*data.glob("before-update-*.sqlite3")]
    is_newest = dump.stem == f"site-{MIGRATIONS[-1].name[:4]}"
    assert [rows(file) for file in kept] == [before] * (not is_newest), "a copy from before"


@pytest.mark.parametrize("dump", DUMPS, ids=lambda dump: dump.stem)
def test_every_table_of_then_holds_something(dump, tmp_path):
    found = rows(loaded(dump, tmp_path / "data") / "nearmark.sqlite3")

    assert [table for table, (_, listed) in found.items() if not listed] == []


def test_every_migration_has_the_dump_of_the_schema_before_it():
    """The way to make one is in CONTRIBUTING.md, under "Add a migration"."""
    kept = {dump.stem for dump in DUMPS}
    missing = [f"site-{file.name[:4]}" for file in MIGRATIONS[:-1]]

    assert [name for name in missing if name not in kept] == []
    assert sum(dump.stat().st_size for dump in DUMPS) < MAX_DUMPS_BYTES


def test_the_newest_schema_is_that_of_the_models(tmp_path, upgrade):
    data = loaded(DUMPS[-1], tmp_path / "data")

    assert upgrade(data, "due") == {"due": "No changes detected"}


def test_a_database_of_a_newer_version_is_refused_and_unchanged(tmp_path):
    data = loaded(DUMPS[-1], tmp_path / "data")
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
