"""The rules on the wall say what the rule set does."""

import io
import re
from dataclasses import replace
from fractions import Fraction

import pypdf
import pytest

from nearmark.contest import results, shipped_rules
from nearmark.contest.rules import RuleSet
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.printing import station_rules_pdf
from nearmark.printing.station_rules import points_columns, points_sentences, station_rules_view
from nearmark.printing.wishes import Wishes


def pages(pdf: bytes) -> list[str]:
    return [
        re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages
    ]


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_every_station_with_items_has_one_page(small_event, paper):
    told = pages(station_rules_pdf(small_event, Wishes(paper=paper)))

    assert [
        title in page
        for title, page in zip(("Scoop 100 g", "How many", "How big"), told, strict=True)
    ]
    assert all("30 minutes" in page and "hand in once" in page for page in told)
    assert all("pencil, paper, and a calculator" in page for page in told)


def test_a_station_without_items_has_none(small_event):
    day = replace(small_event, items=small_event.items[1:])

    assert [s.title for s in station_rules_view(day).stations] == [
        *("How many pieces?", "How big is the box?"),
    ]


def test_an_event_without_items_is_refused(small_event):
    with pytest.raises(InputError, match=r"items\.csv"):
        station_rules_pdf(replace(small_event, items=()))


def test_the_default_is_zero_from_double():
    # 90 g and 110 g of 100 g both score 90, 200 g and more score 0 (docs/reference/rules.md).
    columns = {c.answer: c.points for c in points_columns(RuleSet(), Fraction(100))}

    assert (columns["90"], columns["110"], columns["200"]) == ("90", "90", "0")
    assert "Double the true value or more: 0 points." in points_sentences(RuleSet())


def test_a_free_band_a_nearer_zero_and_a_paid_blank_are_said():
    rules = RuleSet(zero_at=Fraction(1, 2), free_within=Fraction(1, 50), blank_score=Fraction(5, 2))

    assert points_sentences(rules) == (
        "Up to 2 % off: 100 points.",
        "The further off, the fewer; too high and too low count the same.",
        "50 % off or more: 0 points.",
        "Left blank: 2.5 points.",
    )


def test_a_cap_is_the_most_anybody_reads_of():
    rules = RuleSet(highest_score=Fraction(99))

    assert "99 points" in points_sentences(rules)[0]
    assert max(float(c.points) for c in points_columns(rules, Fraction(100))) == 99


@pytest.mark.parametrize("name", sorted(shipped_rules()))
def test_every_shipped_rule_set_fits_the_wall(small_event, name):
    day = replace(small_event, rules=shipped_rules()[name])

    assert len(pages(station_rules_pdf(day))) == 3


def test_the_example_is_nobody_s_key():
    event = larkspur_valley()
    keys = {str(k.key) for k in results(event).keys.values() if k.assigned is not None}
    shown = {c.answer for s in station_rules_view(event).stations for c in s.columns}

    assert not keys & shown


def test_the_target_of_the_cup_is_the_rule_set_s(small_event):
    day = replace(small_event, rules=RuleSet(target_mass_g=Fraction(125, 2)))
    page = station_rules_view(day).stations[0]

    assert page.title == "Scoop 62.5 g"
    assert page.if_true == "If the true value were 62.5 g"


def test_the_wall_says_the_minutes_of_the_rule_set(small_event):
    short = replace(small_event, rules=replace(small_event.rules, heat_minutes=25))

    view = station_rules_view(short)

    assert any("25 minutes" in line for line in view.stations[0].together)
    assert any(
        "30 minutes" in line for line in station_rules_view(small_event).stations[0].together
    )
