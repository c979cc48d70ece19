"""Files meant to harm, or merely broken: a list of pairs refuses each one clearly and soon."""

import io
import struct
import time
import tracemalloc
import zipfile

import openpyxl
import pytest

from nearmark.event_folder import xlsx_guard
from nearmark.event_folder.grid import MAX_BYTES, MAX_COLUMNS, MAX_ROWS
from nearmark.event_folder.pairs_import import preview_pairs
from nearmark.event_folder.xlsx_cells import LAST_ROW, MAX_SHEETS

SOON_S = 5.0
"""For a refusal before parsing, with room for a slow, shared machine."""

REFUSED_BYTES = 25_000_000
"""Memory a refusal may take; the largest bombs here unpack to twice as much."""

SHEET = "xl/worksheets/sheet1.xml"
CONTENT_TYPES = "[Content_Types].xml"
LAUGHS = (
    "<!DOCTYPE l [<!ENTITY a0 'ha'>"
    + "".join(f"<!ENTITY a{n} '{f'&a{n - 1};' * 10}'>" for n in range(1, 10))
    + "]>"
)
OUTSIDE = '<!DOCTYPE l [<!ENTITY x SYSTEM "file:///etc/hostname">]>'


def workbook() -> bytes:
    book = openpyxl.Workbook()
    book.active.append(["school", "child"])
    book.active.append(["Ash", "A"])
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def with_parts(changed: dict[str, bytes], *, method=zipfile.ZIP_DEFLATED) -> bytes:
    """The workbook with parts replaced or added."""
    stream = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(workbook())) as old,
        zipfile.ZipFile(stream, "w", method) as new,
    ):
        for name in old.namelist():
            new.writestr(name, changed.get(name, old.read(name)))
        for name in changed.keys() - set(old.namelist()):
            new.writestr(name, changed[name])
    return stream.getvalue()


def sheet(rows: str, *, before: str = "") -> bytes:
    """The XML of a sheet."""
    return (
        f'<?xml version="1.0"?>{before}<worksheet xmlns="http://schemas.openxmlformats.org/'
        f'spreadsheetml/2006/main"><sheetData>{rows}</sheetData></worksheet>'
    ).encode()


def refusal(source) -> str:
    """What is wrong, when one thing is; the refusal must be soon and small."""
    tracemalloc.start()
    began = time.perf_counter()
    try:
        preview = preview_pairs(source)
        took, (_, peak) = time.perf_counter() - began, tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    (problem,) = preview.problems
    assert preview.pairs == ()
    assert problem.mend
    assert took < SOON_S
    assert peak < REFUSED_BYTES
    return problem.what


def test_the_workbook_these_tests_spoil_is_fine_itself():
    assert len(preview_pairs(workbook()).pairs) == 1
    assert len(preview_pairs(with_parts({})).pairs) == 1


def test_a_file_above_the_limit_is_refused_unread():
    assert "larger than 5 MB" in refusal(b"a" * (MAX_BYTES + 1))
    assert "larger than 5 MB" in refusal("a" * (MAX_BYTES + 1))


def test_a_part_that_unpacks_a_thousandfold_is_refused():
    assert "100 times" in refusal(with_parts({SHEET: b"\0" * 4_900_000}))


def test_a_part_beyond_the_limit_is_refused():
    assert "more than 5 MB" in refusal(with_parts({"xl/media/a.png": b"\0" * 30_000_000}))


def test_a_large_list_that_is_no_sheet_is_refused():
    styles = b"<styleSheet>" + b"<font sz='1'/>" * 80_000 + b"</styleSheet>"

    assert "more than 1 MB" in refusal(with_parts({"xl/styles.xml": styles}))


def test_many_middling_parts_are_refused_together():
    # Each below every limit: 60 parts of 0.9 MB.
    parts = {f"xl/media/{n}.png": b"\0" * 900_000 for n in range(60)}

    assert "unpacks to more than 50 MB" in refusal(with_parts(parts))


