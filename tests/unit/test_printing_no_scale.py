"""No paper on which children estimate carries a scale: the pages are drawn and looked at."""

from datetime import date

import numpy as np
import pypdfium2
import pytest
from pypdfium2 import raw

from nearmark.coaching import attempts_in, read_club
from nearmark.contest.results import results
from nearmark.demo_season import practice_season
from nearmark.printing import home_sheet_pdf, key_sheet_pdf, season_certificates_pdf
from nearmark.printing.box_page import box_page_pdf, drawn_boxes
from nearmark.printing.day_paper import paper_of
from nearmark.printing.typesetting import PAPERS
from nearmark.printing.wishes import Wishes

pytestmark = pytest.mark.slow

DOTS_PER_MM = 150 / 25.4
MAX_MARK = 3
"""Dots across: a stroke is one to three wide at 150 dots per inch."""

MIN_RUN = 10
"""Even marks in a row that read as a scale; an answer has five boxes for digits."""


def longest_run(line: np.ndarray) -> int:
    """The most marks in a line of dots that follow each other at one distance (within a dot)."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(np.int8), [0]])))
    starts, ends = edges[::2], edges[1::2]
    at = starts[ends - starts <= MAX_MARK]
    if at.size < MIN_RUN:
        return 0
    longest = run = 1
    steps = np.diff(at)
    first = steps[0]
    for step in steps:
        if abs(step - first) <= 1 and step > MAX_MARK:
            run += 1
        else:
            first, run = step, 2
        longest = max(longest, run)
    return longest


def scales(pdf: bytes) -> list[tuple[int, int]]:
    """Page and place in mm of every line of dots with a run of even marks, words left out."""
    found = []
    for number, page in enumerate(pypdfium2.PdfDocument(pdf), 1):
        for words in list(page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], max_depth=1)):
            page.remove_obj(words)
        page.gen_content()
        dots = page.render(scale=150 / 72, grayscale=True).to_numpy().squeeze() < 225
        runs = [longest_run(line) for line in (*dots, *dots.T)]
        found += [(number, round(i / DOTS_PER_MM)) for i, run in enumerate(runs) if run >= MIN_RUN]
    return found


@pytest.mark.parametrize("paper", PAPERS)
def test_no_paper_of_the_day_that_children_get_carries_a_scale(small_event, paper):
    found = {
        page.name: scales(page.made(small_event, Wishes(paper=paper)))
        for page in paper_of(small_event)
        if not page.is_for_helpers
    }

    assert len(found) == 7
    assert not any(found.values()), found


@pytest.mark.parametrize("paper", PAPERS)
def test_no_paper_of_the_season_for_children_carries_a_scale(paper):
    club = read_club(practice_season())
    own, day = club["Milo"], date(2027, 4, 14)
    pages = {
        "home sheet": home_sheet_pdf(own, day=day, paper=paper),
        "certificate": season_certificates_pdf([attempts_in(own)], club="", day=day, paper=paper),
        "boxes": box_page_pdf(drawn_boxes(1), day=day, paper=paper),
    }

    found = {name: scales(pdf) for name, pdf in pages.items()}

    assert not any(found.values()), found


def test_the_ruler_of_a_page_for_adults_would_be_found(small_event):
    """The look is no blind one: the millimetres at the head of a key sheet are seen."""
    assert scales(key_sheet_pdf(results(small_event)))
