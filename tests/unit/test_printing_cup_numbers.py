"""The numbers of the cups, to cut out."""

import io
import re
from dataclasses import replace
from decimal import Decimal

import pypdf
import pytest

from nearmark.contest.event import Cup
from nearmark.errors import InputError
from nearmark.printing import cup_numbers_pdf


def numbered(small_event, numbers):
    cups = tuple(Cup(number, Decimal("8.6"), "bench scale") for number in numbers)
    return replace(small_event, cups=cups)


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_every_cup_has_its_number_28_a_page(small_event, paper):
    wanted = [str(n) for n in range(1, 57)]
    pdf = cup_numbers_pdf(numbered(small_event, wanted), paper=paper)
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages

    assert len(pages) == 2
    assert re.findall(r"cup\s+(\d+)", " ".join(p.extract_text() for p in pages)) == wanted


def test_a_long_number_fits_its_card(small_event):
    pages = pypdf.PdfReader(
        io.BytesIO(cup_numbers_pdf(numbered(small_event, ["CUP-1234567"])))
    ).pages

    assert len(pages) == 1
    assert "CUP-1234567" in pages[0].extract_text()


def test_the_tare_is_not_on_the_card(small_event):
    (page,) = pypdf.PdfReader(io.BytesIO(cup_numbers_pdf(small_event))).pages

    assert not any(str(cup.tare_g) in page.extract_text() for cup in small_event.cups)


def test_an_event_without_cups_is_refused(small_event):
    with pytest.raises(InputError, match=r"cups\.csv"):
        cup_numbers_pdf(replace(small_event, cups=()))
