"""The plan of the heats against every plan there is, tried one after the other.

The trial shares nothing with the program: it puts pair after pair into every room of every heat,
throws away what breaks a wish, and ranks what is left by the aims as they are written down in
``contest/heat_program/levels.py``.
"""

from collections import Counter
from dataclasses import replace
from datetime import time
from itertools import combinations, product

import numpy as np
import pytest

from nearmark.contest.event import Pair, Room
from nearmark.contest.heat_program import (
    Aim,
    DivisionRule,
    HeatFrame,
    NoFit,
    make_field,
    not_kept,
    plan_heats,
)
from nearmark.contest.heat_wish import HeatWish

STEP = 30
NINE = 9 * 60


def clock():
    return 0.0


def minute(moment):
    return moment.hour * 60 + moment.minute


def of(wish, pairs):
    return [i for i, pair in enumerate(pairs) if wish.who in {pair.code, pair.school}]


def keeps(plan, pairs, wishes, frame):
    """Whether a plan, (heat, room) of each pair or None, keeps every wish."""
    return (
        all(keeps_alone(plan, pairs, wish) for wish in wishes)
        and keeps_people(plan, pairs, wishes)
        and keeps_divisions(plan, pairs, frame)
    )


def keeps_alone(plan, pairs, wish):
    for heat, room in (plan[i] for i in of(wish, pairs) if plan[i] is not None):
        start = NINE + STEP * (heat - 1)
        if wish.earliest and start < minute(wish.earliest):
            return False
        if wish.latest and start + STEP > minute(wish.latest):
            return False
        if (wish.heat and heat != wish.heat) or (wish.room and room != wish.room):
            return False
    return True


def keeps_people(plan, pairs, wishes):
    for name in {wish.together for wish in wishes} - {""}:
        members = [i for wish in wishes if wish.together == name for i in of(wish, pairs)]
        if len({plan[i][0] for i in members if plan[i] is not None}) > 1:
            return False
    for one, other in combinations([wish for wish in wishes if wish.apart], 2):
        if one.apart == other.apart:
            first = {plan[i][0] for i in of(one, pairs) if plan[i] is not None}
            if first & {plan[i][0] for i in of(other, pairs) if plan[i] is not None}:
                return False
    return True


def keeps_divisions(plan, pairs, frame):
    for i, j in combinations(range(len(pairs)), 2):
        if plan[i] is None or plan[j] is None:
            continue
        one, other = pairs[i].division, pairs[j].division
        if frame.divisions is DivisionRule.OWN_HEATS:
            if one and other and one != other and plan[i][0] == plan[j][0]:
                return False
        elif (
            frame.divisions is DivisionRule.OWN_ROOM
            and one
            and one == other
            and plan[i][1] != plan[j][1]
        ):
            return False
    return True


def needy(pairs, wishes):
    return {i for wish in wishes if wish.needs_accessible for i in of(wish, pairs)}


def too_many(plan, pairs, wishes, frame):
    """Places that are not there."""
    rooms = {room.name: room for room in frame.rooms}
    loads = Counter(cell for cell in plan if cell is not None)
    beyond = sum(max(0, n - rooms[name].places) for (_, name), n in loads.items())
    ask = Counter(plan[i] for i in needy(pairs, wishes) if plan[i] is not None)
    for name, room in rooms.items():
        if room.accessible_places is not None:
            most = max([n for (_, at), n in ask.items() if at == name], default=0)
            beyond += max(0, most - room.accessible_places)
    return beyond


def rank(plan, pairs, wishes, frame, before):
    """The aims in their order."""
    coach = {wish.who: wish.coach for wish in wishes if wish.coach}
    parties = {pair.school: coach.get(pair.school, f"school {pair.school}") for pair in pairs}
    heats = {heat for heat, _ in plan}
    rooms: dict[str, set[str]] = {}
    numbers: dict[str, set[int]] = {}
    for (heat, room), pair in zip(plan, pairs, strict=True):
        rooms.setdefault(parties[pair.school], set()).add(room)
        numbers.setdefault(parties[pair.school], set()).add(heat)
    far = sum(max(0, max(ns) - min(ns) - 1) for ns in numbers.values())
    loads = Counter(plan)
    places = sum(room.places for room in frame.rooms)
    uneven = sum(
        abs(loads[heat, room.name] - len(pairs) * room.places / places / len(heats))
        for heat in heats
        for room in frame.rooms
    )
    moved = [
        pair for cell, pair in zip(plan, pairs, strict=True) if before.get(pair.code, cell) != cell
    ]
    shares = {(heat, pair.school) for (heat, _), pair in zip(plan, pairs, strict=True)}
    cuts = len(shares) - len({school for _, school in shares})
    coaches = sum(len(names) - 1 for names in rooms.values()) + far
    return (len(moved), len(heats), sum(heats), cuts, coaches, round(uneven, 6))


