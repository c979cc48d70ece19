"""Laws of the planned heats: everybody once, never worse than the quick plan, few moves."""

from collections import Counter
from time import monotonic

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.contest import fill_heats, n_cuts
from nearmark.contest.event import Pair, PairStatus, Room
from nearmark.contest.heat_program import (
    Aim,
    HeatFrame,
    HeatPlan,
    heat_moves,
    make_field,
    not_kept,
    plan_heats,
    preview_heats,
)
from nearmark.contest.heat_records import with_heats
from nearmark.contest.heat_wish import HeatWish

ROOMS = st.lists(st.integers(2, 9), min_size=1, max_size=3).map(
    lambda places: tuple(Room(f"room {n}", each) for n, each in enumerate(places))
)
SLOW = settings(max_examples=25)


@st.composite
def fields(draw):
    """Pairs of a few schools, some of them absent."""
    schools = draw(st.lists(st.sampled_from("ABCDE"), min_size=1, max_size=24))
    statuses = st.sampled_from([*PairStatus, PairStatus.ENTERED, PairStatus.ENTERED])
    return [
        Pair(f"P{n}", school, ("Ada",), draw(statuses)) for n, school in enumerate(schools, start=1)
    ]


def planned(pairs, frame, **more):
    plan = plan_heats(pairs, frame, time_limit_s=5, now=monotonic, **more)
    assert isinstance(plan, HeatPlan)
    return plan


def places_of(heats):
    return {pair.code: (heat.number, pair.room) for heat in heats for pair in heat.pairs}


@pytest.mark.slow
@SLOW
@given(fields(), ROOMS)
def test_everybody_is_placed_once_and_no_worse_than_at_once(pairs, rooms):
    frame = HeatFrame(rooms)
    quick = preview_heats(pairs, frame)

    plan = planned(pairs, frame)

    here = [p.code for p in pairs if p.status in {PairStatus.ENTERED, PairStatus.GUEST}]
    for heats in (quick, plan.heats):
        assert sorted(code for heat in heats for code in heat.codes) == sorted(here)
        assert not_kept(heats, make_field(pairs, (), kept={}, before={}), frame) == ()
    assert len(plan.heats) == len(quick)
    assert n_cuts(plan.heats) <= n_cuts(quick)


@given(fields(), st.integers(2, 9))
def test_one_room_is_filled_at_once_as_it_always_was(pairs, places):
    quick = preview_heats(pairs, HeatFrame((Room("", places),)))

    assert quick == fill_heats(pairs, places=places)


@pytest.mark.slow
@SLOW
@given(fields(), ROOMS, st.data())
def test_a_changed_plan_moves_nobody_who_can_stay(pairs, rooms, data):
    """Late arrivals find a place beside those who are placed, as long as there is one."""
    frame = HeatFrame(rooms)
    before = places_of(planned(pairs, frame).heats)
    late = [
        Pair(f"L{n}", data.draw(st.sampled_from("ABCDEF")), ("Bo",))
        for n in range(data.draw(st.integers(0, 4)))
    ]

    plan = planned([*pairs, *late], frame, before=before)

    after = places_of(plan.heats)
    assert {code: after[code] for code in before} == before
    assert plan.levels[0].aim is Aim.MOVES
    assert plan.levels[0].value == 0
    moved = heat_moves(with_heats([*pairs, *late], ()), plan.heats)
    assert {move.code for move in moved} == set(after)


@pytest.mark.slow
@SLOW
@given(fields(), ROOMS, st.data())
def test_who_is_kept_stays_and_a_chosen_heat_is_kept(pairs, rooms, data):
    frame = HeatFrame(rooms)
    before = places_of(planned(pairs, frame).heats)
    codes = sorted(before)
    if not codes:
        return
    chosen = data.draw(st.lists(st.sampled_from(codes), unique=True, max_size=4))
    kept = {code: before[code] for code in chosen}
    wishes = [HeatWish(code, heat=before[code][0]) for code in codes if code not in kept][:2]

    after = places_of(planned(pairs, frame, kept=kept, wishes=wishes).heats)

    assert {code: after[code] for code in kept} == kept
    assert all(after[wish.who][0] == wish.heat for wish in wishes)
    assert Counter(after.keys()) == Counter(before.keys())
