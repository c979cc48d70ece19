"""The check-in lists: who is expected, heat by heat."""

import io
import re
from dataclasses import replace

import pypdf
import pytest

from nearmark.contest.event import Pair, PairStatus
from nearmark.contest.pair_code import with_check
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.printing import check_in_list_pdf
from nearmark.printing.check_in_list import check_in_view

NAMES = ("Ada", "Bo", "Cleo", "Dov", "Esi")


def pages(pdf: bytes) -> list[str]:
    return [
        re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages
    ]


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_every_heat_has_a_page_with_all_its_pairs(paper):
    event = larkspur_valley()
    told = pages(check_in_list_pdf(event, paper=paper))

    assert [re.search(r"Check-in, (Heat \d)", page)[1] for page in told] == [
        f"Heat {n}" for n in range(1, 6)
    ]
    for pair in event.pairs:
        assert with_check(pair.code) in told[int(pair.heat[-1]) - 1]


def test_what_is_unusual_about_a_pair_is_noted(small_event):
    lines = [line for heat in check_in_view(small_event).heats for line in heat.lines]

    assert [line.note for line in lines] == ["", "", "guest, alone"]


def test_sheets_and_children_are_counted(small_event):
    counted = {heat.title: heat.counted for heat in check_in_view(small_event).heats}

    assert counted == {"Heat 1": "1 sheet, 2 children", "No heat yet": "2 sheets, 3 children"}


def test_children_s_names_are_printed_only_when_asked(small_event):
    without = " ".join(pages(check_in_list_pdf(small_event)))
    with_names = " ".join(pages(check_in_list_pdf(small_event, names=True)))

    assert not any(re.search(rf"\b{name}\b", without) for name in NAMES)
    assert "Ada and Bo" in with_names
    assert "destroy after the day" in with_names


def test_a_long_heat_keeps_its_heading_on_every_page(small_event):
    crowd = tuple(Pair(f"Q{i:02}", "Quillbank", ("Ada", "Bo"), heat="1") for i in range(60))
    told = pages(check_in_list_pdf(replace(small_event, pairs=crowd)))

    assert len(told) > 1
    assert all("arrived handed in" in page for page in told[:-1])


def test_an_event_without_anybody_is_refused(small_event):
    gone = tuple(replace(p, status=PairStatus.WITHDRAWN) for p in small_event.pairs)

    with pytest.raises(InputError, match=r"pairs\.csv"):
        check_in_list_pdf(replace(small_event, pairs=gone))
