"""After the contest: who is called, in which order, and what is on a certificate."""

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pypdfium2
import pytest

from nearmark.contest import results
from nearmark.contest.example import two_divisions
from nearmark.contest.results import PairResult, Results
from nearmark.demo import larkspur_valley
from nearmark.printing.after_paper import AFTER_PAPERS
from nearmark.printing.award_papers import (
    announcer_view,
    award_certificates_pdf,
    participation_pdf,
    press_view,
)
from nearmark.printing.typesetting import PAPERS
from nearmark.printing.wishes import Wishes
from nearmark.words.award_papers import left_out_places, no_answers_yet


@pytest.fixture(scope="module")
def outcome():
    return results(larkspur_valley())


def pages(pdf: bytes) -> list[str]:
    return [
        re.sub(r"\s+", " ", page.get_textpage().get_text_range())
        for page in pypdfium2.PdfDocument(pdf)
    ]


def with_places(outcome: Results, *held: int) -> Results:
    """The same results with the first pairs in these places."""
    placed = [line for line in outcome.pairs if line.place is not None]
    lines = tuple(
        PairResult(line.pair, place, Fraction(500 - place), line.items)
        for line, place in zip(placed, held, strict=False)
    )
    return Results(outcome.event, outcome.keys, outcome.answers, lines)


def test_the_list_reads_from_third_to_first(outcome):
    view = announcer_view(outcome)

    assert [place.call for place in view.places] == [
        "Third place goes to:",
        "Second place goes to:",
        "First place goes to:",
    ]
    best = next(line for line in outcome.pairs if line.place == 1)
    assert view.places[-1].who == (f"pair {int(best.pair.code[1:])} from {best.pair.school}",)
    assert "Draft" in view.draft


@pytest.mark.parametrize(
    ("held", "calls", "notes"),
    [
        ((1, 1, 3), ["Third", "First place is shared by 2 pairs:"], ["", "no second place."]),
        ((1, 2, 2, 4), ["Second place is shared by 2 pairs:", "First"], ["no third place.", ""]),
        (
            (1, 1, 1, 1),
            ["First place is shared by 4 pairs:"],
            ["no second place or third place."],
        ),
    ],
)
def test_a_shared_place_is_said_in_words(outcome, held, calls, notes):
    view = announcer_view(with_places(outcome, *held))

    assert len(view.places) == len(calls)
    for place, call, note in zip(view.places, calls, notes, strict=True):
        assert place.call.startswith(call)
        assert place.note.endswith(note)
        assert bool(place.note) is bool(note)


def test_a_certificate_says_the_place_and_names_only_by_choice(outcome):
    plain = pages(award_certificates_pdf(outcome))
    named = pages(award_certificates_pdf(outcome, names=True))
    winners = [line.pair for line in outcome.pairs if line.place in {1, 2, 3}]

    assert len(plain) == len(winners)
    assert all(any(f"Pair {pair.code} " in page for page in plain) for pair in winners)
    members = [name for pair in winners for name in pair.members]
    assert len(named) == len(members)
    assert all(any(name in page for page in named) for name in members)
    assert not any(re.search(rf"\b{name}\b", page) for name in members for page in plain)


def test_pairs_that_share_a_place_each_get_one(outcome):
    told = pages(award_certificates_pdf(with_places(outcome, 1, 1, 3)))

    assert sum("First place, shared with 1 other pair" in page for page in told) == 2
    assert sum("Third place" in page for page in told) == 1


def test_each_division_has_its_own_awards():
    found = results(two_divisions())

    told = " ".join(pages(award_certificates_pdf(found)))
    assert "First place in grade 3" in told
    assert "First place in grade 4" in told
    assert announcer_view(found).places[0].call == "In grade 3: first place goes to:"


@pytest.mark.slow
def test_everybody_who_answered_gets_a_certificate_of_participation(outcome):
    told = pages(participation_pdf(outcome))
    came = [
        line.pair.code
        for line in outcome.pairs
        if any(score.estimate is not None for score in line.items)
    ]

    text = " ".join(told)
    assert len(told) == -(-len(came) // 2)
    assert all(f"Pair {code} " in text for code in came)


def test_the_press_gets_facts_and_no_name(outcome):
    text = " ".join(press_view(outcome).lines)
    pairs = outcome.event.pairs

    assert "from 12 schools" in text
    assert not any(pair.school in text or pair.code in text for pair in pairs)
    assert not any(re.search(rf"\b{n}\b", text) for pair in pairs for n in pair.members)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("page", AFTER_PAPERS, ids=lambda page: page.name)
def test_each_comes_in_both_sizes_and_before_anybody_has_a_place(small_event, paper, page):
    bare = results(replace(small_event, answers=(), adjudications=()))
    for found in (bare, results(small_event)):
        pdf = page.made(found, Wishes(paper=paper, names=page.has_names))
        wide = min(pypdfium2.PdfDocument(pdf)[0].get_size())
        # ISO 216, ANSI/ASME Y14.1 (from memory)
        assert wide == pytest.approx(595.28 if paper == "a4" else 612, abs=0.1)


def test_what_children_get_is_in_the_language_that_is_wanted(outcome):
    told = {
        page.name: " ".join(pages(page.made(outcome, Wishes(language="es"))))
        for page in AFTER_PAPERS
        if page.name != "participation-certificates"
    }

    assert "Diploma" in told["award-certificates"]
    assert "Primer puesto" in told["award-certificates"]
    assert "Tercer puesto, para:" in told["announcer-list"]
    assert "de 12 escuelas" in told["press-line"]
    assert not any(re.search(r"\b(the|and|from)\b", text) for text in told.values())


def test_before_any_answer_the_press_is_told_nothing_of_the_day(outcome):
    empty = replace(outcome.event, answers=(), adjudications=(), audit_readings=())

    assert press_view(results(empty)).lines == (no_answers_yet(),)


@pytest.mark.parametrize(("answer", "said"), [("3000", "exactly right"), ("3001", "less than")])
def test_exactly_right_is_only_what_is_exactly_right(outcome, answer, said):
    key = outcome.keys["C1"]
    line = next(line for line in outcome.pairs if line.place == 1)
    score = next(score for score in line.items if score.item == "C1")
    one = replace(line, items=(replace(score, estimate=Decimal(answer)),))
    keys = outcome.keys | {"C1": replace(key, key=Decimal(3000))}

    lines = press_view(Results(outcome.event, keys, outcome.answers, (one,))).lines

    assert said in lines[-1]


def test_places_that_nobody_holds_are_named_with_or():
    assert left_out_places([2, 3]) == "There is no second place or third place."
