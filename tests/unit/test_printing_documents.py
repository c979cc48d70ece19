"""What is on the certificate, the key sheet, the standings and the feedback."""

import io
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pypdf
import pytest

from nearmark.contest import RankConfidence, results
from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    ContainerWeighing,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Pair,
)
from nearmark.errors import InputError
from nearmark.kit.key_warnings import FarFromOthers
from nearmark.printing import (
    event_certificate_pdf,
    feedback_pdf,
    item_readings,
    key_sheet_pdf,
    standings_pdf,
)
from nearmark.printing.certificate import certificate_view, decision_text
from nearmark.printing.feedback import feedback_view
from nearmark.printing.key_sheet import key_line
from nearmark.printing.standings import standings_view
from nearmark.station import Station
from nearmark.words.keys import problem_words
from nearmark.words.numbers import capital

NAMES = ("Ada", "Bo", "Cleo", "Dov", "Esi")


def pages(pdf: bytes) -> list[str]:
    """Text of each page with every run of white space as one blank."""
    return [
        re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages
    ]


def field_of(n: int) -> Event:
    """An event of one hand-counted jar and ``n`` pairs whose answers are 401, 402, ..."""
    written = [
        AnswerReading(f"Q{i:02}", "J1", reading, clerk, AnswerStatus.ANSWERED, Decimal(400 + i))
        for i in range(1, n + 1)
        for reading, clerk in ((1, "Ash"), (2, "Birch"))
    ]
    return Event(
        name="Larkspur Valley Estimation Day",
        day=date(2027, 5, 8),
        items=(Item("J1", Station.COUNT, "jar of beans"),),
        hand_counts=(HandCount("J1", 500, "Rowan"), HandCount("J1", 500, "Sorrel")),
        pairs=tuple(Pair(f"Q{i:02}", "Quillbank", ("Ada", "Bo")) for i in range(1, n + 1)),
        answers=tuple(written),
    )


def confidence(codes, **changes) -> RankConfidence:
    n = len(codes)
    told = RankConfidence(
        codes=tuple(codes),
        places=tuple(range(1, n + 1)),
        place_probability=np.eye(n) * 0.75,
        winner=0.97,
        podium_order=0.81,
        podium_set=0.88,
        tie=0.0,
        remeasure_first=(),
        n_draws=10_000,
        seed=7,
    )
    return replace(told, **changes)


def confidence_of(outcome) -> RankConfidence:
    return confidence([line.pair.code for line in outcome.pairs if line.place is not None])


@pytest.fixture
def outcome(small_event):
    return results(small_event)


# The certificate


@pytest.mark.slow
def test_a_certificate_says_what_how_much_and_how_sure(outcome):
    key = outcome.keys["C1"]
    (page,) = pages(event_certificate_pdf(outcome, key))
    budget = key.assigned.budget

    for said in (
        "Certificate of an assigned value",
        f"{key.key} pieces",
        f"k = {budget.coverage_factor:.2f}",
        "U at 95 %",
        "95 % interval",
        "JCGM 100:2008",
        "Measured by",
        "8 May 2027",
        "page 1 of 1",
    ):
        assert said in page


def test_a_certificate_lists_every_component_and_every_reading(outcome, small_event):
    key = outcome.keys["C1"]
    (page,) = pages(event_certificate_pdf(outcome, key))

    assert all(c.name in page for c in key.assigned.budget.components)
    for sample in small_event.samples:
        assert f"{sample.pieces} {sample.mass_g}" in page
    assert "273.2 96.4" in page


def test_a_certificate_tells_a_reading_that_is_still_doubted(small_event):
    wrong = replace(small_event.samples[0], mass_g=small_event.samples[0].mass_g * 10)
    more = (*small_event.hand_counts, *(HandCount("C1", 400, name) for name in ("Ada", "Bo")))
    event = replace(small_event, samples=(*small_event.samples, wrong), hand_counts=more)
    outcome = results(event)

    (page,) = pages(event_certificate_pdf(outcome, outcome.keys["C1"]))

    said = " ".join(page.replace("\xa0", " ").split())
    assert "A reading is still doubted" in said
    assert "Is the decimal point in the wrong place" in said


def test_a_certificate_says_each_slip_once(small_event):
    full = next(row for row in small_event.containers if row.item == "C1" and row.gross_g)
    swapped = replace(full, gross_g=full.gross_g * Decimal("1.3"))
    event = replace(small_event, containers=(*small_event.containers, full, swapped))
    outcome = results(event)
    key = outcome.keys["C1"]

    (page,) = pages(event_certificate_pdf(outcome, key))

    said = " ".join(page.replace("\xa0", " ").split())
    assert any(isinstance(warning, FarFromOthers) for warning in key.assigned.warnings)
    assert "A reading is still doubted" in said
    assert "is far from the median" not in said


