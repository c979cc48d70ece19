"""Sentences on a simulated day: each is said only where it is true."""

from dataclasses import replace

import pytest

from nearmark.contest.day_flow import Band, Change, ChangeKind, DayBands
from nearmark.contest.day_flow.summary import DayFigures
from nearmark.words.day_flow import change_words, done_words, fair_words, flow_words


def sure(value):
    return Band(value, value, value)


def bands(**changes):
    names = [*DayFigures.__dataclass_fields__]
    figures = DayFigures(*[sure(changes.get(name, 0.0)) for name in names])
    return DayBands(figures, (), 10)


CHANGE = Change(ChangeKind.SCALE, 2, gain_min=6.2, gain_u_min=0.3, more_done=0.05, later_min=0.0)


def test_waiting_is_said_in_minutes_with_its_band():
    found = bands(wait_min=7.0, scale_wait_min=4.0, stop_wait_min=3.0)
    found = replace(found, figures=replace(found.figures, worst_wait_min=Band(10.6, 12.0, 13.2)))
    wait, worst, *_ = flow_words(found)

    assert (
        wait == "A pair waits 7 minutes: 4 minutes at the scale, 3 minutes at containers and boxes."
    )
    assert worst == "One pair in twenty waits 12 minutes (11 to 13) or more."


def test_only_a_plan_that_leaves_nothing_undone_is_called_so():
    assert done_words(bands()) == "Every pair comes to every container and box."
    assert done_words(bands(late_pairs=0.2, unfinished=0.06)) == (
        "20 % of the pairs do not come to everything; 6 % of the estimates are not made."
    )


@pytest.mark.parametrize(("more", "said"), [(0.9, "alike"), (4.2, "4 minutes longer")])
def test_a_heat_is_unfair_from_a_minute_on(more, said):
    assert said in fair_words(bands(unfair_min=more))


def test_a_change_says_what_it_saves():
    assert change_words(CHANGE) == (
        "2 scales: saves the pairs that wait longest 6 minutes, "
        "and 5 % more of the estimates are made."
    )


@pytest.mark.parametrize(
    ("gain", "u", "said"),
    [(0.9, 0.01, "saves less than a minute"), (1.5, 1.0, "too few days to say what it saves")],
)
def test_a_change_that_is_not_worth_it_says_so(gain, u, said):
    change = replace(CHANGE, gain_min=gain, gain_u_min=u)
    assert change_words(change) == f"2 scales: {said}."


def test_a_later_end_is_said():
    longer = replace(CHANGE, kind=ChangeKind.INTERVAL, amount=25, more_done=0.0, later_min=30.0)

    assert change_words(longer) == (
        "25 minutes from one start to the next: saves the pairs that wait longest 6 minutes; "
        "the day ends 30 minutes later."
    )


@pytest.mark.parametrize("kind", ChangeKind)
def test_every_change_has_its_words(kind):
    assert change_words(replace(CHANGE, kind=kind)).endswith(".")
