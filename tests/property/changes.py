"""Ways to change a file that somebody wrote: cut, doubled, wrongly saved, one cell, one setting.

Each takes a ``draw`` of Hypothesis, and what to draw a cell from where it changes one.
"""

import csv
import io
import sqlite3
import zipfile
import zlib
from collections.abc import Callable
from contextlib import closing
from typing import Any

import openpyxl
from hypothesis import strategies as st

Draw = Callable[..., Any]
RAW = (b"\0", b"\xff\xfe", b"\xef\xbb\xbf", b"\r", b"\n", b'"', b",", b";", b"\t", b"\x1a", b"\x80")
VALUES = (
    *('""', "-1", "0", "nan", "inf", "-inf", "1e400", "1" + "0" * 400, "true", "[]", "{}", "[[]]"),
    *("2027-02-30", "2027-05-08T10:00:00Z", '"\\u202e"', '"\\u0000"', "'''", "1_0", "0x10", "=1"),
    *('"' + "x" * 2_000 + '"', "[" * 500, "{a=" * 300, "{ U = 1, k = 0, reading = 0 }", "null"),
)


def bytes_changed(draw: Draw, content: bytes) -> bytes:
    """Cut, doubled, flipped, or with odd bytes put in."""
    at = draw(st.integers(0, len(content)))
    to = draw(st.integers(at, min(len(content), at + 400)))
    return draw(
        st.sampled_from(
            [
                content[:at],
                content[at:],
                content[:at] + content[to:],
                content[:to] + content[at:],
                content[:at] + draw(st.sampled_from(RAW)) + content[at:],
                content[:at] + draw(st.binary(max_size=9)) + content[at:],
                content[:at] + bytes(b ^ 1 for b in content[at : at + 1]) + content[at + 1 :],
                b"",
                content * 3,
            ]
        )
    )


def encoded_anew(draw: Draw, content: bytes) -> bytes:
    """The same text as another program would save it."""
    text = content.decode("utf-8", "replace")
    text = draw(
        st.sampled_from(
            [
                text,
                text.replace("\n", "\r"),
                text.replace("\n", "\r\n"),
                text.replace(",", ";"),
                text.replace(",", "\t"),
                text.replace(".", ","),
                "sep=,\n" + text,
                "\n\n" + text,
                text.upper(),
            ]
        )
    )
    return text.encode(
        draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-32", "cp037"])),
        "replace",
    )


def cells_changed(draw: Draw, content: bytes, odd: st.SearchStrategy[str]) -> bytes:
    """One cell, row or column of a table."""
    text = content.decode("utf-8", "replace").replace("\0", "")
    rows = list(csv.reader(text.splitlines()))
    if not rows or not rows[0]:
        return content
    at = draw(st.integers(0, len(rows) - 1))
    column = draw(st.integers(0, len(rows[0]) - 1))
    row = [*rows[at], *[""] * len(rows[0])][: len(rows[0])]
    how = draw(
        st.sampled_from(["cell", "cell", "cell", "row", "no row", "long", "short", "column"])
    )
    if how == "cell":
        row[column] = draw(odd)
        rows[at] = row
    elif how == "row":
        rows.insert(draw(st.integers(0, len(rows))), row)
    elif how == "no row":
        del rows[at]
    elif how == "long":
        rows[at] = row * draw(st.integers(2, 400))
    elif how == "short":
        rows[at] = row[:column]
    else:
        other = draw(st.integers(-1, len(rows[0]) - 1))
        for line in rows:
            if column < len(line):
                moved = line.pop(column)
                if other >= 0:
                    line.insert(other, moved)
    written = io.StringIO(newline="")
    csv.writer(written, lineterminator="\n").writerows(rows)
    return written.getvalue().encode("utf-8", "surrogatepass")


def settings_changed(draw: Draw, content: bytes) -> bytes:
    """One line of a file of settings."""
    lines = content.decode("utf-8", "replace").split("\n")
    at = draw(st.integers(0, len(lines) - 1))
    name, equals, _ = lines[at].partition("=")
    how = draw(st.sampled_from(["value", "value", "value", "no line", "line", "name"]))
    if how == "value":
        lines[at] = f"{name}{equals or '='} {draw(st.sampled_from(VALUES))}"
    elif how == "no line":
        del lines[at]
    elif how == "line":
        lines.insert(at, lines[at])
    else:
        lines[at] = "x" + lines[at]
    return "\n".join(lines).encode("utf-8", "replace")


