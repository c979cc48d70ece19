"""The folder of a jar library: what is in it, what is done, and how a jar is added.

``library.toml`` says what was asked; ``jar-001.jar`` and so on are the jars; ``jars.csv`` lists
them for all, ``jars-key.csv`` with counts for those who may know.  Every file is written whole or
not at all, the two lists again after each jar.
"""

import csv
import hashlib
import io
import os
import tomllib
from dataclasses import asdict, fields
from pathlib import Path
from typing import Final

import tomli_w

from nearmark.errors import InputError
from nearmark.packing import Census, PackingRequest

SETTINGS, INDEX, KEY = "library.toml", "jars.csv", "jars-key.csv"
OPEN_COLUMNS: Final = ("file", "shape", "width_mm", "vessel", "sha256")
KEY_COLUMNS: Final = ("file", "sha256", *(f.name for f in fields(Census)))


class JarLibrary:
    """A folder of jars.

    ``asked``: what the library is to hold; must be what the folder was begun with. Raises
    InputError if the folder cannot be written or was begun with something else.
    """

    def __init__(self, folder: Path, asked: dict[str, object]) -> None:
        self.folder = folder
        self.rows: dict[str, dict[str, str]] = {}
        self.open_rows: dict[str, dict[str, str]] = {}
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as problem:
            raise _refused(folder, problem) from problem
        self.rows = _listed(folder / KEY, _text(folder / KEY) or "")
        _text(
            folder / INDEX
        )  # is written again later; what cannot be is refused before anything is
        begun = _text(folder / SETTINGS)
        if begun is None:
            self._write(SETTINGS, tomli_w.dumps(asked).encode())
        elif _settings(folder / SETTINGS, begun) != asked:
            raise InputError(
                "holds a library that was begun with other options",
                where="--out",
                value=str(folder),
                mend=f"Give those of its {SETTINGS}, or an empty folder",
            )

    def has(self, name: str, request: PackingRequest) -> bool:
        """Whether a jar is there, whole and listed."""
        path, row = self.folder / name, self.rows.get(name)
        whole = row is not None and path.exists() and _sum(path.read_bytes()) == row["sha256"]
        if row is not None and whole:
            self.open_rows[name] = _open_row(name, request, row["sha256"])
        else:
            self.rows.pop(name, None)
        return whole

    def add(self, name: str, request: PackingRequest, content: bytes, found: Census) -> None:
        """Write a jar and list it."""
        self._write(name, content)
        seen = {k: "" if v is None else str(v) for k, v in asdict(found).items()}
        self.rows[name] = {"file": name, "sha256": _sum(content), **seen}
        self.open_rows[name] = _open_row(name, request, _sum(content))
        self.list_all()

    def list_all(self) -> None:
        """Write both lists again."""
        self._write(KEY, _csv(KEY_COLUMNS, self.rows))
        self._write(INDEX, _csv(OPEN_COLUMNS, self.open_rows))

    def _write(self, name: str, content: bytes) -> None:
        step = self.folder / f".unfinished-{name}"
        try:
            with step.open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            step.replace(self.folder / name)
        except OSError as problem:
            step.unlink(missing_ok=True)
            raise _refused(self.folder / name, problem) from problem


def _text(path: Path) -> str | None:
    try:
        return path.read_bytes().decode("utf-8")
    except FileNotFoundError:
        return None
    except OSError as problem:
        raise _damaged(path, problem.strerror or str(problem)) from problem
    except UnicodeDecodeError as problem:
        raise _damaged(path, "it is not text in UTF-8") from problem


def _settings(path: Path, text: str) -> dict[str, object]:
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as problem:
        raise _damaged(path, str(problem)) from problem


def _listed(path: Path, text: str) -> dict[str, dict[str, str]]:
    """The rows of the jars by file; a row that does not fit the heading is a damaged list."""
    try:
        rows = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as problem:
        raise _damaged(path, str(problem)) from problem
    for number, row in enumerate(rows, start=2):
        if set(row) != set(KEY_COLUMNS) or None in row.values():
            raise _damaged(path, f"row {number} has not its {len(KEY_COLUMNS)} cells")
    return {row["file"]: row for row in rows}


def _damaged(path: Path, how: str) -> InputError:
    return InputError(
        f"cannot be read ({how})",
        where=path.name,
        value=str(path),
        mend="Remove it (its jars are poured again), or name an empty folder with --out",
    )


def _open_row(name: str, request: PackingRequest, content_sum: str) -> dict[str, str]:
    vessel = request.vessel
    edge = f", edge {vessel.edge_cm:g}" if vessel.edge_cm else ""
    sides = (
        f"{vessel.width_cm:g} x {vessel.depth_cm:g}"
        if vessel.form == "box"
        else (f"{vessel.width_cm:g}")
    )
    return {
        "file": name,
        "shape": request.shape.code,
        "width_mm": f"{request.width_mm:g}",
        "vessel": f"{vessel.form} {sides} x {vessel.height_cm:g} cm{edge}",
        "sha256": content_sum,
    }


def _csv(columns: tuple[str, ...], rows: dict[str, dict[str, str]]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows[name] for name in sorted(rows))
    return text.getvalue().encode()


def _sum(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _refused(path: Path, problem: OSError) -> InputError:
    return InputError(
        f"cannot be written ({problem.strerror})",
        where="--out",
        value=str(path),
        mend="Name a folder that may be written; run again to go on, what is done is kept",
    )
