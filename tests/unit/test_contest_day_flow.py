"""The day played through: what is drawn, what a pair meets, what is refused."""

from dataclasses import replace

import numpy as np
import pytest

from nearmark.contest.day_flow.day import Day, Late, RoomDay, equal_heats, shared_out
from nearmark.contest.day_flow.draws import SCOOP_MEDIAN_G, Draws, drawn
from nearmark.contest.day_flow.options import DayOptions
from nearmark.contest.day_flow.room import Break, Choice, Overrun, RoomPlan, Stop, usual_stops
from nearmark.contest.day_flow.summary import days_played
from nearmark.contest.day_flow.times import Minutes
from nearmark.contest.day_flow.walk import walked
from nearmark.errors import InputError
from nearmark.kit.purchase import MAX_SCOOP_G
from nearmark.station import Station

USUAL = RoomPlan(usual_stops())


def fixed(minutes):
    return Minutes(minutes, minutes, minutes)


def room(**changes):
    """Two boxes for one pair each; scooping 2 min, weighing 1 min, a box 4 min."""
    stops = tuple(Stop(code, Station.VOLUME, fixed(4), at_once=1) for code in ("B1", "B2"))
    plan = RoomPlan(
        stops,
        arrive=fixed(0),
        scoop=fixed(2),
        weigh=fixed(1),
        put_back=fixed(0),
        choice=Choice.ORDER,
    )
    return replace(plan, **changes)


def played(plan, day, seed=0):
    each = RoomDay(plan, day)
    return walked(each, drawn(each, seed))


def test_three_pairs_by_hand():
    # All hand in at 2. Weighed at 3, 4, 5. B1 is free at 3, 7, 11: waits 0, 3, 6; B2 at 7, 11, 15.
    walk = played(room(), Day((3,)))

    assert walk.scale_wait_min.tolist() == [0, 1, 2]
    assert walk.stop_wait_min.tolist() == [0, 3, 6]
    assert walk.left_min.tolist() == [11, 15, 19]
    assert walk.is_done.all()


def test_the_shortest_queue_is_taken():
    # At 4 the second pair finds B1 taken and B2 free: nobody waits for a box before 7 or 8.
    walk = played(room(choice=Choice.SHORTEST), Day((2,)))

    assert walk.stop_wait_min.tolist() == [0, 0] or walk.stop_wait_min.sum() == 1
    assert walk.left_min.max() <= 12


def test_who_goes_by_habit_finishes_one_station_first():
    plan = replace(USUAL, choice=Choice.HABIT, overrun=Overrun.LATER)
    walk = played(plan, Day((12,)), seed=2)

    counts, boxes = walk.began_min[:, 2:5], walk.began_min[:, 5:]
    containers_first = counts.max(axis=1) < boxes.min(axis=1)
    boxes_first = boxes.max(axis=1) < counts.min(axis=1)
    assert (containers_first | boxes_first).all()
    assert containers_first.any()
    assert boxes_first.any()


def test_what_is_in_hand_when_the_minutes_are_up_is_not_done():
    walk = played(room(minutes=9), Day((1,)))  # B1 from 3 to 7, B2 from 7 to 11

    assert walk.is_done.tolist() == [[True, False]]
    assert walk.left_min.tolist() == [9]


def test_who_waits_to_the_end_leaves_at_the_end():
    walk = played(room(minutes=6), Day((2,)))

    assert walk.left_min.tolist() == [6, 6]
    assert walk.stop_wait_min.tolist() == [0, 2]  # from 4 to 6 at B1
    assert not walk.is_done.any()


def test_a_heat_that_runs_over_delays_the_next_one_of_its_room():
    # One pair needs 11 min and has 9: the next one starts at 11 instead of 10, the third at 22.
    walk = played(room(minutes=9, overrun=Overrun.LATER), Day((1, 1, 1), 10))

    assert walk.started_min.tolist() == [0, 11, 22]
    assert walk.left_min.tolist() == [11, 22, 33]
    assert walk.is_done.all()


def test_heats_that_overlap_wait_only_for_those_that_should_be_over():
    # 11 min in all, 10 planned, a start every 5: the third start is due at 10, when the first heat
    # should be over; that one leaves at 11.
    plan = room(minutes=10, overrun=Overrun.LATER, stops=())
    walk = played(replace(plan, scoop=fixed(10)), Day((1, 1, 1), 5))

    assert walk.started_min.tolist() == [0, 5, 11]


