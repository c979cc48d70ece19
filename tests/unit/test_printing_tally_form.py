"""The tally forms: enough to score a day by hand and to key it in afterwards."""

import io
import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pypdf
import pytest

from nearmark.contest import results, score, shipped_rules
from nearmark.contest.event import Pair
from nearmark.contest.pair_code import with_check
from nearmark.contest.rules import RuleSet
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.printing import tally_form_pdf
from nearmark.printing.tally_form import tally_view
from nearmark.words.hand_scoring import score_formula


def pages(pdf: bytes) -> list[str]:
    return [
        re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages
    ]


def by_hand(formula: str, off: Fraction) -> Fraction:
    """What a person with a calculator gets who follows the printed formula."""
    steps = re.sub(r"^.*score = (.*?), never.*$", r"\1", formula)
    sum_ = steps.replace("\N{MULTIPLICATION SIGN}", "*").replace("\N{MINUS SIGN}", "-")
    worked = sum_.replace("÷", "/").replace("off", "OFF")
    numbers = re.sub(r"\d+(\.\d+)?", r"Fraction('\g<0>')", worked)
    points = eval(numbers, {"Fraction": Fraction, "OFF": off})
    cap = re.search(r"never above (\S+)\.$", formula)
    return max(min(points, Fraction(cap[1])) if cap else points, Fraction(0))


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_a_heat_has_two_readings_and_a_page_of_scores(small_event, paper):
    crowd = tuple(Pair(f"P{n:02}", "Quillbank", ("Ada", "Bo"), heat="1") for n in range(1, 13))
    told = pages(tally_form_pdf(replace(small_event, pairs=crowd), paper=paper))

    heads = r"First reading|Second reading|Third reading|Scores and|Tares"
    assert [re.search(heads, p)[0] for p in told] == [
        *("First reading", "Second reading", "Third reading", "Scores and", "Tares"),
    ]
    named = (told[0], told[1], told[3])
    assert all(with_check("P07") in page and re.search(r"\bN\d-", page) for page in named)
    assert all(word in told[3] for word in ("accepted", "gross", "net", "points", "checked by"))


def test_the_columns_are_those_of_the_answers_file(small_event):
    view = tally_view(small_event)

    assert [(c.item, c.what) for c in view.readings] == [
        ("M1", "cup"),
        ("M1", "gross, g"),
        ("C1", "pieces"),
        ("B1", "cm³"),
    ]


def test_a_weight_is_said_where_an_item_does_not_count_once(small_event):
    (part,) = tally_view(small_event).parts

    assert [c.what for c in part if c.is_points] == [
        "points",
        "points \N{MULTIPLICATION SIGN} 1.5",
        "points",
    ]


def test_the_solved_line_is_right(small_event):
    view = tally_view(small_event)
    (part,) = view.parts
    shown = {(c.item, c.what): Decimal(c.example) for c in part}

    assert shown["M1", "gross, g"] - shown["M1", "tare, g"] == shown["M1", "net, g"]
    assert shown["M1", "points"] == score(shown["M1", "net, g"], 100, small_event.rules)
    assert shown["B1", "points"] == score(shown["B1", "accepted"], 1200, small_event.rules)
    points = [Decimal(c.example) for c in part if c.is_points]
    assert Decimal(view.example_total) == sum(points)
    assert "400 pieces" in view.invented


def test_twelve_items_take_more_pages_and_part_no_item(small_event):
    items = tuple(
        replace(small_event.items[n % 3], code=f"{small_event.items[n % 3].code}{n}")
        for n in range(12)
    )
    parts = tally_view(replace(small_event, items=items)).parts

    assert [c.item for part in parts for c in part if c.is_points] == [i.code for i in items]
    assert all(len(part) <= 14 for part in parts)
    assert len({(n, c.item) for n, part in enumerate(parts) for c in part}) == 12


@pytest.mark.slow
def test_tares_are_listed_and_keys_are_not():
    event = larkspur_valley()
    text = " ".join(pages(tally_form_pdf(event)))

    assert "17 182.4" in text
    for key in results(event).keys.values():
        if key.assigned is not None:
            assert not re.search(rf"\b{key.key}\b", text)


@pytest.mark.parametrize("rules", [RuleSet(), *shipped_rules().values()], ids=lambda r: r.name)
@pytest.mark.parametrize("answer", [0, 37, 88, 99, 100, 101, 149, 200, 260])
def test_the_printed_formula_gives_the_score_of_the_rule_set(rules, answer):
    off = abs(Fraction(answer) - 100) / 100

    assert by_hand(score_formula(rules), off) == score(answer, 100, rules)


def test_a_thirds_rule_stays_exact():
    rules = RuleSet(zero_at=Fraction(2, 3), free_within=Fraction(1, 7))

    assert by_hand(score_formula(rules), Fraction(1, 4)) == score(75, 100, rules)


def test_an_event_without_cups_has_no_page_of_tares(small_event):
    told = pages(tally_form_pdf(replace(small_event, cups=())))

    assert not any("Tares of the cups" in page for page in told)


def test_an_event_without_items_is_refused(small_event):
    with pytest.raises(InputError, match=r"items\.csv"):
        tally_form_pdf(replace(small_event, items=()))
