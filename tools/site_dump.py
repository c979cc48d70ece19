"""Keep the database of a data folder as a small text file for the upgrade tests, and the way back.

python tools/site_dump.py load DATA-FOLDER      a new data folder from the newest dump
python tools/site_dump.py keep DATA-FOLDER      its dump: tests/data/site-NNNN.sql

NNNN is the newest migration in the database; the file holds its whole schema and rows.  Left out
are what Django writes anew after each update (content types and permissions) and the end of a file
over 24 kB that somebody asked for, such as a PDF.

Only invented people may be in the folder: what is kept here is public.
"""

import argparse
import sqlite3
from contextlib import closing
from pathlib import Path

KEPT = Path(__file__).parents[1] / "tests" / "data"
DATABASE = "nearmark.sqlite3"
MAX_FILE_BYTES = 24_000
WRITTEN_ANEW = ("auth_permission", "django_content_type")


def load(data: Path) -> Path:
    """Make a data folder from the newest dump.

    Parameters
    ----------
    data : path of a folder
        Must not be there.

    Returns
    -------
    path
        Of the dump.
    """
    newest = max(KEPT.glob("site-*.sql"))
    data.mkdir(parents=True)
    with closing(sqlite3.connect(data / DATABASE)) as database:
        database.executescript(newest.read_text(encoding="utf-8"))
    return newest


def keep(data: Path, note: str) -> Path:
    """Write the dump of a data folder that no server uses.

    Parameters
    ----------
    data : path of a folder
    note : str
        How its content came about; the first line of the file.

    Returns
    -------
    path
        Of the file, which replaces an earlier one of the same schema.
    """
    with (
        closing(sqlite3.connect(f"file:{data / DATABASE}?mode=ro", uri=True)) as source,
        closing(sqlite3.connect(":memory:")) as copy,
    ):
        source.backup(copy)
        copy.execute("PRAGMA foreign_keys=OFF")
        for table in WRITTEN_ANEW:
            copy.execute(f"DELETE FROM {table}")
        for table, column in _files(copy):
            copy.execute(
                f"UPDATE {table} SET {column} = substr({column}, 1, 200) "
                f"WHERE length({column}) > {MAX_FILE_BYTES}"
            )
        copy.commit()
        (newest,) = copy.execute(
            "SELECT max(name) FROM django_migrations WHERE app = 'site'"
        ).fetchone()
        target = KEPT / f"site-{newest[:4]}.sql"
        lines = [f"-- {note}", *copy.iterdump()]
        target.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="")
    return target


def _files(database: sqlite3.Connection) -> list[tuple[str, str]]:
    tables = database.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
    return [
        (table, row[1])
        for (table,) in tables
        for row in database.execute(f"PRAGMA table_info({table})")
        if row[2].upper() == "BLOB"
    ]


def main() -> None:
    """Do what the words after the command say."""
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("act", choices=("load", "keep"))
    words.add_argument("data", type=Path)
    words.add_argument("--note", default="invented content, typed into the forms of the site")
    asked = words.parse_args()
    if asked.act == "load":
        print(f"{asked.data} is as in {load(asked.data).name}; the lead is Juniper")
        return
    target = keep(asked.data, asked.note)
    print(f"{target}: {target.stat().st_size:,} bytes")


if __name__ == "__main__":
    main()