def test_the_printed_shares_add_up(outcome):
    key = outcome.keys["B1"]
    view = certificate_view(key.assigned, item=key.item, event_name="x", day=outcome.event.day)
    rounding = 0.05 * len(view.lines)  # each share is written to a tenth

    assert sum(float(line.share) for line in view.lines) == pytest.approx(100, abs=rounding)


def test_an_unfit_key_says_so_in_words_with_the_decision(outcome):
    key = outcome.keys["C1"]
    assert not key.fit  # three samples of 0.1 g resolution do not bear 1 %
    (page,) = pages(event_certificate_pdf(outcome, key))

    assert "Not fit as a key" in page
    assert "Used as it is by decision of lead Juniper: no fourth sample in time." in page


def test_a_fit_value_is_certified_on_letter_paper():
    found = results(field_of(2))
    (page,) = pages(event_certificate_pdf(found, found.keys["J1"], paper="us-letter"))

    assert "Fit as a key" in page
    assert "Not fit" not in page
    assert "500 Rowan 500 Sorrel" in page


def test_a_decided_key_shows_whose_word_it_is_and_no_uncertainty_of_another_number(small_event):
    decision = KeyDecision("C1", Decimal(24984), "lead Juniper", "recounted")
    found = results(replace(small_event, key_decisions=(decision,)))
    measured = found.keys["C1"].assigned

    (page,) = pages(event_certificate_pdf(found, found.keys["C1"]))

    words = " ".join(page.split())
    assert f"Lead Juniper's word: the readings give {measured.key:f}" in words
    assert "No uncertainty is known of this number" in words
    assert "No reading gives this value." in words
    assert "Fit as a key" not in words.replace("Not fit as a key", "")
    line = key_line(found.keys["C1"])
    assert (line.expanded_u, line.relative, line.verdict) == ("", "", "by decision")


def test_a_certificate_says_what_drawing_found(outcome):
    (page,) = pages(event_certificate_pdf(outcome, outcome.keys["C1"]))

    assert "draws (JCGM 101): 95 % interval" in " ".join(page.replace("\xa0", " ").split())


def test_a_target_has_no_certificate(outcome):
    with pytest.raises(InputError, match="M1: has no measured value"):
        event_certificate_pdf(outcome, outcome.keys["M1"])


def test_box_readings_are_grouped_by_edge(small_event):
    (edges,) = item_readings(small_event, "B1")

    assert [row[0] for row in edges.rows] == ["length", "width", "height"]
    assert edges.rows[0][1] == "12.4,  12.4"


def test_a_decision_on_another_value_says_which():
    decision = KeyDecision("C1", Decimal(12345), "lead Juniper", "recounted.")

    assert decision_text(decision, "pieces").replace("\xa0", " ") == (
        "Scored against 12 345 pieces by decision of lead Juniper: recounted."
    )


# The key sheet


def test_the_key_sheet_is_sealed_and_holds_every_key(outcome):
    (page,) = pages(key_sheet_pdf(outcome))

    assert "SEALED UNTIL RELEASE" in page
    for key in outcome.keys.values():
        assert key.item.name in page
        assert f"{key.key} " in page


def test_a_verdict_in_words(outcome):
    assert [key_line(k).verdict for k in outcome.keys.values()] == [
        "set by rule",
        "used by decision",
        "not fit",
    ]


def test_an_unfit_key_without_decision_is_open(outcome):
    assert "measure again" in key_line(outcome.keys["B1"]).remark


def test_an_item_that_cannot_be_measured_has_no_key_and_says_why():
    day = replace(field_of(2), hand_counts=())
    key = results(day).keys["J1"]
    line = key_line(key)

    assert (line.key, line.verdict, line.unit) == ("none", "no key yet", "")
    assert len(problem_words(key)) > 10
    assert line.remark == capital(problem_words(key))


# The standings


def test_eighty_pairs_keep_their_heading_on_every_page():
    outcome = results(field_of(80))
    told = pages(standings_pdf(outcome, confidence_of(outcome)))

    assert len(told) > 1
    for number, page in enumerate(told, start=1):
        assert "place pair school J1 total stays" in page
        assert f"page {number} of {len(told)}" in page
        assert "rule set percent accuracy, version 1" in page
    assert all(f"Q{i:02}" in " ".join(told) for i in range(1, 81))


@pytest.mark.slow
def test_children_s_names_are_printed_only_when_asked(outcome):
    told = confidence_of(outcome)
    without = " ".join(pages(standings_pdf(outcome, told)) + pages(feedback_pdf(outcome)))
    with_names = " ".join(
        pages(standings_pdf(outcome, told, names=True)) + pages(feedback_pdf(outcome, names=True))
    )

    assert not any(re.search(rf"\b{name}\b", without) for name in NAMES)
    assert with_names.count("Ada and Bo") >= 2


