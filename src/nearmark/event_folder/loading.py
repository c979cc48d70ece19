"""The bytes of an event's files from disk, and their text; limits are held before anything is read.

Whatever is in a folder, this gives either text or problems.
"""

import codecs
import re
import stat
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path, PurePath

from nearmark.errors import Problem
from nearmark.event_folder.problems import Problems

MAX_FILE_BYTES = 20_000_000
_LIMIT = f"{MAX_FILE_BYTES / 1e6:.0f} MB"
SAVED = ".saved"
"""A complete newer save whose files were still being put in place when it was interrupted."""

_TABLE_SUFFIXES = {".csv", ".tsv", ".txt", ".toml", ".xls", ".xlsx", ".ods"}
_OURS = {"standings.csv", "item_scores.csv", "keys.csv", "schools.csv", "results.xlsx"}
"""Written by ``export_results``, maybe into the same folder."""

_ADDED = re.compile(r"([\s._-]*(\(\d+\)|copy|csv|toml|tsv|xlsx?|ods))+$")
"""What browsers, file managers and spreadsheets add to a name."""

_SAVE_AS = "Save the file as CSV UTF-8"


@dataclass(frozen=True, slots=True)
class FileName:
    """A file an event may have."""

    name: str
    required: bool


def load(folder: Path, names: Iterable[FileName], problems: Problems) -> dict[str, bytes]:
    """Read the files that are there.

    ``problems``: what is misnamed, too large, not a file or unreadable is added. Returns bytes by
    file name. Raises FilesError if the folder itself cannot be opened.
    """
    wanted = tuple(names)
    try:
        present = [entry.name for entry in folder.iterdir()]
        saved = folder / SAVED if SAVED in present else None
        if saved is not None and saved.is_dir():
            _refuse_later_edits(folder, saved, wanted, problems)
            folder, present = saved, [entry.name for entry in saved.iterdir()]
    except (OSError, ValueError) as error:
        what = "is not a folder" if isinstance(error, NotADirectoryError) else "cannot be opened"
        if isinstance(error, FileNotFoundError):
            what = "is not there"
        mend = "Name the folder of the event"
        problems.add(Problem(folder.name or str(folder), 0, "", "", what, mend))
        problems.raise_if_any()
    contents = {}
    for file in wanted:
        if file.name in present:
            content = _bytes_of(folder / file.name, problems)
            if content is not None:
                contents[file.name] = content
        else:
            _refuse_lookalike(file, present, wanted, problems)
    return contents


def _bytes_of(path: Path, problems: Problems) -> bytes | None:
    try:
        seen = path.lstat()
        if not stat.S_ISREG(seen.st_mode):
            what, mend = "is not a file but a link, folder or device", "Put the file itself there"
        elif seen.st_size > MAX_FILE_BYTES:
            what = f"has {seen.st_size / 1e6:,.0f} MB; the limit is {_LIMIT}"
            mend = "Keep only the rows of this event"
        else:
            with path.open("rb") as file:
                content = file.read(MAX_FILE_BYTES + 1)
            if len(content) <= MAX_FILE_BYTES:
                return content
            what = f"grew over the limit of {_LIMIT} while it was read"
            mend = "Save it again while nothing else writes to it"
    except OSError as error:
        what = f"cannot be read: {error.strerror or error}"
        mend = "Close it elsewhere and check who may read it"
    problems.add(Problem(path.name, 0, "", "", what, mend))
    return None


def _refuse_lookalike(
    file: FileName, present: list[str], wanted: tuple[FileName, ...], problems: Problems
) -> None:
    """Notice a misspelled or wrongly saved file where one is missing: it would be ignored."""
    stranger = _lookalike(file.name, present, {f.name for f in wanted})
    if stranger:
        what = "is missing; a similar file would be ignored"
        mend = f"Save {stranger} as {file.name} (UTF-8), or move it elsewhere"
        problems.add(Problem(file.name, 0, "", stranger, what, mend))


def _lookalike(name: str, present: list[str], known: set[str]) -> str | None:
    by_stem = {
        _ADDED.sub("", PurePath(entry).stem.casefold()): entry
        for entry in sorted(present)
        if entry not in known | _OURS
        and not entry.startswith((".", "~"))
        and PurePath(entry).suffix.casefold() in _TABLE_SUFFIXES
    }
    close = get_close_matches(PurePath(name).stem, by_stem, n=1, cutoff=0.8)
    return by_stem[close[0]] if close else None


def _refuse_later_edits(
    folder: Path, saved: Path, names: tuple[FileName, ...], problems: Problems
) -> None:
    """After an interrupted save the saved copy counts; an edit made since is not passed over."""
    for file in names:
        old, new = folder / file.name, saved / file.name
        if not (old.is_file() and new.is_file()):
            continue
        later = old.stat().st_mtime_ns > new.stat().st_mtime_ns
        if (
            later
            and old.stat().st_size <= MAX_FILE_BYTES
            and (old.read_bytes() != new.read_bytes())
        ):
            problems.add(
                Problem(
                    file.name,
                    0,
                    "",
                    SAVED,
                    "was changed after an interrupted save",
                    f"Decide between it and {SAVED}/{file.name}, then remove the folder {SAVED}",
                )
            )


def text_of(name: str, content: bytes, problems: Problems) -> str | None:
    """Decode a file: UTF-8 with or without a byte order mark, or UTF-16 with one.

    ``problems``: bytes that are no text are added, with their row.
    """
    encoding = "utf-8-sig"
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encoding = "utf-16"
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError as error:
        row = content[: error.start].decode(encoding, "ignore").count("\n") + 1
        bad = content[error.start : error.start + 4].hex(" ")
        problems.add(
            Problem(name, row, "", bad, "holds bytes that are not text in UTF-8", _SAVE_AS)
        )
        return None
    place = text.find("\0")
    if place >= 0:
        row = text.count("\n", 0, place) + 1
        problems.add(Problem(name, row, "", "", "holds a NUL character", _SAVE_AS))
        return None
    return text