def test_a_break_at_the_scale_ends_who_is_being_weighed_first():
    walk = played(room(breaks=(Break(2.5, 6),)), Day((2,)))

    assert walk.scale_wait_min.tolist() == [0, 4]  # the second is weighed from 6 on


def test_a_helper_puts_the_cup_away_before_the_next_one():
    one, two = (
        played(room(stops=(), put_back=fixed(3), scales=scales, helpers=scales), Day((3,)))
        for scales in (1, 2)
    )

    assert one.scale_wait_min.tolist() == [0, 4, 8]
    assert two.scale_wait_min.tolist() == [0, 0, 4]


def test_a_second_helper_weighs_while_the_first_puts_a_cup_away():
    # One scale, 1 min; putting away 3 min: the third cup waits for the first helper at 2 + 4.
    walk = played(room(stops=(), put_back=fixed(3), helpers=2), Day((3,)))

    assert walk.scale_wait_min.tolist() == [0, 1, 4]
    assert walk.put_back_min.tolist() == [6, 7, 10]


def test_pairs_beyond_the_places_wait_to_scoop():
    walk = played(room(places=1), Day((2,)))

    assert walk.scoop_wait_min.tolist() == [0, 2]


def test_late_pairs_have_their_own_minutes():
    day = Day((2, 2), 10, (Late(2, 1, 4),))
    walk = played(room(minutes=6), day)

    assert walk.asked_min[:, 0].tolist() == [0, 0, 14, 10]
    assert walk.left_min.tolist() == [6, 6, 20, 16]


def test_who_is_slow_to_come_has_no_more_minutes():
    walk = played(room(minutes=9, arrive=fixed(2)), Day((1,)))

    assert walk.asked_min[0, 0] == 2
    assert walk.left_min.tolist() == [9]


def test_two_rooms_are_two_rooms():
    """What happens in one room changes nothing in the other."""
    first = RoomDay(replace(USUAL, scales=2), Day((12, 9), 20))
    second = RoomDay(USUAL, Day((8, 8, 8), 30))
    (both,) = days_played([first, second], n_days=1, first_seed=5)

    for number, plan in enumerate((first, second)):
        alone = walked(plan, drawn(plan, 5, number))
        assert np.array_equal(both[number].walk.left_min, alone.left_min)
        assert np.array_equal(both[number].walk.wait_min, alone.wait_min)
    assert not np.array_equal(both[0].draws.scoop_min[:8], both[1].draws.scoop_min[:8])


def test_the_first_pairs_stay_the_same_when_more_come():
    few, many = (drawn(RoomDay(USUAL, Day((n,))), 3) for n in (5, 9))

    for name in ("arrive_min", "scoop_min", "weigh_min", "put_back_min", "stop_min", "scoop_g"):
        assert np.array_equal(getattr(few, name), getattr(many, name)[:5])


def test_a_scale_more_never_changes_what_is_drawn():
    one, two = (
        drawn(RoomDay(plan, Day((9,))), 3) for plan in (USUAL, replace(USUAL, scales=2, helpers=2))
    )

    assert np.array_equal(one.likes, two.likes)
    assert np.array_equal(one.stop_min, two.stop_min)


def test_times_and_scoops_lie_in_their_spread():
    draws = drawn(RoomDay(USUAL, Day((400,))), 1)

    assert USUAL.scoop.low <= draws.scoop_min.min() <= draws.scoop_min.max() <= USUAL.scoop.high
    assert draws.scoop_min.mean() == pytest.approx(USUAL.scoop.mean, abs=0.1)
    assert np.median(draws.scoop_g) == pytest.approx(SCOOP_MEDIAN_G, abs=4.5)
    assert draws.scoop_g.max() <= MAX_SCOOP_G


