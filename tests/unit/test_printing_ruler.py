"""The ruler at the head of a page for adults is a ruler: read from the drawing commands."""

import ctypes
import itertools
from datetime import date

import pypdfium2
import pytest
from pypdfium2 import raw

from nearmark.contest.results import results
from nearmark.printing import key_sheet_pdf
from nearmark.printing.box_page import box_key_pdf, drawn_boxes
from nearmark.printing.typesetting import PAPERS

PT_A_MM = 72 / 25.4
"""Points in a millimetre: a point is 1/72 inch (PDF 32000-1:2008, 8.3.2.3), an inch 25.4 mm."""


def ticks_mm(page):
    """Place and length of the upright strokes of the path with most of them, left to right."""
    best: list[tuple[float, float]] = []
    for shape in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        matrix, points = shape.get_matrix(), []
        for i in range(raw.FPDFPath_CountSegments(shape)):
            x, y = ctypes.c_float(), ctypes.c_float()
            raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(shape, i), x, y)
            points.append(tuple(v / PT_A_MM for v in matrix.on_point(x.value, y.value)))
        strokes = [
            (a[0], abs(b[1] - a[1]))
            for a, b in itertools.pairwise(points)
            if abs(a[0] - b[0]) < 1e-3 and abs(a[1] - b[1]) > 0.5
        ]
        best = max(best, strokes, key=len)
    return sorted(best)


@pytest.mark.parametrize("paper", PAPERS)
def test_ticks_are_true_millimetres_at_the_printed_size(small_event, paper):
    pages = [
        key_sheet_pdf(results(small_event), paper=paper),
        box_key_pdf(drawn_boxes(1), day=date(2027, 2, 3), paper=paper),
    ]

    for pdf in pages:
        (ticks, *_) = map(ticks_mm, pypdfium2.PdfDocument(pdf))
        first = ticks[0][0]
        assert len(ticks) > 150
        for i, (x, length) in enumerate(ticks):
            assert x - first == pytest.approx(i, abs=0.02)
            is_long = length == pytest.approx(2.6, abs=0.05)
            assert is_long is (i % 10 == 0)
