"""Laws of the simulated day: what cannot happen whatever the numbers."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nearmark.contest.day_flow.day import shared_out
from nearmark.contest.day_flow.draws import drawn
from nearmark.contest.day_flow.figures import figures_of
from nearmark.contest.day_flow.options import DayOptions
from nearmark.contest.day_flow.room import Choice, Overrun
from nearmark.contest.day_flow.summary import days_played
from nearmark.contest.day_flow.walk import walked

few = st.integers(1, 4)
plans = st.builds(
    DayOptions,
    pairs=st.integers(1, 40),
    rooms=st.integers(1, 3),
    places=st.integers(1, 12),
    scales=few,
    helpers=few,
    containers=st.integers(0, 3),
    boxes=st.integers(0, 2),
    at_container=few,
    at_box=few,
    minutes=st.floats(1, 60),
    interval_min=st.floats(1, 60),
    choice=st.sampled_from(Choice),
    overrun=st.sampled_from(Overrun),
    is_returned=st.booleans(),
)


@pytest.mark.slow
@given(plans, st.integers(0, 5))
def test_nobody_gains_time_and_nothing_is_made_of_nothing(plan, seed):
    (day,) = days_played(plan.planned(), n_days=1, first_seed=seed)
    figures = figures_of(day)

    for room in day:
        walk = room.walk
        asked, began, ended = walk.asked_min, walk.began_min, walk.ended_min
        assert (began - asked)[~np.isnan(began)].min() >= 0
        assert (ended - began)[~np.isnan(began)].min() >= 0
        assert (walk.left_min >= walk.asked_min[:, 0]).all()
        assert (walk.started_min >= np.array(room.plan.day.starts_min()) - 1e-9).all()
    assert 1 <= figures.cups <= plan.pairs
    assert figures.place_kg <= figures.out_kg + 1e-12 <= figures.scooped_kg + 1e-9
    assert 0 <= figures.scale_busy <= 1
    assert 0 <= figures.helper_busy <= 1
    assert 0 <= figures.unfinished <= figures.late_pairs <= 1
    if plan.overrun is Overrun.LATER:
        assert figures.unfinished == 0
    else:
        assert figures.late_start_min == 0


@pytest.mark.parametrize("name", ["scales", "helpers"])
@given(st.integers(1, 30), few, st.integers(0, 5))
def test_a_server_more_makes_no_cup_wait_longer(name, pairs, n, seed):
    """First come, first served: with one server more each customer begins no later.

    Kiefer and Wolfowitz (1955), for the queue with several servers (from memory).
    """
    plan = DayOptions(pairs=pairs, containers=0, boxes=0, places=60, scales=n, helpers=n)
    (one,) = plan.planned()
    more = replace(one, room=replace(one.room, **{name: n + 1}))
    if name == "scales":
        more = replace(more, room=replace(more.room, helpers=n + 1))
    before, after = (walked(each, drawn(each, seed)) for each in (one, more))

    assert (after.scale_wait_min <= before.scale_wait_min + 1e-9).all()


@given(st.integers(1, 400), st.lists(st.integers(1, 20), min_size=1, max_size=6))
def test_rooms_share_all_pairs_within_their_places(pairs, places):
    (room,) = DayOptions(pairs=1).planned()
    shared = shared_out(pairs, [replace(room.room, places=n) for n in places])

    assert sum(each.day.n_pairs for each in shared) == pairs
    assert all(max(each.day.heats) <= each.room.places for each in shared)
    assert max(len(each.day.heats) for each in shared) == -(-pairs // sum(places))
