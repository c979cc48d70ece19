"""What the next event takes along, and what the figures of the last one are."""

import statistics
from dataclasses import fields, replace
from datetime import date
from fractions import Fraction

from nearmark.contest import results
from nearmark.contest.event import Event
from nearmark.contest.next_event import MAX_OFF_NEAR, event_figures, prepared_again
from nearmark.demo import larkspur_valley
from nearmark.words.next_event import near_words

KEPT = ["venue", "rules", "instruments", "materials", "divisions", "rooms", "items", "cups"]


def after(before: Event, *, with_boxes: bool = False) -> Event:
    name = "Larkspur Valley Estimation Day 2028"
    return prepared_again(before, name=name, day=date(2028, 5, 6), seed=7, with_boxes=with_boxes)


def test_the_kit_comes_along_and_nobody_s_name():
    before = larkspur_valley()

    later = after(before)

    for name in KEPT:
        assert getattr(later, name) == getattr(before, name), name
    assert {f.name for f in fields(later) if not getattr(later, f.name)} >= {
        "pairs", "answers", "adjudications", "audit_readings", "closings", "key_decisions",
        "samples", "containers", "hand_counts", "box_readings",
    }  # fmt: skip


def test_readings_of_the_same_boxes_come_along_when_asked():
    before = larkspur_valley()

    assert after(before, with_boxes=True).box_readings == before.box_readings


def test_figures_are_those_of_a_plain_count():
    outcome = results(larkspur_valley())
    code = "C1" if "C1" in outcome.keys else next(iter(outcome.keys))
    scores = [
        line.score
        for pair in outcome.pairs
        if pair.place is not None
        for line in pair.items
        if line.item == code and line.estimate is not None
    ]

    figures = event_figures(outcome)

    item = next(i for i in figures.items if i.item == code)
    assert item.n_answers == len(scores)
    assert item.median_points == statistics.median(scores)
    # The score falls by a point for each percent: within 10 % is 90 points and more.
    assert item.share_near == Fraction(sum(s >= 90 for s in scores), len(scores))
    assert sum(figures.pairs_in_heats) == figures.n_pairs


def test_an_event_without_pairs_has_figures():
    figures = event_figures(results(after(larkspur_valley())))

    assert (figures.n_pairs, figures.cups_handed_in, figures.mean_net_g) == (0, 0, None)
    assert all(item.share_near is None for item in figures.items)


def test_the_heats_are_counted_as_people_count_them():
    event = larkspur_valley()
    named = ("late", "heat 10", "heat 2", "heat 2")
    here = [replace(p, heat=heat) for p, heat in zip(event.pairs, named, strict=False)]

    figures = event_figures(results(replace(after(event), pairs=tuple(here))))

    assert figures.pairs_in_heats == (2, 1, 1)


def test_near_is_said_by_its_constant():
    assert near_words() == f"within {100 * MAX_OFF_NEAR} %"
