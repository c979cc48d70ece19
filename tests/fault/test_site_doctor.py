"""The doctor looks at a database that its own process has in use, and leaves its locks alone."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from nearmark.site.copies.database_check import DATABASE_FILE
from nearmark.site.server.doctor import checks

NOW = datetime(2027, 5, 8, 9, tzinfo=UTC)
PROGRAM = """
import sqlite3, sys
database = sqlite3.connect(sys.argv[1])
print(database.execute(sys.argv[2]).fetchall())
database.commit()
database.close()
"""


def elsewhere(file: Path, sql: str) -> str:
    """What another program reads that opens the database, may write to it, and closes it."""
    command = [sys.executable, "-c", PROGRAM, str(file), sql]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout.strip()


def test_what_is_saved_after_a_visit_to_the_doctor_is_in_the_file(fill, tmp_path):
    data = tmp_path / "data"
    fill(data)
    file = data / DATABASE_FILE
    with closing(sqlite3.connect(file)) as server:
        server.execute("SELECT name FROM site_account").fetchall()
        found = checks(data, port=8000, address="", url="", now=NOW)
        # The last program that closes a database deletes its log; this one must not think it is.
        elsewhere(file, "UPDATE site_account SET job = ''")
        server.execute("UPDATE site_account SET job = 'saved'")
        server.commit()

        assert elsewhere(file, "SELECT DISTINCT job FROM site_account") == "[('saved',)]"
    assert "whole: " in {check.name: check.words for check in found}["database"]
