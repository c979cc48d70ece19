"""The day played through: what is drawn, what a pair meets, and what the figures say."""

from dataclasses import replace

import numpy as np
import pytest

from nearmark.contest.day_flow import (
    Break,
    ChangeKind,
    Choice,
    Day,
    Late,
    Minutes,
    Room,
    Stop,
    day_bands,
    usual_room,
    worth_of_changes,
)
from nearmark.contest.day_flow.draws import Draws, drawn
from nearmark.contest.day_flow.room import equal_heats
from nearmark.contest.day_flow.summary import days_walked, figures_of
from nearmark.contest.day_flow.walk import walked
from nearmark.errors import InputError
from nearmark.station import Station


def fixed(minutes):
    return Minutes(minutes, minutes, minutes)


def room(**changes):
    """Two boxes for one pair each; scooping 2 min, weighing 1 min, a box 4 min."""
    stops = tuple(Stop(code, Station.VOLUME, fixed(4), at_once=1) for code in ("B1", "B2"))
    plan = Room(stops, places=12, scoop=fixed(2), weigh=fixed(1), choice=Choice.ORDER)
    return replace(plan, **changes)


def played(plan, day, seed=0):
    return walked(plan, day.arrivals_min(), drawn(day, plan, seed))


def test_three_pairs_by_hand():
    # All hand in at 2. Weighed at 3, 4, 5. B1 is free at 3, 7, 11: waits 0, 3, 6; B2 at 7, 11, 15.
    walk = played(room(), Day((3,)))

    assert walk.scale_wait_min.tolist() == [0, 1, 2]
    assert walk.stop_wait_min.tolist() == [0, 3, 6]
    assert walk.left_min.tolist() == [11, 15, 19]
    assert walk.is_done.all()
    assert (walk.scale_busy_min, walk.scale_queue) == (3, 2)


def test_the_shortest_queue_is_taken():
    # At 4 the second pair finds B1 taken and B2 free: nobody waits for a box before 7 or 8.
    walk = played(room(choice=Choice.SHORTEST), Day((2,)))

    assert walk.stop_wait_min.tolist() == [0, 0] or walk.stop_wait_min.sum() == 1
    assert walk.left_min.max() <= 12


def test_what_is_in_hand_when_the_minutes_are_up_is_not_done():
    walk = played(room(minutes=9), Day((1,)))  # B1 from 3 to 7, B2 from 7 to 11

    assert walk.is_done.tolist() == [[True, False]]
    assert walk.left_min.tolist() == [9]


def test_who_waits_to_the_end_leaves_at_the_end():
    walk = played(room(minutes=6), Day((2,)))

    assert walk.left_min.tolist() == [6, 6]
    assert walk.stop_wait_min.tolist() == [0, 2]  # from 4 to 6 at B1
    assert not walk.is_done.any()


def test_a_break_at_the_scale_ends_who_is_being_weighed_first():
    walk = played(room(breaks=(Break(2.5, 6),)), Day((2,)))

    assert walk.scale_wait_min.tolist() == [0, 4]  # the second is weighed from 6 on
    assert walk.scale_busy_min == 2


def test_pairs_beyond_the_places_wait_to_scoop():
    walk = played(room(places=1), Day((2,)))

    assert walk.scoop_wait_min.tolist() == [0, 2]


def test_late_pairs_have_their_own_minutes():
    day = Day((2, 2), 10, (Late(2, 1, 4),))
    walk = played(room(minutes=6), day)

    assert day.arrivals_min() == [0, 0, 14, 10]
    assert walk.left_min.tolist() == [6, 6, 20, 16]


def test_the_first_pairs_stay_the_same_when_more_come():
    plan = usual_room()
    few, many = (drawn(Day((n,)), plan, 3) for n in (5, 9))

    for name in ("scoop_min", "weigh_min", "stop_min"):
        assert np.array_equal(getattr(few, name), getattr(many, name)[:5])


def test_a_scale_more_never_changes_what_is_drawn():
    plan = usual_room()
    one, two = (drawn(Day((9,)), each, 3) for each in (plan, replace(plan, scales=2)))

    assert np.array_equal(one.likes, two.likes)
    assert np.array_equal(one.stop_min, two.stop_min)


def test_times_lie_in_their_spread():
    plan = usual_room()
    draws = drawn(Day((400,)), plan, 1)

    assert plan.scoop.low <= draws.scoop_min.min() <= draws.scoop_min.max() <= plan.scoop.high
    assert draws.scoop_min.mean() == pytest.approx(plan.scoop.mean, abs=0.1)