def workbook_changed(draw: Draw, content: bytes, odd: st.SearchStrategy[str]) -> bytes:
    """A part of a workbook, or a cell of another kind."""
    if draw(st.booleans()):
        book = openpyxl.load_workbook(io.BytesIO(content))
        cell = book.active.cell(draw(st.integers(1, 4)), draw(st.integers(1, 4)))
        text = draw(odd).encode("ascii", "ignore").decode()
        printable = "".join(sign for sign in text if sign.isprintable())[:200]
        cell.value = draw(
            st.sampled_from([printable, "=1/0", "#REF!", True, 1e308, -0.0, 10**15])
            | st.datetimes().map(lambda at: at.replace(microsecond=0))
        )
        saved = io.BytesIO()
        book.save(saved)
        return saved.getvalue()
    packed = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as old,
        zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        chosen = draw(st.sampled_from(old.namelist()))
        for part in old.namelist():
            inner = old.read(part)
            if part == chosen:
                bomb = b"<!DOCTYPE a [<!ENTITY b 'xxxxxxxx'>]><a>" + b"&b;" * 1_000 + b"</a>"
                zeros = inner + b" " * 30_000_000
                inner = draw(st.sampled_from([bytes_changed(draw, inner), bomb, zeros, b""]))
            new.writestr(part, inner)
    return packed.getvalue()


def jar_changed(draw: Draw, content: bytes) -> bytes:
    """A jar whose checksum is right again after the change."""
    changed = bytes_changed(draw, content[:-4])
    return changed + zlib.crc32(changed).to_bytes(4, "little")


def database_changed(draw: Draw, content: bytes, odd: st.SearchStrategy[str]) -> bytes:
    """A whole database without a checksum, in which somebody wrote or took something away."""
    with closing(sqlite3.connect(":memory:")) as database:
        database.deserialize(content)
        database.execute("PRAGMA foreign_keys=OFF")
        database.execute("PRAGMA application_id=0")
        listed = database.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
        tables = sorted(name for (name,) in listed if not name.startswith("sqlite_"))
        table = draw(st.sampled_from([*["site_answerentry", "site_change"] * 3, *tables]))
        columns = [row[1] for row in database.execute(f"PRAGMA table_info({table})")]
        column = draw(st.sampled_from(columns))
        value = draw(odd.filter(is_storable) | st.integers(-5, 2**62) | st.binary(max_size=5))
        try:
            how = draw(st.sampled_from(["value", "value", "no rows", "no column", "no table"]))
            if how == "value":
                database.execute(f'UPDATE OR IGNORE {table} SET "{column}" = ?', (value,))
            elif how == "no rows":
                database.execute(f"DELETE FROM {table}")
            elif how == "no column":
                database.execute(f'ALTER TABLE {table} DROP COLUMN "{column}"')
            else:
                database.execute(f"DROP TABLE {table}")
        except sqlite3.Error:
            database.rollback()  # what the schema forbids nobody can write
        database.commit()
        return database.serialize()


def is_storable(text: str) -> bool:
    """Whether the text has an encoding."""
    return "\udcff" not in text


def changed(draw: Draw, ending: str, content: bytes, odd: st.SearchStrategy[str]) -> bytes:
    """The content of a file with this ending, changed in one way."""
    ways: list[Callable[[], bytes]] = [lambda: bytes_changed(draw, content)]
    if ending == ".csv":
        ways += [lambda: cells_changed(draw, content, odd)] * 6
        ways += [lambda: encoded_anew(draw, content)]
    elif ending in {".toml", ".json", ".txt"}:
        ways += [lambda: settings_changed(draw, content)] * 4
        ways += [lambda: encoded_anew(draw, content)]
    elif ending == ".xlsx":
        ways += [lambda: workbook_changed(draw, content, odd)] * 4
    elif ending == ".backup":
        ways += [lambda: database_changed(draw, content, odd)] * 4
    elif ending == ".jar":
        ways += [lambda: jar_changed(draw, content)] * 4
    return draw(st.sampled_from(ways))()