def test_totals_are_rounded_from_the_exact_sum(outcome):
    lines = {line.code: line for line in standings_view(outcome, confidence_of(outcome)).lines}
    for line in outcome.pairs:
        shown = Fraction(lines[line.pair.code].total)
        assert abs(shown - line.total) <= Fraction(1, 200)


def test_a_guest_is_listed_unplaced(outcome):
    lines = standings_view(outcome, confidence_of(outcome)).lines

    assert (lines[-1].place, lines[-1].code, lines[-1].sure) == ("guest", "P3", "")


def test_the_place_probability_is_the_one_of_the_printed_place():
    outcome = results(field_of(3))
    table = np.array([[0.6, 0.3, 0.1], [0.3, 0.5, 0.2], [0.1, 0.2, 0.7]])
    told = confidence([p.pair.code for p in outcome.pairs], place_probability=table)

    assert [line.sure for line in standings_view(outcome, told).lines] == ["60 %", "50 %", "70 %"]


def test_open_points_make_the_standings_provisional(outcome):
    assert outcome.open_points
    page = pages(standings_pdf(outcome, confidence_of(outcome)))[0]

    assert "Provisional" in page
    assert "Still open" in page


def test_a_shared_podium_too_wide_for_the_top_is_left_to_the_table():
    day = field_of(9)
    same = tuple(replace(a, value=Decimal(450)) for a in day.answers)
    outcome = results(replace(day, answers=same))

    view = standings_view(outcome, confidence_of(outcome))
    assert {line.place for line in view.lines} == {"1"}
    assert view.podium == ()


# The feedback


def test_every_pair_has_one_page(outcome):
    told = pages(feedback_pdf(outcome))

    assert [re.search(r"Pair (P\d)", page)[1] for page in told] == ["P1", "P2", "P3"]


def test_chosen_pairs_come_in_the_order_given(outcome):
    told = pages(feedback_pdf(outcome, ["P3", "P1"]))

    assert [re.search(r"Pair (P\d)", page)[1] for page in told] == ["P3", "P1"]


def test_a_page_has_estimate_key_score_total_and_place(outcome):
    page = pages(feedback_pdf(outcome, ["P1"]))[0]
    line = next(p for p in outcome.pairs if p.pair.code == "P1")

    assert f"{float(line.total):.2f}" in page
    assert "1st of 2" in page
    assert "you 440 pieces" in page
    assert f"key {outcome.keys['C1'].key} pieces" in page
    # Cup 1: 106.3 g gross less 8.6 g tare is 97.7 g of 100 g: 97.70 points, 2 % low.
    assert "you 97.7 g key 100 g 97.70" in page
    assert "Very close: 2 % low." in page


def test_a_blank_shows_no_unit_and_a_kind_word(outcome):
    view = feedback_view(outcome, ["P2"])
    box = next(i for p in view.pages for i in p.items if i.code == "B1")

    assert (box.estimate, box.estimate_unit, box.told) == ("blank", "", "no estimate")
    assert box.advice == "Left blank. A careful try is worth writing down."


def test_the_strip_marks_this_pair_among_all_others(outcome):
    view = feedback_view(outcome, ["P1"])
    strip = view.pages[0].items[1].strip

    assert "<desc" in strip
    assert re.search(r"you: \d+ % \w+\. 2 others", strip)


def test_an_unknown_pair_is_refused_by_name(outcome):
    with pytest.raises(InputError, match="P99"):
        feedback_pdf(outcome, ["P1", "P99"])


def test_an_event_without_answers_is_refused(small_event):
    with pytest.raises(InputError, match="has no answers"):
        feedback_pdf(results(replace(small_event, pairs=(), answers=())))


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_eight_items_fit_one_page(paper):
    codes = [f"J{i}" for i in range(1, 9)]
    day = field_of(3)
    day = replace(
        day,
        items=tuple(Item(c, Station.COUNT, "jar of beans") for c in codes),
        hand_counts=tuple(HandCount(c, 500, who) for c in codes for who in ("Rowan", "Sorrel")),
        answers=tuple(replace(a, item=c) for a in day.answers for c in codes),
    )

    assert len(pages(feedback_pdf(results(day), paper=paper))) == 3


def test_a_reading_on_a_named_scale_is_shown_with_it(small_event):
    day = replace(
        small_event,
        containers=(
            *small_event.containers,
            ContainerWeighing("C1", Decimal("273.3"), Decimal("96.4"), "bench scale"),
        ),
    )
    container = next(t for t in item_readings(day, "C1") if t.title == "Container")

    assert container.rows[1] == ("273.3", "96.4", "bench scale")
