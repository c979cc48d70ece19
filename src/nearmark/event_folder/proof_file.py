"""The proof of an event's releases as files of its folder: ``proof.json`` and the sealed keys."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, Self

from nearmark.contest.proof.canonical import is_hash
from nearmark.contest.proof.history_chain import HistoryLine
from nearmark.contest.proof.release import ReleaseRecord, checked_table
from nearmark.errors import InputError

FILE: Final = "proof.json"
FORMAT: Final = "1"
MAX_BYTES: Final = 50_000_000
"""Over ten times what the largest event gives."""

_TAKE_AGAIN: Final = "Take the folder as the site gave it"

_NAMES: Final = (
    "format",
    "releases",
    "rows",
    "history",
    "confidence",
    "leaf_salt",
    "people_salt",
)


def key_file_name(number: str) -> str:
    """Name of the file that holds the keys of one sealing.

    ``number``: from 1.
    """
    return f"sealed-keys-{number}.txt"


@dataclass(frozen=True, slots=True)
class Proof:
    """Everything that shows a release to be whole."""

    # Oldest first, at least one; the last one is of this folder.
    releases: tuple[ReleaseRecord, ...]
    rows: Mapping[str, Sequence[str]]  # hashes of its rows by file name
    history: tuple[HistoryLine, ...]  # until the last release
    confidence: Mapping[str, str]  # what ``confidence_words`` gives
    leaf_salt: str  # hexadecimal digits
    people_salt: str = ""  # empty in a folder for everybody (hexadecimal digits)
    # The sealed keys, one file a sealing (text by file name).
    key_files: Mapping[str, str] = field(default_factory=dict)

    @property
    def release(self) -> ReleaseRecord:
        """The one that this folder is of."""
        return self.releases[-1]

    def files(self) -> dict[str, bytes]:
        """The files of the proof.

        Returns bytes by file name.
        """
        plain = {
            "format": FORMAT,
            "releases": [release.as_plain() for release in self.releases],
            "rows": {name: list(hashes) for name, hashes in self.rows.items()},
            "history": [_line_as_plain(line) for line in self.history],
            "confidence": dict(self.confidence),
            "leaf_salt": self.leaf_salt,
            "people_salt": self.people_salt,
        }
        text = json.dumps(plain, indent=1, ensure_ascii=False)
        return {
            FILE: f"{text}\n".encode(),
            **{name: text.encode() for name, text in self.key_files.items()},
        }

    def for_everybody(self) -> "Proof":
        """The same proof without names: no words of the history, no salt of the names."""
        lines = tuple(HistoryLine(line.at, line.details_digest) for line in self.history)
        return Proof(
            self.releases,
            self.rows,
            lines,
            self.confidence,
            self.leaf_salt,
            key_files=self.key_files,
        )

    @classmethod
    def read(cls, folder: Path) -> Self:
        """Read the proof of a folder.

        Raises InputError if there is none, or it is not as it was written.
        """
        plain = _loaded(folder)
        values = checked_table(
            plain, _NAMES, where=FILE, lists=("releases", "history"), tables=("rows", "confidence")
        )
        if values["format"] != FORMAT:
            raise InputError("has a format that is not known", where=FILE, mend="Update Nearmark")
        if not values["releases"]:
            raise InputError("holds no release", where=FILE, mend="Take the folder after a release")
        releases = tuple(
            ReleaseRecord.from_plain(record, where=f"{FILE}, release {n}")
            for n, record in enumerate(values["releases"], start=1)
        )
        for name in ("leaf_salt", "people_salt"):
            if values[name] and not is_hash(values[name]):
                raise InputError(f"{name} was changed", where=FILE, mend=_TAKE_AGAIN)
        names = [key_file_name(seal.number) for seal in releases[-1].seals]
        return cls(
            releases,
            _hashes(values["rows"]),
            tuple(_line(row, n) for n, row in enumerate(values["history"], start=1)),
            _texts(values["confidence"], "confidence"),
            values["leaf_salt"],
            values["people_salt"],
            {name: _text_of(folder / name) for name in names},
        )


def _line_as_plain(line: HistoryLine) -> dict[str, object]:
    plain: dict[str, object] = {"at": line.at, "details_digest": line.details_digest}
    return plain if line.details is None else plain | {"details": dict(line.details)}


def _line(plain: Any, number: int) -> HistoryLine:  # noqa: ANN401 - any JSON
    where = f"{FILE}, history line {number}"
    has_details = isinstance(plain, dict) and "details" in plain
    names = ("at", "details_digest", *(["details"] if has_details else []))
    values = checked_table(plain, names, where=where, tables=("details",))
    details = _texts(values["details"], where) if has_details else None
    return HistoryLine(values["at"], values["details_digest"], details)


def _texts(plain: dict[str, Any], where: str) -> dict[str, str]:
    return checked_table(plain, tuple(plain), where=where)


def _hashes(plain: dict[str, Any]) -> dict[str, list[str]]:
    for name, hashes in plain.items():
        if not (isinstance(hashes, list) and all(isinstance(h, str) for h in hashes)):
            raise InputError("are not hashes", where=f"{FILE}, rows of {name}", mend=_TAKE_AGAIN)
    return plain


def _loaded(folder: Path) -> object:
    path = folder / FILE
    if not path.is_file():
        raise InputError(
            "is not there",
            where=FILE,
            mend="Take the event folder from the site after the results are released",
        )
    if path.stat().st_size > MAX_BYTES:
        raise InputError("is larger than any proof", where=FILE, mend=_TAKE_AGAIN)
    try:
        return json.loads(path.read_bytes().decode("utf-8-sig"), object_pairs_hook=_no_doubles)
    except (ValueError, RecursionError) as error:
        raise InputError(f"cannot be read: {error}", where=FILE, mend=_TAKE_AGAIN) from error


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """A name that comes twice would hide what comes first."""
    table = dict(pairs)
    if len(table) != len(pairs):
        names = [name for name, _value in pairs]
        double = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"{double} comes twice")
    return table


def _text_of(path: Path) -> str:
    try:
        return path.read_bytes()[:MAX_BYTES].decode("utf-8-sig")
    except FileNotFoundError as error:
        raise InputError(
            "is not there", where=path.name, mend="Take the whole folder from the site"
        ) from error
    except UnicodeDecodeError as error:
        raise InputError("is not text in UTF-8", where=path.name, mend=_TAKE_AGAIN) from error
