"""Sentences on a simulated day: each is said only where it is true."""

from dataclasses import replace
from datetime import time

import pytest

from nearmark.contest.day_flow.bands import Band
from nearmark.contest.day_flow.changes import Change, ChangeKind
from nearmark.contest.day_flow.figures import DayFigures
from nearmark.contest.day_flow.room import Overrun
from nearmark.contest.day_flow.summary import DayBands
from nearmark.words.day_changes import change_words, changes_head
from nearmark.words.day_flow import (
    done_words,
    end_words,
    fair_words,
    flow_words,
    helper_words,
    late_start_words,
    material_words,
    overrun_words,
    wait_words,
)


def sure(value):
    return Band(value, value, value)


def bands(**changes):
    names = [*DayFigures.__dataclass_fields__]
    figures = DayFigures(*[sure(changes.get(name, 0.0)) for name in names])
    return DayBands(figures, (), 10)


CHANGE = Change(
    ChangeKind.SCALE,
    2,
    gain_min=6.2,
    gain_u_min=0.3,
    more_done=0.05,
    more_done_u=0.01,
    later_min=0.0,
)


def test_the_end_comes_first_and_waiting_is_said_in_minutes_with_its_band():
    found = bands(wait_min=7.0, scale_wait_min=4.0, stop_wait_min=3.0, end_min=150.0)
    found = replace(found, figures=replace(found.figures, worst_wait_min=Band(10.6, 12.0, 13.2)))
    end, _, wait, worst, *_ = flow_words(found, time(9))

    assert end == "The day ends at 11:30."
    assert (
        wait == "A pair waits 7 minutes: 4 minutes at the scale, 3 minutes at containers and boxes."
    )
    assert worst == "One pair in twenty waits 12 minutes (11 to 13) or more."


def test_a_wait_for_a_place_is_said_where_there_is_one():
    assert wait_words(bands(wait_min=9, scoop_wait_min=5)).startswith(
        "A pair waits 9 minutes: 5 minutes for a place"
    )
    assert wait_words(bands(wait_min=0.4)) == "Pairs hardly wait."


@pytest.mark.parametrize(
    ("band", "start", "said"),
    [
        (Band(190.4, 202, 215.4), time(9), "The day ends between 12:10 and 12:35."),
        (Band(149.8, 150, 150.4), time(9), "The day ends at 11:30."),
        (Band(65, 70, 130), None, "The day ends 1 h 05 min to 2 h 10 min after the first start."),
        (Band(150, 150, 150), None, "The day ends 2 h 30 min after the first start."),
        (Band(59.6, 60, 60.4), None, "The day ends 1 h 00 min after the first start."),
    ],
)
def test_the_end_is_said_by_the_clock_where_the_start_is_known(band, start, said):
    assert end_words(band, start) == said


def test_only_a_plan_that_leaves_nothing_undone_is_called_so():
    assert done_words(bands()) == "Every pair comes to every container and box."
    assert done_words(bands(late_pairs=0.2, unfinished=0.06)) == (
        "20 % of the pairs do not come to everything; 6 % of the estimates are not made."
    )


def test_a_plan_whose_heats_run_over_says_how_late_they_start():
    late = replace(bands(late_start_min=12.0), overrun=Overrun.LATER)

    assert overrun_words(late) == (
        "Every pair comes to everything, but heats run over: one starts 12 minutes late."
    )
    assert "every heat starts in time" in late_start_words(bands())
    assert overrun_words(bands(late_start_min=12.0)) == done_words(bands())


@pytest.mark.parametrize(("more", "said"), [(0.9, "alike"), (4.2, "4 minutes longer")])
def test_a_heat_is_unfair_from_a_minute_on(more, said):
    assert said in fair_words(bands(unfair_min=more))


def test_helpers_without_a_break_are_named():
    assert helper_words(bands(helper_busy=0.5)).endswith("busy 50 % of the day.")
    assert helper_words(bands(helper_busy=0.9)).endswith("they have no break.")


def test_material_is_said_as_it_is_handled():
    found = bands(cups=12.0, scooped_kg=8.46, out_kg=1.4, place_kg=0.8)

    assert material_words(found) == (
        "With scoops put back, 12 cups are enough, and 1.4 kg is out of the buckets at one time; "
        "all scoops together are 8.5 kg."
    )
    assert material_words(replace(found, is_returned=False)) == (
        "Scoops are not put back: 12 cups, and 8.5 kg are taken; one place gives up to 0.8 kg."
    )


def test_a_change_says_what_it_saves():
    assert change_words(CHANGE) == (
        "2 scales, and a helper more with it: saves the pairs that wait longest 6 minutes, "
        "and 5 % more of the estimates are made."
    )


def test_a_change_that_gets_more_done_is_worth_it_without_a_minute_saved():
    assert change_words(replace(CHANGE, gain_min=0.2)) == (
        "2 scales, and a helper more with it: 5 % more of the estimates are made."
    )


@pytest.mark.parametrize(
    ("gain", "u", "said"),
    [(0.9, 0.01, "saves nothing worth it"), (1.5, 1.0, "too few days to say what it saves")],
)
def test_a_change_that_is_not_worth_it_says_so(gain, u, said):
    change = replace(CHANGE, gain_min=gain, gain_u_min=u, more_done=0.01)
    assert change_words(change) == f"2 scales, and a helper more with it: {said}."


@pytest.mark.parametrize(
    ("heats", "said"), [((2, 3, 4), "heats 2 to 4"), ((2, 4), "heats 2 and 4"), ((3,), "heat 3")]
)
def test_heats_that_gain_are_said(heats, said):
    change = replace(CHANGE, more_done=0.0, heats=heats)
    assert change_words(change).endswith(f"longest 6 minutes, most of it in {said}.")


@pytest.mark.parametrize(("later", "said"), [(30.0, "later"), (-30.0, "earlier")])
def test_another_end_is_said(later, said):
    longer = replace(CHANGE, kind=ChangeKind.INTERVAL, amount=25, more_done=0.0, later_min=later)

    assert change_words(longer) == (
        "25 minutes from one start to the next: saves the pairs that wait longest 6 minutes; "
        f"the day ends 30 minutes {said}."
    )


@pytest.mark.parametrize("kind", ChangeKind)
def test_every_change_has_its_words(kind):
    assert change_words(replace(CHANGE, kind=kind)).endswith(".")


def test_only_a_change_that_is_worth_it_heads_the_list():
    assert "in this order" in changes_head([CHANGE])
    assert "keep the plan" in changes_head([replace(CHANGE, gain_min=0.0, more_done=0.0)])
