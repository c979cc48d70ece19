"""The strip of ``nearmark check`` and ``nearmark score``: only in a terminal wide enough."""

from io import StringIO

import pytest
from rich.console import Console

from nearmark.charts import Mark, strip_text
from nearmark.cli.strips import show_key_strip, show_pair_strip
from nearmark.contest import check_keys, results
from nearmark.demo import larkspur_valley


@pytest.fixture(scope="module")
def outcome():
    return results(larkspur_valley())


def shown(show, *, width=100, is_terminal=True):
    paper = StringIO()
    out = Console(file=paper, width=width, force_terminal=is_terminal, color_system=None)
    show(out)
    return paper.getvalue()


def test_the_answers_to_an_item_are_drawn_against_its_key(outcome):
    check = next(c for c in check_keys(outcome) if c.item == "C1")
    drawn = shown(lambda out: show_key_strip(out, outcome, check))

    key = outcome.keys["C1"].key
    marks = [
        Mark(float(answer.estimate / key))
        for (_, item), answer in outcome.answers.items()
        if item == "C1" and answer.estimate is not None
    ]
    assert drawn == "".join(f"  {row}\n" for row in strip_text(marks, 97).splitlines())
    assert f"{len(marks)} others" in drawn


def test_a_pair_is_drawn_item_by_item(outcome):
    best = outcome.pairs[0]
    drawn = shown(lambda out: show_pair_strip(out, outcome, best))

    assert best.pair.code in drawn
    assert all(f"{score.item}: " in drawn for score in best.items)


@pytest.mark.parametrize(("width", "is_terminal"), [(69, True), (100, False)])
def test_no_strip_without_room_or_without_a_terminal(outcome, width, is_terminal):
    check = check_keys(outcome)[0]

    assert (
        shown(lambda out: show_key_strip(out, outcome, check), width=width, is_terminal=is_terminal)
        == ""
    )
    assert (
        shown(
            lambda out: show_pair_strip(out, outcome, outcome.pairs[0]),
            width=width,
            is_terminal=is_terminal,
        )
        == ""
    )


@pytest.mark.parametrize("width", [70, 81, 140])
def test_no_row_is_wider_than_the_terminal(outcome, width):
    check = check_keys(outcome)[0]
    rows = shown(lambda out: show_key_strip(out, outcome, check), width=width).splitlines()

    assert rows
    assert max(map(len, rows)) <= width