def test_too_many_parts_are_refused():
    parts = {f"xl/{n}.xml": b"<a/>" for n in range(xlsx_guard.MAX_PARTS)}

    assert "more than 500 parts" in refusal(with_parts(parts))


def test_a_part_that_lies_about_its_size_is_not_unpacked_beyond_it():
    content = bytearray(with_parts({SHEET: b" " * 4_900_000 + sheet("")}))
    for signature, at in ((b"PK\x03\x04", 22), (b"PK\x01\x02", 24)):
        place = content.find(signature)
        while place >= 0:
            (size,) = struct.unpack_from("<I", content, place + at)
            if size > 1_000_000:
                struct.pack_into("<I", content, place + at, 1000)
            place = content.find(signature, place + 4)

    assert "damaged" in refusal(bytes(content))


@pytest.mark.parametrize("part", [SHEET, CONTENT_TYPES, "xl/styles.xml", "docProps/core.xml"])
@pytest.mark.parametrize("trick", [LAUGHS, OUTSIDE, "<!DOCTYPE l>", "<!DOCTYPE l SYSTEM 'x'>"])
def test_a_document_type_declaration_is_refused_in_any_part(part, trick):
    xml = f"<?xml version='1.0'?><!-- quiet -->{trick}<l>&a9;</l>".encode()

    assert "document type declaration" in refusal(with_parts({part: xml}))


@pytest.mark.parametrize("encoding", ["utf-16", "utf-8-sig"])
def test_a_declaration_in_another_encoding_is_seen_too(encoding):
    xml = f"{LAUGHS}<l>&a9;</l>".encode(encoding)

    assert "document type declaration" in refusal(with_parts({SHEET: xml}))


def test_a_declaration_behind_a_foreign_name_is_seen_too():
    # The part's own name is free: the list of content types may call anything a sheet.
    assert "document type" in refusal(with_parts({"xl/sheet.png": LAUGHS.encode() + b"<l/>"}))


def test_macros_are_refused():
    assert refusal(with_parts({"xl/vbaProject.bin": b"x"})) == "holds macros"


def test_a_locked_workbook_and_an_old_one_are_refused():
    assert "locked with a password" in refusal(xlsx_guard.OLE_START + b"\0" * 1000)


def test_locked_parts_are_refused():
    content = bytearray(workbook())
    place = content.find(b"PK\x01\x02")
    content[place + 8] |= 1  # general purpose bit 0 (APPNOTE.TXT 4.4.4, from memory)

    assert "locked with a password" in refusal(bytes(content))


def test_an_unusual_packing_is_refused():
    assert "unusual" in refusal(with_parts({}, method=zipfile.ZIP_LZMA))


def test_an_archive_that_is_no_workbook_is_refused():
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        archive.writestr("a.txt", "a")

    assert "no workbook" in refusal(stream.getvalue())
    assert "no workbook" in refusal(b"PK\x05\x06" + b"\0" * 18)


def test_two_parts_of_one_name_are_refused():
    stream = io.BytesIO(workbook())
    with zipfile.ZipFile(stream, "a") as archive:
        archive.writestr(SHEET.upper(), sheet(""))

    assert "two parts of one name" in refusal(stream.getvalue())


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.99])
def test_half_a_file_is_refused(share):
    content = workbook()

    assert "damaged" in refusal(content[: int(len(content) * share)])


@pytest.mark.parametrize("step", [7, 101, 997])
def test_a_file_with_flipped_bytes_is_refused_or_read_and_never_breaks(step):
    content = bytearray(workbook())
    content[step::step] = bytes(byte ^ 0x55 for byte in content[step::step])

    assert preview_pairs(bytes(content)).problems


@pytest.mark.parametrize("part", [SHEET, CONTENT_TYPES, "xl/workbook.xml", "xl/styles.xml"])
@pytest.mark.parametrize("xml", [b"", b"<a", b"<a/>", b"nonsense"])
def test_a_part_that_is_not_what_it_should_be_never_breaks(part, xml):
    preview = preview_pairs(with_parts({part: xml}))

    assert preview.problems or part == "xl/styles.xml"