@pytest.mark.parametrize("overrun", Overrun)
@pytest.mark.parametrize("choice", Choice)
@pytest.mark.parametrize("seed", range(3))
def test_minutes_add_up(choice, overrun, seed):
    """Waiting, working and being weighed are all that a pair does before it leaves."""
    each = RoomDay(replace(USUAL, choice=choice, overrun=overrun), Day((12, 12), 20))
    draws = drawn(each, seed)
    walk = walked(each, draws)

    came = walk.started_min[each.day.heat_of()] + draws.arrive_min
    own = walk.left_min - came
    worked = draws.scoop_min + draws.weigh_min + (draws.stop_min * walk.is_done).sum(axis=1)
    in_hand = own - worked - walk.wait_min
    everything = walk.is_done.all(axis=1)
    assert in_hand[everything] == pytest.approx(0, abs=1e-9)
    assert (in_hand > -1e-9).all()
    if overrun is Overrun.LATER:
        assert everything.all()
    else:
        assert (own + draws.arrive_min <= each.room.minutes + 1e-9).all()
        assert (own + draws.arrive_min)[~everything] == pytest.approx(each.room.minutes)


@pytest.mark.parametrize("n", [1, 12, 13, 80, 200, 399])
def test_equal_heats_hold_all(n):
    heats = equal_heats(n)

    assert sum(heats) == n
    assert max(heats) <= 12
    assert max(heats) - min(heats) <= 1
    assert len(heats) == -(-n // 12)


@pytest.mark.parametrize("n", [1, 2, 30, 79, 200])
@pytest.mark.parametrize("places", [(12,), (12, 12), (12, 6, 1), (1, 1, 10)])
def test_rooms_share_all_pairs_in_as_few_heats_as_hold_them(n, places):
    rooms = shared_out(n, [replace(USUAL, places=k) for k in places])

    assert sum(each.day.n_pairs for each in rooms) == n
    assert max(len(each.day.heats) for each in rooms) == -(-n // sum(places))
    assert all(max(each.day.heats) <= each.room.places for each in rooms)


def test_options_reach_the_rooms():
    options = DayOptions(
        pairs=30,
        rooms=2,
        places_of_rooms=(12, 4),
        names_of_rooms=("Hall", "Library"),
        containers=1,
        boxes=1,
        at_container=4,
        count=fixed(6),
        late=(Late(1, 2, 10),),
    )
    hall, library = options.planned()

    assert (hall.room.name, hall.room.places, hall.day.heats) == ("Hall", 12, (12, 11))
    assert (library.room.name, library.room.places, library.day.heats) == ("Library", 4, (4, 3))
    assert (hall.day.late, library.day.late) == ((Late(1, 2, 10),), ())
    assert [(stop.code, stop.at_once) for stop in hall.room.stops] == [("C1", 4), ("B1", 2)]
    assert hall.room.stops[0].minutes == fixed(6)


@pytest.mark.parametrize(
    ("make", "where"),
    [
        (lambda: Minutes(3, 2, 5), "minutes"),
        (lambda: Break(10, 10), "break"),
        (lambda: replace(USUAL, scales=0), "scales"),
        (lambda: replace(USUAL, helpers=0), "helpers"),
        (lambda: replace(USUAL, places=61), "places"),
        (lambda: replace(USUAL, minutes=0), "minutes of a pair"),
        (lambda: Stop("B1", Station.VOLUME, fixed(1), 0), "pairs at once"),
        (lambda: DayOptions(rooms=7), "rooms"),
        (lambda: DayOptions(containers=-1), "containers"),
        (lambda: Day(()), "pairs"),
        (lambda: equal_heats(12, 0), "places"),
        (lambda: Day((3, 0)), "heats"),
        (lambda: Day((3,), 0), "minutes from start to start"),
        (lambda: Day((3,), 30, (Late(2, 1, 5),)), "late pairs"),
        (lambda: Day((3,), 30, (Late(1, 4, 5),)), "late pairs"),
        (lambda: Day((3,), 30, (Late(1, 1, -5),)), "late pairs"),
        (lambda: Day((3,), 30, (Late(1, 1, float("nan")),)), "late pairs"),
        (lambda: Day((3,), 30, (Late(1, 1, 5), Late(1, 1, 6))), "late pairs"),
        (lambda: days_played([RoomDay(USUAL, Day((3,)))], n_days=0), "simulated days"),
    ],
)
def test_what_makes_no_sense_is_refused(make, where):
    with pytest.raises(InputError) as refused:
        make()
    assert refused.value.where == where
    assert refused.value.mend


def test_draws_may_be_given():
    zero, none = np.zeros(2), np.zeros((2, 0))
    draws = Draws(zero, zero + 1, np.array([2.0, 1.0]), zero, none, none.astype(int), zero)

    walk = walked(RoomDay(room(stops=()), Day((2,))), draws)
    assert walk.scale_wait_min.tolist() == [0, 2]
