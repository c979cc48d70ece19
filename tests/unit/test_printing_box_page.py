"""The page of boxes: no number that answers, edges at their true length on paper, a key apart."""

import ctypes
import io
import math
import re
from datetime import date
from decimal import Decimal

import pypdf
import pypdfium2
import pytest
from pypdfium2 import raw

from nearmark.errors import InputError
from nearmark.printing.box_page import MAX_CM, DrawnBox, box_key_pdf, box_page_pdf, drawn_boxes
from nearmark.printing.typesetting import PAPERS

DAY = date(2027, 2, 3)
PT_A_CM = 72 / 2.54
"""Points in a centimetre: a point is 1/72 inch (PDF 32000-1:2008, 8.3.2.3), an inch 2.54 cm."""


def text_of(pdf):
    found = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    return re.sub(r"[\s\N{NO-BREAK SPACE}]+", " ", found)


def polygons(pdf):
    """Corners in cm of every closed path of four corners, page by page."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        for shape in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
            matrix = shape.get_matrix()
            corners = []
            for i in range(raw.FPDFPath_CountSegments(shape)):
                segment = raw.FPDFPath_GetPathSegment(shape, i)
                x, y = ctypes.c_float(), ctypes.c_float()
                raw.FPDFPathSegment_GetPoint(segment, x, y)
                corners.append(tuple(v / PT_A_CM for v in matrix.on_point(x.value, y.value)))
            if len(corners) in {4, 5}:
                found.append(corners[:4])
    return found


def edges(corners):
    return [math.dist(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]


def test_boxes_are_the_same_for_a_seed_and_the_key_is_their_product():
    boxes = drawn_boxes(7)

    assert boxes == drawn_boxes(7) != drawn_boxes(8)
    first = boxes[0]
    assert first.volume_cm3 == first.length_cm * first.width_cm * first.height_cm
    sides = [s for b in boxes for s in (b.length_cm, b.width_cm, b.height_cm)]
    assert all(3 <= s <= Decimal(MAX_CM) for s in sides)


def test_every_box_holds_200_to_4000_cm3():
    boxes = [box for seed in range(1, 50) for box in drawn_boxes(seed, 12)]

    assert min(box.volume_cm3 for box in boxes) >= 200
    assert max(box.volume_cm3 for box in boxes) <= 4000
    # Small and large ones: a third of the range of logarithms at each end is used.
    assert sum(box.volume_cm3 < 400 for box in boxes) > 50
    assert sum(box.volume_cm3 > 2000 for box in boxes) > 50


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("seed", [1, 7])
def test_no_side_and_no_volume_is_on_the_page_and_all_are_in_the_key(paper, seed):
    boxes = drawn_boxes(seed)
    page = text_of(box_page_pdf(boxes, day=DAY, paper=paper))
    key = text_of(box_key_pdf(boxes, day=DAY, paper=paper)).replace(" ", "")

    # What is there: the codes, the day, the scale of 100 %, the numbers of the pages.
    left = re.sub(r"B\d\b|3 February 2027|100 %|page \d+ of \d+|cm3", "", page)
    assert not re.search(r"\d", left), left
    for box in boxes:
        sides = (box.length_cm, box.width_cm, box.height_cm)
        assert "\N{MULTIPLICATION SIGN}".join(map(str, sides)) in key
        assert f"{round(box.volume_cm3)}" in key


@pytest.mark.parametrize("paper", PAPERS)
def test_an_edge_on_paper_is_as_long_as_the_side(paper):
    """Read from the drawing commands of the PDF: every box, all three edges, to 0.05 mm."""
    boxes = drawn_boxes(3)
    pdf = box_page_pdf(boxes, day=DAY, paper=paper)
    drawn = [shape for shape in polygons(pdf) if len(set(shape)) == 4 and min(edges(shape)) > 1]
    faces = [drawn[i : i + 3] for i in range(0, len(drawn), 3)]

    assert len(faces) == len(boxes)
    sizes = []
    for box, (top, side, front) in zip(boxes, faces, strict=True):
        length, height = max_min(front)
        size = length / float(box.length_cm)
        sizes.append(round(size, 3))
        assert height == pytest.approx(size * float(box.height_cm), abs=0.005)
        depth = size * float(box.width_cm)
        assert sorted(edges(top)) == pytest.approx(
            sorted([length, length, depth, depth]), abs=0.005
        )
        assert sorted(edges(side)) == pytest.approx(
            sorted([height, height, depth, depth]), abs=0.005
        )
    said = text_of(pdf)
    assert set(sizes) == {1.0, 0.5}
    assert said.count("at its true length") == sizes.count(1.0)
    assert said.count("half size: double every length") == sizes.count(0.5)


def max_min(front):
    """Width and height of an upright rectangle."""
    xs, ys = zip(*front, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_widest_box_stays_on_the_paper(paper):
    widest = DrawnBox("B1", Decimal("24.0"), Decimal("12.9"), Decimal("12.9"))
    highest = DrawnBox("B2", Decimal("13.0"), Decimal("12.8"), Decimal("24.0"))

    pdf = box_page_pdf([widest, highest], day=DAY, paper=paper)

    for page in pypdfium2.PdfDocument(pdf):
        width, height = page.get_size()
        for shape in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
            left, bottom, right, top = shape.get_bounds()
            assert 0 < left < right < width
            assert 0 < bottom <= top < height


@pytest.mark.parametrize("n", [0, 61])
def test_an_absurd_number_of_boxes_is_refused(n):
    with pytest.raises(InputError, match="1 to 60"):
        drawn_boxes(1, n)