def draw(rng):
    """A few pairs with a few wishes in a few cells."""
    n_rooms, n_heats = ((1, 3), (2, 2))[rng.integers(2)]
    n = int(rng.integers(3, 7 if n_rooms == 1 else 6))
    pairs = [
        Pair(f"P{i}", "ABC"[rng.integers(3)], ("Ada",), division=("", "low", "high")[i % 3])
        for i in range(n)
    ]
    rooms = tuple(
        Room(name, int(rng.integers(1, 4)), [None, 0, 1][rng.integers(3)])
        for name in ("Gym", "Library")[:n_rooms]
    )
    rule = list(DivisionRule)[rng.choice(3, p=[0.7, 0.15, 0.15])]
    frame = HeatFrame(rooms, time(9), STEP, max_heats=n_heats, divisions=rule)
    schools = sorted({pair.school for pair in pairs})
    a, b = (pairs[i].code for i in rng.choice(n, 2, replace=False))
    every = [
        [HeatWish(schools[0], earliest=time(9, 30))],
        [HeatWish(schools[-1], latest=time(10))],
        [HeatWish(a, heat=int(rng.integers(1, n_heats + 1)))],
        [HeatWish(b, room=rooms[-1].name)],
        [HeatWish(a, together="t"), HeatWish(b, together="t")],
        [HeatWish(a, apart="u"), HeatWish(b, apart="u")],
        [HeatWish(a, needs_accessible=True)],
        [HeatWish(school, coach="Ivy") for school in schools[:2]],
    ]
    wishes = [wish for i in rng.choice(len(every), 3, replace=False) for wish in every[i]]
    before = {}
    if rng.random() < 0.4:
        before = {
            pair.code: (int(rng.integers(1, n_heats + 1)), rooms[rng.integers(n_rooms)].name)
            for pair in pairs[1:]
        }
    return pairs, frame, wishes, before


CASES = 80


@pytest.mark.slow
def test_no_plan_of_a_small_event_is_better():
    rng = np.random.default_rng(20270508)
    planned = refused = 0
    for _ in range(CASES):
        pairs, frame, wishes, before = draw(rng)
        cells = list(product(range(1, frame.max_heats + 1), [room.name for room in frame.rooms]))
        kept = [
            plan for plan in product(cells, repeat=len(pairs)) if keeps(plan, pairs, wishes, frame)
        ]
        fitting = [plan for plan in kept if not too_many(plan, pairs, wishes, frame)]

        found = plan_heats(pairs, frame, wishes=wishes, before=before, now=clock)

        if isinstance(found, NoFit):
            refused += 1
            assert not fitting
            check_refusal(found, kept, pairs, frame, wishes, cells)
            continue
        planned += 1
        best = min(rank(plan, pairs, wishes, frame, before) for plan in fitting)
        at = {p.code: (heat.number, p.room) for heat in found.heats for p in heat.pairs}
        plan = tuple(at[pair.code] for pair in pairs)
        assert plan in fitting
        assert rank(plan, pairs, wishes, frame, before) == best, (pairs, frame, wishes, before)
        assert found.is_proven
        stated = {level.aim: level.value for level in found.levels}
        assert (stated[Aim.HEATS], stated[Aim.CUTS], stated[Aim.COACHES]) == (
            best[1],
            best[3],
            best[4],
        )
        field = make_field(pairs, wishes, kept={}, before={})
        assert not_kept(found.heats, field, frame) == ()

    # Both happen, often enough to mean something.
    assert min(planned, refused) > CASES // 5


def check_refusal(found, kept, pairs, frame, wishes, cells):
    """The least change is the least of all."""
    if kept:
        least = min(too_many(plan, pairs, wishes, frame) for plan in kept)
        assert sum(more.n for more in found.more_places) == least
    else:
        assert found.more_places == ()
    left_out = min(
        plan.count(None)
        for plan in product([None, *cells], repeat=len(pairs))
        if keeps(plan, pairs, wishes, frame) and not too_many(plan, pairs, wishes, frame)
    )
    assert sum(unplaced.n for unplaced in found.unplaced) == left_out
    fewest = fewest_given_up(pairs, frame, wishes, cells)
    if fewest is None:
        assert found.changes == ()
    else:
        assert len(found.changes) + found.mixes_divisions == fewest


def fewest_given_up(pairs, frame, wishes, cells):
    """How few parts of wishes have to be given up, with the places there are."""
    parts = [
        *((i, "time") for i, wish in enumerate(wishes) if wish.earliest or wish.latest),
        *((i, part) for i, wish in enumerate(wishes) for part in ("heat", "room")),
        *(("together", wish.together) for wish in wishes if wish.together),
        *(("apart", wish.apart) for wish in wishes if wish.apart),
        ("divisions", ""),
    ]
    plans = [
        plan
        for plan in product(cells, repeat=len(pairs))
        if not too_many(plan, pairs, wishes, frame)
    ]
    for n in range(1, 4):
        for given in combinations(sorted(set(parts), key=repr), n):
            left = [without(wish, i, given) for i, wish in enumerate(wishes)]
            mixed = ("divisions", "") in given
            day = replace(frame, divisions=DivisionRule.MIXED) if mixed else frame
            if any(keeps(plan, pairs, left, day) for plan in plans):
                return n
    assert not plans
    return None


def without(wish, i, given):
    """A wish without what is given up of it."""
    if (i, "time") in given:
        wish = replace(wish, earliest=None, latest=None)
    if (i, "heat") in given:
        wish = replace(wish, heat=None)
    if (i, "room") in given:
        wish = replace(wish, room="")
    if ("together", wish.together) in given:
        wish = replace(wish, together="")
    if ("apart", wish.apart) in given:
        wish = replace(wish, apart="")
    return wish