def test_text_where_a_number_of_the_workbook_should_be_never_breaks():
    rows = '<row r="x"><c r="A1" t="s"><v>many</v></c></row>'

    assert refusal(with_parts({SHEET: sheet(rows)})) == "is no workbook that can be read"


def test_a_row_number_far_below_is_refused_soon():
    far = '<row r="999999999"><c r="A999999999" t="str"><v>x</v></c></row>'

    assert f"below row {LAST_ROW:,}" in refusal(with_parts({SHEET: sheet(far)}))


def test_a_column_far_to_the_right_is_refused():
    row = '<row r="1"><c r="XFD1" t="str"><v>x</v></c></row>'

    assert f"more than {MAX_COLUMNS} columns" in refusal(with_parts({SHEET: sheet(row)}))


@pytest.mark.slow
def test_wide_empty_rows_are_refused_soon():
    rows = "".join(f'<row r="{n}"><c r="XFD{n}"/></row>' for n in range(1, LAST_ROW + 2))

    preview = preview_pairs(with_parts({SHEET: sheet(rows)}))

    assert f"below row {LAST_ROW:,}" in preview.problems[0].what


def test_more_rows_than_an_event_has_are_refused():
    rows = "".join(
        f'<row r="{n}"><c r="A{n}" t="str"><v>x</v></c></row>' for n in range(1, MAX_ROWS + 3)
    )

    assert (
        f"more than {MAX_ROWS:,} rows"
        in preview_pairs(with_parts({SHEET: sheet(rows)})).problems[0].what
    )
    assert f"more than {MAX_ROWS:,} rows" in refusal("school\n" + "Ash\n" * (MAX_ROWS + 1))


def test_many_columns_and_long_cells_of_text_are_refused():
    assert f"more than {MAX_COLUMNS} columns" in refusal("school," * MAX_COLUMNS + "a\nb\n")
    assert "1,000 characters" in refusal("school,child\nAsh," + "x" * 1001 + "\n")


def test_a_long_text_shared_by_many_cells_is_not_multiplied():
    cell = '<c r="{0}{1}" t="s"><v>0</v></c>'
    rows = "".join(
        f'<row r="{n}">' + "".join(cell.format(c, n) for c in "ABCDEFGH") + "</row>"
        for n in range(1, 100)
    )
    strings = (
        '<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>'
        + "x" * 900_000
        + "</t></si></sst>"
    )
    with zipfile.ZipFile(io.BytesIO(workbook())) as archive:
        types = archive.read(CONTENT_TYPES).decode()
    listed = (
        '<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-'
        'officedocument.spreadsheetml.sharedStrings+xml"/></Types>'
    )
    content = with_parts(
        {
            SHEET: sheet(rows),
            "xl/sharedStrings.xml": strings.encode(),
            CONTENT_TYPES: types.replace("</Types>", listed).encode(),
        }
    )

    assert "no row of headings" in refusal(content)


def test_more_sheets_than_can_be_looked_through_are_refused():
    book = openpyxl.Workbook()
    for _ in range(MAX_SHEETS):
        book.create_sheet()
    stream = io.BytesIO()
    book.save(stream)

    assert refusal(stream.getvalue()) == "has 4 sheets"


@pytest.mark.parametrize(
    ("source", "what"),
    [
        (b"school,child\nAsh,\xff\xfe\n", "not text in UTF-8"),
        (b"school,child\nAsh,A\0\n", "NUL"),
        ("school,child\nAsh,A\0\n", "NUL"),
        ("school,child\nAsh,\ud800\n", "not text in UTF-8"),
        ('school,child\nAsh,"A\n', "quotation mark"),
        ("school,child\n" + "x" * 200_000, "quotation mark"),
    ],
)
def test_text_that_is_no_text_is_refused(source, what):
    assert what in refusal(source)
