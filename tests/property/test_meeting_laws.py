"""Laws of a meeting that hold for any club."""

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.coaching.meeting_plan import plan_meeting
from nearmark.coaching.meeting_rota import MAX_TOGETHER, Equipment, Learner, rota
from nearmark.coaching.practice_plan import Need
from nearmark.coaching.seen_truth import Thing
from nearmark.coaching.teaching_order import ORDER
from nearmark.coaching.timetable import PartKind, timetable
from nearmark.station import Station

few = settings(max_examples=40, deadline=None)
KINDS = [
    (Station.MASS, ""),
    (Station.COUNT, "small"),
    (Station.COUNT, "medium"),
    (Station.VOLUME, ""),
]


@st.composite
def clubs(draw, most=MAX_TOGETHER + 2):
    """Learners, things, what is at hand."""
    kinds = draw(st.lists(st.sampled_from(KINDS), min_size=0, max_size=9))
    things = [
        Thing(station, size, f"thing {i}", 100.0 + i) for i, (station, size) in enumerate(kinds)
    ]
    learners = []
    for i in range(draw(st.integers(1, most))):
        seen = draw(st.sets(st.sampled_from(things))) if things else set()
        needs = tuple(
            Need(*kind, draw(st.floats(-0.5, 0.5)), draw(st.floats(0.02, 0.5)), n, 3 * n, n)
            for kind, n in zip(KINDS, draw(st.permutations(range(4))), strict=True)
        )
        known = {(thing.name, thing.true) for thing in seen}
        before = draw(st.none() | st.sampled_from(KINDS))
        learners.append(Learner(f"child {i}", needs, known, before=before))
    at_hand = Equipment(draw(st.integers(0, 3)), draw(st.none() | st.integers(0, 14)))
    return learners, things, at_hand


def kind_of(thing):
    return None if thing is None else (thing.station, thing.size)


@pytest.mark.slow
@few
@given(clubs(), st.integers(1, 4))
def test_no_rule_of_the_rota_is_broken(club, n_slots):
    learners, things, at_hand = club
    found = rota(learners, things, n_slots, equipment=at_hand)

    assert len(found) == n_slots
    for slot in found:
        assert list(slot) == [learner.name for learner in learners]  # each has something, or rests
        taken = [thing for thing in slot.values() if thing is not None]
        assert max(Counter(taken).values(), default=0) <= 1  # nobody waits for a thing
        n_mass = sum(thing.station is Station.MASS for thing in taken)
        assert n_mass <= at_hand.scales
        if at_hand.calculators is not None:
            assert len(taken) - n_mass <= at_hand.calculators
    for learner in learners:
        own = [slot[learner.name] for slot in found]
        visited = [thing for thing in own if thing is not None]
        assert len(set(visited)) == len(visited)
        assert all(learner.may_visit(thing) for thing in visited)
        kinds = [learner.before, *map(kind_of, own)]
        assert not any(a is not None and a == b for a, b in pairwise(kinds))


def could_go(learner, thing, slot, row, taken, at_hand) -> bool:
    """Whether a child that rests in a slot could go to a thing that is free there."""
    if thing in row or not learner.may_visit(thing) or thing in taken:
        return False
    is_mass = thing.station is Station.MASS
    alike = sum((other.station is Station.MASS) is is_mass for other in taken)
    room = at_hand.scales if is_mass else at_hand.calculators
    kinds = [learner.before, *map(kind_of, row), None]
    return (room is None or alike < room) and kind_of(thing) not in (kinds[slot], kinds[slot + 2])


@pytest.mark.slow
@few
@given(clubs(), st.integers(1, 4))
def test_nobody_rests_beside_a_free_thing(club, n_slots):
    learners, things, at_hand = club
    found = rota(learners, things, n_slots, equipment=at_hand)
    if len(learners) > MAX_TOGETHER:
        return  # slot by slot: later slots are not looked at

    for s, slot in enumerate(found):
        taken = [thing for thing in slot.values() if thing is not None]
        for learner in learners:
            row = [each[learner.name] for each in found]
            if row[s] is None:
                assert not any(could_go(learner, t, s, row, taken, at_hand) for t in things)


@pytest.mark.slow
@few
@given(clubs(MAX_TOGETHER), st.integers(1, 4))
def test_rests_go_by_turn(club, n_slots):
    """Who rests two times more than another could take no visit of the other."""
    learners, things, at_hand = club
    found = rota(learners, things, n_slots, equipment=at_hand)
    rows = {learner.name: [slot[learner.name] for slot in found] for learner in learners}
    for tired in learners:
        for other in learners:
            gap = rows[tired.name].count(None) - rows[other.name].count(None)
            if gap < 2:
                continue
            for s, thing in enumerate(rows[other.name]):
                if thing is None or rows[tired.name][s] is not None:
                    continue
                free = [each for each in found[s].values() if each not in (None, thing)]
                assert not could_go(tired, thing, s, rows[tired.name], free, at_hand)


@few
@given(st.integers(8, 84), st.integers(0, 6))
def test_the_minutes_add_up(minutes, n_lessons):
    parts = timetable(minutes, ORDER[:n_lessons])

    assert sum(part.minutes for part in parts) == minutes
    begins = 0
    for part in parts:
        assert part.begins_min == begins
        assert part.minutes >= 2
        begins += part.minutes
    taught = [part.lesson for part in parts if part.kind is PartKind.LESSON]
    assert taught == list(ORDER[: len(taught)])
    assert len(taught) == min(n_lessons, len(parts) - 2)


@pytest.mark.slow
@few
@given(clubs(6), st.integers(8, 30))
def test_everybody_sits_with_somebody_once(club, minutes):
    learners, things, at_hand = club
    names = [learner.name for learner in learners]
    pairs = list(zip(names[::3], names[1::3], strict=False))
    plan = plan_meeting(learners, things, minutes=minutes, equipment=at_hand, pairs=pairs)

    seated = [name for group in plan.partners for name in group.names]
    assert sorted(seated) == sorted(names)
    assert set(pairs) <= {group.names for group in plan.partners}
    for group in plan.partners:
        if group.thing is not None:
            assert all(
                any(slot[name] == group.thing for slot in plan.slots) for name in group.names
            )
