"""Planned times of heats and the clock of the hall."""

from datetime import UTC, datetime, timedelta

import pytest

from nearmark.contest import HeatClock, HeatState, heat_clock, timetable
from nearmark.contest.heat_times import last_minutes
from nearmark.errors import InputError

START = datetime(2027, 5, 8, 9, tzinfo=UTC)


def test_heats_start_an_interval_apart():
    plan = timetable([3, 1], START, minutes=30, interval_minutes=35)

    assert [(t.number, t.start - START) for t in plan] == [
        (1, timedelta()),
        (3, timedelta(minutes=70)),
    ]
    assert plan[0].end - plan[0].start == timedelta(minutes=30)


@pytest.mark.parametrize(
    ("numbers", "first", "options", "message"),
    [
        ([1], START, {"minutes": 0}, "minutes of a heat"),
        ([1], START, {"interval_minutes": 0}, "start to start"),
        ([1], START, {"minutes": 1441}, "1,440"),
        ([0], START, {}, "above zero"),
        ([2, 2], START, {}, "stand once"),
        ([9999], datetime(9999, 12, 31, tzinfo=UTC), {}, "beyond the calendar"),
    ],
)
def test_a_timetable_that_makes_no_sense_is_refused(numbers, first, options, message):
    with pytest.raises(InputError, match=message):
        timetable(numbers, first, **options)


@pytest.mark.parametrize(
    ("elapsed_s", "state", "left_s"),
    [
        (0, HeatState.RUNNING, 1800),
        (0.4, HeatState.RUNNING, 1800),
        (1499, HeatState.RUNNING, 301),
        (1500, HeatState.LAST_MINUTES, 300),
        (1799.999, HeatState.LAST_MINUTES, 1),
        (1800, HeatState.OVER, 0),
        (10**6, HeatState.OVER, 0),
    ],
)
def test_the_clock_counts_down(elapsed_s, state, left_s):
    clock = heat_clock(START, START + timedelta(seconds=elapsed_s))

    assert (clock.state, clock.seconds_left, clock.is_set_back) == (state, left_s, False)


def test_before_the_start_the_clock_shows_the_whole_heat():
    assert heat_clock(None, START).state is HeatState.NOT_STARTED
    assert heat_clock(None, START, 20).seconds_left == 1200


def test_a_clock_set_back_gives_no_more_than_the_whole_heat():
    clock = heat_clock(START, START - timedelta(hours=1))

    assert (clock.state, clock.seconds_left) == (HeatState.RUNNING, 1800)
    assert clock.is_set_back


@pytest.mark.parametrize(("minutes", "announced"), [(1, 0), (2, 1), (4, 2), (5, 5), (30, 5)])
def test_a_short_heat_does_not_begin_in_its_last_minutes(minutes, announced):
    """No heat says "last 5 minutes" when it never had five."""
    states = [
        heat_clock(START, START + timedelta(seconds=s), minutes).state for s in range(60 * minutes)
    ]

    assert states.count(HeatState.LAST_MINUTES) == min(60 * announced, 60 * minutes)
    assert last_minutes(minutes) == announced


def test_a_pause_stops_the_count_and_moves_the_end():
    at = [START + timedelta(minutes=minute) for minute in (10, 25, 39, 45)]
    pause = timedelta(minutes=15)

    assert heat_clock(START, at[1], 30, paused_at=at[0]) == HeatClock(HeatState.PAUSED, 20 * 60)
    assert heat_clock(START, at[1], 30, paused_for=pause) == HeatClock(HeatState.RUNNING, 20 * 60)
    assert heat_clock(START, at[2], 30, paused_for=pause).seconds_left == 6 * 60
    assert heat_clock(START, at[3], 30, paused_for=pause).state is HeatState.OVER


def test_a_heat_that_was_over_when_it_was_paused_is_over():
    late = START + timedelta(minutes=31)

    assert heat_clock(START, late, 30, paused_at=late).state is HeatState.OVER


def test_times_with_and_without_zone_do_not_mix():
    with pytest.raises(InputError, match="time zone"):
        heat_clock(START, START.replace(tzinfo=None))
