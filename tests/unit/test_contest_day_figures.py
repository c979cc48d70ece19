"""The figures of a simulated day, their bands, their course over the day, and the changes tried."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from nearmark.contest.day_flow.changes import MORE_MINUTES, ChangeKind, worth_of_changes
from nearmark.contest.day_flow.day import Day, RoomDay
from nearmark.contest.day_flow.figures import figures_of, most_at_once, wait_by_order
from nearmark.contest.day_flow.over_time import Spot
from nearmark.contest.day_flow.room import Choice, Overrun, RoomPlan, Stop, usual_stops
from nearmark.contest.day_flow.summary import day_bands, days_played
from nearmark.contest.day_flow.times import Minutes
from nearmark.station import Station

USUAL = RoomPlan(usual_stops())


def fixed(minutes):
    return Minutes(minutes, minutes, minutes)


def room(**changes):
    """No stops; scooping 2 min, weighing 1 min."""
    plan = RoomPlan((), arrive=fixed(0), scoop=fixed(2), weigh=fixed(1), put_back=fixed(0))
    return replace(plan, **changes)


def one_day(*rooms):
    (found,) = days_played(rooms, n_days=1)
    return found


def test_a_plan_without_stops_ends_at_the_scale():
    figures = figures_of(one_day(RoomDay(room(), Day((3,)))))

    assert (figures.end_min, figures.unfinished, figures.late_pairs) == (5, 0, 0)
    assert figures.scale_busy == pytest.approx(3 / 5)
    assert figures.scale_queue == 2


def test_a_helper_is_busy_until_the_cup_is_away():
    figures = figures_of(one_day(RoomDay(room(put_back=fixed(0.5), minutes=30), Day((2,)))))

    # weighed from 2 to 3 and from 3.5 to 4.5: the day ends at 4.5
    assert figures.end_min == 4.5
    assert figures.scale_busy == pytest.approx(2 / 4.5)
    assert figures.helper_busy == pytest.approx(3 / 4.5)


def test_the_last_of_a_heat_lose_more():
    # Waits 0 to 5 min in the order of the hand-ins: thirds 0.5 and 4.5.
    day = one_day(RoomDay(room(), Day((6,))))

    assert figures_of(day).unfair_min == pytest.approx(4)
    assert wait_by_order(day[0]).tolist() == [0, 1, 2, 3, 4, 5]


def test_the_order_is_a_mean_of_the_heats_that_have_it():
    # Heats of 3 and 2, far apart: waits 0, 1, 2 and 0, 1.
    day = one_day(RoomDay(room(), Day((3, 2), 60)))

    assert wait_by_order(day[0]).tolist() == [0, 1, 2]


def test_cups_and_kilograms_by_hand():
    # Both scoop from 0 to 2, are weighed until 3 and 4; put away at once.
    back, kept = (
        one_day(RoomDay(room(is_returned=is_returned), Day((2, 2), 60)))
        for is_returned in (True, False)
    )
    grams = back[0].draws.scoop_g
    put_back, taken = figures_of(back), figures_of(kept)

    assert (put_back.cups, taken.cups) == (2, 4)
    assert put_back.scooped_kg == taken.scooped_kg == pytest.approx(grams.sum() / 1000)
    assert put_back.out_kg == pytest.approx(max(grams[:2].sum(), grams[2:].sum()) / 1000)
    assert taken.out_kg == pytest.approx(grams.sum() / 1000)
    assert put_back.place_kg == pytest.approx(grams.max() / 1000)
    assert taken.place_kg == pytest.approx(max(grams[0] + grams[2], grams[1] + grams[3]) / 1000)


def test_figures_of_two_rooms_are_those_of_both():
    big, small = RoomDay(USUAL, Day((12, 12))), RoomDay(USUAL, Day((6,)))
    both = one_day(big, small)
    alone = [figures_of(each) for each in ((both[0],), (both[1],))]
    found = figures_of(both)

    assert found.end_min == max(each.end_min for each in alone)
    assert found.cups == sum(each.cups for each in alone)
    assert found.out_kg == pytest.approx(sum(each.out_kg for each in alone))
    mean = (24 * alone[0].wait_min + 6 * alone[1].wait_min) / 30
    assert found.wait_min == pytest.approx(mean)


def test_most_at_once_against_counting():
    rng = np.random.default_rng(4)
    begin = rng.integers(0, 20, 30).astype(float)
    end = begin + rng.integers(0, 6, 30).astype(float)

    moments = [Fraction(k, 2) for k in range(60)]
    counted = max(sum(b < t < e for b, e in zip(begin, end, strict=True)) for t in moments)
    assert most_at_once(begin, end) == counted


def test_a_late_start_is_seen():
    plan = room(stops=(Stop("B1", Station.VOLUME, fixed(8), 1),), minutes=9, overrun=Overrun.LATER)

    assert figures_of(one_day(RoomDay(plan, Day((1, 1), 10)))).late_start_min == 1
    assert figures_of(one_day(RoomDay(plan, Day((1, 1), 12)))).late_start_min == 0


def test_bands_come_from_the_days():
    plan = RoomDay(replace(USUAL, overrun=Overrun.LATER), Day((12, 12), 20))
    days = days_played([plan], n_days=9)
    found = day_bands([plan], n_days=9)

    assert found.figures.end_min.usual == sorted(figures_of(day).end_min for day in days)[4]
    (only,) = found.rooms
    waits = sorted(float(day[0].walk.wait_min[:12].mean()) for day in days)
    assert only.heat_wait_min[0].usual == pytest.approx(waits[4])
    assert len(only.heat_wait_min) == 2
    assert len(only.order_wait_min) == 12
    assert found.overrun is Overrun.LATER


def test_the_course_of_the_day_by_hand():
    # Three pairs scoop from 0 to 2 at two places (the third from 2 to 4), each is weighed 1 min.
    found = day_bands([RoomDay(room(places=2), Day((3,)))], n_days=2).rooms[0].over_time

    assert found.times_min == (0.5, 1.5, 2.5, 3.5, 4.5, 5.5)
    places, scales = found.spots
    assert (places.spot, places.room_for) == (Spot.PLACES, 2)
    assert places.busy.usual == (2, 2, 1, 1, 0, 0)
    assert places.queue.usual == (1, 1, 0, 0, 0, 0)
    assert scales.busy.usual == (0, 0, 1, 1, 1, 0)
    assert scales.queue.usual == (0, 0, 1, 0, 0, 0)
    assert found.end_min.usual == 5


def test_nobody_is_in_two_places():
    plan = RoomDay(USUAL, Day((12, 12), 20))
    for line in day_bands([plan], n_days=5).rooms[0].over_time.spots:
        assert max(line.busy.high) <= line.room_for
        assert min(line.queue.low) >= 0


def test_the_change_that_saves_is_named_first_and_the_one_that_does_not_is_not_worth_it():
    # 12 pairs at one scale of 3 min each, boxes for all: only a scale helps.
    plan = room(weigh=fixed(3), stops=(Stop("B1", Station.VOLUME, fixed(2), 12),), minutes=60)
    first, *others = worth_of_changes([RoomDay(plan, Day((12,)))], n_days=3)

    assert (first.kind, first.amount) == (ChangeKind.SCALE, 2)
    assert first.is_worth_it
    # the worst wait is 33 min with one scale, 15 with two (pairs 11 and 12 of 6 turns); 95 of 100:
    # interpolated between the last two of 12: 33 - 0.55 * 3 = 31.35, and 15
    assert first.gain_min == pytest.approx(31.35 - 15, abs=1e-9)
    unhelpful = {ChangeKind.VOLUME, ChangeKind.HELPER, ChangeKind.MINUTES}
    assert not any(c.is_worth_it for c in others if c.kind in unhelpful)


@pytest.mark.slow
def test_a_longer_day_comes_behind_what_costs_no_time():
    plan = RoomDay(replace(USUAL, choice=Choice.ORDER), Day((12, 12, 12), 15))
    found = worth_of_changes([plan], n_days=5)

    is_later = [change.later_min >= MORE_MINUTES for change in found]
    assert any(is_later)
    assert is_later == sorted(is_later)
    assert [change.kind for change in found].count(ChangeKind.INTERVAL) == 1


def test_a_change_is_made_in_every_room():
    plan = room(weigh=fixed(3), minutes=60)
    both = [RoomDay(plan, Day((12,))), RoomDay(plan, Day((12,)))]
    first, *_ = worth_of_changes(both, n_days=2)

    assert first.kind is ChangeKind.SCALE
    assert first.gain_min > 10  # in one room alone the other would still wait as long


def test_heats_that_gain_are_named():
    # The first heat has one pair, which never waits.
    plan = room(weigh=fixed(3), minutes=60)
    first, *_ = worth_of_changes([RoomDay(plan, Day((1, 12), 60))], n_days=2)

    assert first.heats == (2,)


def test_progress_rises_to_one():
    seen: list[float] = []
    day_bands([RoomDay(room(), Day((2,)))], n_days=4, progress=seen.append)

    assert seen == [0.25, 0.5, 0.75, 1.0]
