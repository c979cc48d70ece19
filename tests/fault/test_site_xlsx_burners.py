"""Small workbooks that kept the server busy for 5 to 17 s are refused before they are read."""

import io
import time
import zipfile

import numpy as np
import openpyxl
import pytest

from nearmark.event_folder import xlsx_scan
from nearmark.event_folder.grid import MAX_ROWS
from nearmark.event_folder.pairs_import import preview_pairs

SOON_S = 1.5
"""Of one core, on a machine that others use too; a quiet one takes under 0.5 s."""

SHEET = "xl/worksheets/sheet1.xml"
MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
# Noise keeps a part below the limit of its ratio of packing.
NOISE = f"<!--{np.random.default_rng(1).bytes(100_000).hex()}-->"


def book(rows: int = 1) -> bytes:
    made = openpyxl.Workbook()
    made.active.append(["school", "first child", "second child"])
    for n in range(rows):
        made.active.append(["Quillbank", f"Ada{n}", f"Bo{n}"])
    stream = io.BytesIO()
    made.save(stream)
    return stream.getvalue()


def with_part(name: str, text: str) -> bytes:
    stream = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(book())) as old,
        zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for part in old.namelist():
            new.writestr(part, text if part == name else old.read(part))
    return stream.getvalue()


def sheet(rows: str) -> bytes:
    return with_part(SHEET, f"<worksheet {MAIN}><sheetData>{NOISE}{rows}</sheetData></worksheet>")


def part_of(name: str) -> str:
    with zipfile.ZipFile(io.BytesIO(book())) as archive:
        return archive.read(name).decode()


def burners():
    styles, parts = part_of("xl/styles.xml"), part_of("xl/workbook.xml")
    runs = "<row><c t='inlineStr'><is>" + "<r><t/></r>" * 400_000 + "</is></c></row>"
    attributes = " ".join(f'a{n}=""' for n in range(400_000))
    listed = "<sheet name='s' sheetId='9'/>" * 6_000
    return {
        "empty cells": sheet("<row>" + "<c/>" * 1_100_000 + "</row>"),
        "runs of text": sheet(runs),
        "dates": sheet(("<row>" + "<c t='d'><v>2020-01-01</v></c>" * 40 + "</row>") * 3_000),
        "rows": sheet("<row/>" * 780_000),
        "attributes": sheet(f"<row><c {attributes}/></row>"),
        "nested": sheet("<a>" * 600_000 + "</a>" * 600_000),
        "styles": with_part(
            "xl/styles.xml", styles.replace("</cellXfs>", "<xf/>" * 150_000 + "</cellXfs>")
        ),
        "sheets": with_part("xl/workbook.xml", parts.replace("</sheets>", f"{listed}</sheets>")),
    }


@pytest.fixture(scope="module")
def made():
    return burners()


@pytest.mark.slow
@pytest.mark.parametrize(
    "kind",
    ["empty cells", "runs of text", "dates", "rows", "attributes", "nested", "styles", "sheets"],
)
def test_a_workbook_made_to_keep_the_reader_busy_is_refused_soon(made, kind):
    began = time.process_time()
    preview = preview_pairs(made[kind])
    took = time.process_time() - began

    (problem,) = preview.problems
    assert problem.what == "holds far more than a list of pairs needs"
    assert problem.mend
    assert took < SOON_S


def test_a_list_of_a_large_event_is_still_read():
    assert len(preview_pairs(book(500)).pairs) == 500


def test_a_cell_far_to_the_right_counts_from_its_letters():
    far = preview_pairs(sheet("<row><c r='AY1'><v>1</v></c></row>"))

    assert "more than 50 columns in row 1" in far.problems[0].what


def test_the_limits_leave_room_for_the_rows_that_an_event_may_have():
    assert xlsx_scan.MAX_CELLS >= 8 * MAX_ROWS
