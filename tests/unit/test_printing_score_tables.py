"""The score tables: what a person copies from them is what the command line computes."""

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pypdfium2
import pytest

from nearmark.cli import main
from nearmark.contest import results, shipped_rules
from nearmark.contest.example import two_divisions
from nearmark.contest.rules import TieBreak
from nearmark.contest.score_table import score_table
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.printing import score_tables_pdf
from nearmark.printing.heat_lists import heat_lists
from nearmark.printing.merging_sheet import merging_sheet_pdf, merging_view
from nearmark.printing.score_tables import (
    AND_MORE,
    DASH,
    counted_text,
    nearest,
    score_tables_view,
)


def pages(pdf: bytes) -> list[str]:
    return [
        re.sub(r"\s+", " ", page.get_textpage().get_text_range())
        for page in pypdfium2.PdfDocument(pdf)
    ]


def holds(span: str, answer: Decimal) -> bool:
    if not span:
        return False
    if span.startswith(AND_MORE):
        return answer >= Decimal(span.removeprefix(AND_MORE))
    first, _, last = span.partition(DASH)
    return Decimal(first) <= answer <= Decimal(last or first)


@pytest.fixture(scope="module")
def outcome():
    return results(larkspur_valley())


@pytest.mark.parametrize("code", ["M1", "C1", "C2", "C3", "B2"])
@pytest.mark.slow
def test_a_table_says_what_the_points_command_prints(outcome, code, capsys):
    view = score_tables_view(outcome)
    table = next(table for table in view.tables if table.code == code)
    key = outcome.keys[code].key

    for percent in (0, 1, 37, 99, 100, 101, 142, 199, 200, 450):
        answer = (key * percent / 100).quantize(Decimal("0.1" if code == "M1" else 1))
        (line,) = [x for x in table.lines if holds(x.lower, answer) or holds(x.higher, answer)]
        main(["points", str(answer), str(key)])
        printed = Decimal(capsys.readouterr().out.removesuffix(" points\n"))
        decimals = len(line.points.partition(".")[2])
        most = Decimal(1).scaleb(-decimals) / 2 + Decimal("0.005")
        assert abs(Decimal(line.points) - printed) <= most


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_every_line_is_on_the_paper_and_each_page_names_its_item(outcome, paper):
    few = [item for item in outcome.event.items if item.code in {"C1", "C3"}]
    outcome = results(replace(outcome.event, items=tuple(few), answers=(), adjudications=()))
    view = score_tables_view(outcome)
    told = pages(score_tables_pdf(outcome, paper=paper))

    for table in view.tables:
        own = [
            page
            for page in told
            if f"{table.code} {table.name}. {table.key}".replace("\N{NO-BREAK SPACE}", " ") in page
        ]
        found = set(" ".join(own).replace(AND_MORE, AND_MORE.strip()).split())
        wanted = {x for line in table.lines for x in (line.lower, line.points, line.higher) if x}
        assert {w.replace(AND_MORE, AND_MORE.strip()) for w in wanted} <= found
        assert len(own) <= 5
    assert "Sealed until release" in told[0]
    assert "differ by less than" in told[0]


@pytest.mark.slow
def test_the_limit_of_a_sure_order_adds_up_the_rounding_of_both_totals(outcome):
    """Half a unit of the last decimal for each item, twice."""
    event = outcome.event
    tables = {
        code: score_table(Fraction(key.key), event.rules) for code, key in outcome.keys.items()
    }

    units = [Fraction(1, 10**table.decimals) for table in tables.values()]
    assert nearest(event, tables) == sum(units)


def test_a_weight_is_in_the_bold_number(small_event):
    weighted = replace(
        small_event,
        items=tuple(replace(item, weight=Decimal("1.5")) for item in small_event.items),
    )
    tables = score_tables_view(results(weighted)).tables

    assert all(
        Decimal(line.counts) == Decimal(line.points) * Decimal("1.5")
        for table in tables
        for line in table.lines
    )
    assert "1.5 times" in tables[0].weight
    assert counted_text(Decimal("50.0"), 1, Fraction(1, 3)) == "16.667"


def test_an_event_without_keys_is_refused(small_event):
    bare = replace(
        small_event,
        items=tuple(i for i in small_event.items if i.code == "B1"),
        box_readings=(),
        samples=(),
        containers=(),
        answers=(),
        adjudications=(),
        key_decisions=(),
    )
    with pytest.raises(InputError, match=r"items\.csv"):
        score_tables_pdf(results(bare))


def test_items_without_a_key_are_named(small_event):
    view = score_tables_view(results(replace(small_event, box_readings=())))

    assert view.without == "No table yet, for no true value is known: B1."
    assert "B1" not in {table.code for table in view.tables}


@pytest.mark.parametrize("rules", shipped_rules().values(), ids=lambda r: r.name)
def test_the_merging_sheet_says_how_its_rule_set_breaks_ties(small_event, rules):
    view = merging_view(replace(small_event, rules=rules))

    assert len(view.ties) == len(rules.tie_breaks)
    assert ("breaks no ties" in view.steps[2]) is not bool(rules.tie_breaks)


def test_divisions_are_merged_apart():
    text = " ".join(pages(merging_sheet_pdf(two_divisions())))

    assert "Rank each division by itself" in text
    assert "grade 3" in text
    assert "Rank each division" not in " ".join(pages(merging_sheet_pdf(larkspur_valley())))


def test_each_room_of_a_heat_has_a_list_of_its_own(small_event):
    first, *others = small_event.pairs
    heat = first.heat
    roomy = (
        replace(first, room="North hall"),
        *(replace(pair, heat=heat, room="Library") for pair in others),
    )
    titles = [heat.title for heat in heat_lists(replace(small_event, pairs=roomy))]

    assert titles == ["Heat 1, Library", "Heat 1, North hall"]


def test_the_merging_sheet_has_every_pair_once_and_says_who_gets_no_place(small_event):
    rules = replace(
        small_event.rules,
        solo_allowed=False,
        tie_breaks=(TieBreak.WORST_ITEM, TieBreak.ITEMS_AT_90),
    )
    event = replace(small_event, rules=rules)
    view = merging_view(event)
    text = " ".join(pages(merging_sheet_pdf(event)))

    assert "1. more points, before the weight, at the pair's own worst item" in text
    assert all(text.count(line.pair) == 1 for line in view.lines)
    alone = sum(pair.is_solo for pair in event.pairs)
    assert sum(not line.is_placed for line in view.lines) == alone
