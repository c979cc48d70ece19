"""What a workbook file may be, held before any of it is parsed as a workbook.

An XLSX file is a ZIP archive of XML parts, and both can be built to fill the memory: a part that
unpacks a thousandfold, or a document type declaration whose entities multiply (openpyxl's own
README says that it does not guard against those).  Sizes are taken from the archive's directory,
which binds: ``zipfile`` gives no more bytes of a part than are stated there.
"""

import io
import zipfile
import zlib
from typing import IO
from xml.parsers import expat

from nearmark.errors import InputError
from nearmark.event_folder.xlsx_scan import Scan

MAX_BYTES = 5_000_000
MAX_UNPACKED_BYTES = 50_000_000
MAX_PART_BYTES = 5_000_000
"""Ample for 5,000 rows of pairs."""

MAX_LIST_BYTES = 1_000_000
"""Of an XML part that is no sheet and not its texts: the library keeps such a part as a tree, which
took minutes and 700 MB for a part of 18 MB."""

MAX_PARTS = 500
MAX_RATIO = 100
"""Unpacked over packed size of a part; ordinary sheets stay below 50."""

SMALL_PART_BYTES = 1_000_000
"""A part up to this size may have any ratio."""

ZIP_STARTS = (b"PK\x03\x04", b"PK\x05\x06")
OLE_START = bytes.fromhex("d0cf11e0a1b11ae1")
"""Start of an old .xls file, and of a workbook locked with a password ([MS-CFB] 2.2)."""

_RE_SAVE = "Copy the pairs into a new workbook, or save them as CSV UTF-8"
_UNREADABLE = (zipfile.BadZipFile, zlib.error, OSError, EOFError, ValueError, NotImplementedError)
_ROWS = ("xl/worksheets/sheet", "xl/sharedstrings.xml")
_PLAIN = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)


def refuse_unsafe(content: bytes) -> Scan:
    """Refuse a file that is no plain, unlocked, macro-free workbook of moderate size.

    Returns what was counted.
    """
    if content.startswith(OLE_START):
        raise InputError(
            "is locked with a password or is an old .xls file",
            mend="Save it as .xlsx without a password, or as CSV UTF-8",
        )
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = archive.infolist()
            _check_directory(parts)
            scan = Scan()
            for part in parts:
                with archive.open(part) as opened:
                    _scan_part(scan, opened, part.filename.casefold())
    except _UNREADABLE as error:
        raise _damaged() from error
    return scan


def _damaged() -> InputError:
    return InputError("is no readable workbook; the file is damaged", mend=_RE_SAVE)


def _check_directory(parts: list[zipfile.ZipInfo]) -> None:
    names = {part.filename.casefold() for part in parts}
    if len(parts) > MAX_PARTS:
        raise InputError(f"holds more than {MAX_PARTS} parts", value=len(parts), mend=_RE_SAVE)
    if len(names) < len(parts):
        raise InputError("holds two parts of one name", mend=_RE_SAVE)
    if "[content_types].xml" not in names:
        raise InputError("is an archive but no workbook", mend=_RE_SAVE)
    for part in parts:
        _check_part(part)
    unpacked = sum(part.file_size for part in parts)
    if unpacked > MAX_UNPACKED_BYTES:
        raise InputError(
            f"unpacks to more than {MAX_UNPACKED_BYTES / 1e6:.0f} MB",
            value=f"{unpacked / 1e6:,.0f} MB",
            mend=_RE_SAVE,
        )


def _check_part(part: zipfile.ZipInfo) -> None:
    name = part.filename.casefold()
    if part.flag_bits & 0x1:
        raise InputError("is locked with a password", mend="Save it without a password")
    if name.endswith(".bin") and "vba" in name:
        raise InputError("holds macros", mend="Save it as .xlsx, which holds none")
    if part.compress_type not in _PLAIN:
        raise InputError("is packed in an unusual way", mend=_RE_SAVE)
    is_list = name.endswith((".xml", ".rels")) and not name.startswith(_ROWS)
    most = MAX_LIST_BYTES if is_list else MAX_PART_BYTES
    if part.file_size > most:
        raise InputError(
            f"holds a part of more than {most / 1e6:.0f} MB",
            value=f"{part.file_size / 1e6:,.1f} MB",
            mend=_RE_SAVE,
        )
    if part.file_size > max(SMALL_PART_BYTES, MAX_RATIO * part.compress_size):
        raise InputError(f"unpacks to more than {MAX_RATIO} times its size", mend=_RE_SAVE)


def _scan_part(scan: Scan, part: IO[bytes], name: str) -> None:
    try:
        scan.part(part, is_rows=name.startswith(_ROWS))
    except expat.ExpatError as error:
        # A picture is no XML; what should be XML and is not would break the reader later.
        if name.endswith((".xml", ".rels")):
            raise _damaged() from error