@pytest.mark.parametrize("choice", Choice)
@pytest.mark.parametrize("seed", range(5))
def test_minutes_add_up(choice, seed):
    """Waiting, working and being weighed are all that a pair does before it leaves."""
    plan, day = replace(usual_room(), choice=choice), Day((12, 12), 20)
    draws = drawn(day, plan, seed)
    walk = walked(plan, day.arrivals_min(), draws)

    own = walk.left_min - day.arrivals_min()
    worked = draws.scoop_min + draws.weigh_min + (draws.stop_min * walk.is_done).sum(axis=1)
    in_hand = own - worked - walk.wait_min
    everything = walk.is_done.all(axis=1)
    assert in_hand[everything] == pytest.approx(0, abs=1e-9)
    assert (in_hand > -1e-9).all()
    assert (own <= plan.minutes + 1e-9).all()
    assert own[~everything] == pytest.approx(plan.minutes)


def test_a_plan_without_stops_ends_at_the_scale():
    plan = room(stops=())
    day = Day((3,))

    figures = figures_of(day, plan, played(plan, day))
    assert (figures.end_min, figures.unfinished, figures.late_pairs) == (5, 0, 0)
    assert figures.scale_busy == pytest.approx(3 / 5)


def test_the_last_of_a_heat_lose_more():
    plan = room(stops=())
    day = Day((6,))  # waits 0 to 5 min in the order of the hand-ins: thirds 0.5 and 4.5

    assert figures_of(day, plan, played(plan, day)).unfair_min == pytest.approx(4)


def test_bands_come_from_the_days():
    plan, day = usual_room(), Day((12, 12), 20)
    walks = days_walked(day, plan, n_days=9)
    found = day_bands(day, plan, n_days=9)

    ends = sorted(figures_of(day, plan, w).end_min for w in walks)
    assert found.figures.end_min.usual == ends[4]
    assert len(found.heat_wait_min) == 2
    assert found.heat_wait_min[0].low <= found.heat_wait_min[0].usual <= found.heat_wait_min[0].high


def test_the_change_that_saves_is_named_first_and_the_one_that_does_not_is_not_worth_it():
    # 12 pairs at one scale of 3 min each, boxes for all: only a scale helps.
    plan = room(weigh=fixed(3), stops=(Stop("B1", Station.VOLUME, fixed(2), 12),))
    first, *others = worth_of_changes(Day((12,)), plan, n_days=3)

    assert (first.kind, first.amount) == (ChangeKind.SCALE, 2)
    assert first.is_worth_it
    # the worst wait is 33 min with one scale, 15 with two (pairs 11 and 12 of 6 turns); 95 of 100:
    # interpolated between the last two of 12: 33 - 0.55 * 3 = 31.35, and 15
    assert first.gain_min == pytest.approx(31.35 - 15, abs=1e-9)
    assert not any(c.is_worth_it for c in others if c.kind is ChangeKind.VOLUME)


def test_progress_rises_to_one():
    seen: list[float] = []
    day_bands(Day((2,)), room(), n_days=4, progress=seen.append)

    assert seen == [0.25, 0.5, 0.75, 1.0]


@pytest.mark.parametrize("n", [1, 12, 13, 80, 200, 399])
def test_equal_heats_hold_all(n):
    heats = equal_heats(n)

    assert sum(heats) == n
    assert max(heats) <= 12
    assert max(heats) - min(heats) <= 1
    assert len(heats) == -(-n // 12)


@pytest.mark.parametrize(
    ("make", "where"),
    [
        (lambda: Minutes(3, 2, 5), "minutes"),
        (lambda: Break(10, 10), "break"),
        (lambda: replace(usual_room(), scales=0), "scales"),
        (lambda: replace(usual_room(), places=61), "places"),
        (lambda: replace(usual_room(), minutes=0), "minutes of a pair"),
        (lambda: Stop("B1", Station.VOLUME, fixed(1), 0), "pairs at once"),
        (lambda: Day(()), "pairs"),
        (lambda: equal_heats(12, 0), "places"),
        (lambda: Day((3, 0)), "heats"),
        (lambda: Day((3,), 0), "minutes from start to start"),
        (lambda: Day((3,), 30, (Late(2, 1, 5),)), "late pairs"),
        (lambda: Day((3,), 30, (Late(1, 4, 5),)), "late pairs"),
        (lambda: Day((3,), 30, (Late(1, 1, -5),)), "late pairs"),
        (lambda: Day((3,), 30, (Late(1, 1, float("nan")),)), "late pairs"),
        (lambda: Day((3,), 30, (Late(1, 1, 5), Late(1, 1, 6))), "late pairs"),
        (lambda: days_walked(Day((3,)), usual_room(), n_days=0), "simulated days"),
    ],
)
def test_what_makes_no_sense_is_refused(make, where):
    with pytest.raises(InputError) as refused:
        make()
    assert refused.value.where == where
    assert refused.value.mend


def test_draws_may_be_given():
    n = 2
    draws = Draws(np.full(n, 1.0), np.array([2.0, 1.0]), np.zeros((n, 0)), np.zeros((n, 0), int))

    assert walked(room(stops=()), [0.0, 0.0], draws).scale_wait_min.tolist() == [0, 2]
