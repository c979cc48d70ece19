"""The rota of a meeting against every rota there is, counted up one by one in small clubs.

Nothing of the rota is used here but its stated rules and values: the enumeration knows no integer
program.  The points of a visit are worked out from the priority of a need as it is in
``coaching.practice_plan``: worth x (1 + 1 / sqrt(n + 1)), bias x 0.82 and variance x 0.93 after a
practice.
"""

import itertools
import math

import numpy as np
import pytest

from nearmark.coaching.expected_score import mean_score
from nearmark.coaching.meeting_rota import Equipment, Learner, rota
from nearmark.coaching.practice_plan import Need
from nearmark.coaching.seen_truth import Thing
from nearmark.station import Station

ITEMS = {("mass", ""): 1, ("count", "small"): 1, ("count", "large"): 1, ("volume", ""): 2}


def points_of(need: Need, m: int) -> float:
    """Of the m-th visit, m = 1, 2, ...; never more than of the visit before."""
    found, least = 0.0, math.inf
    bias, sd, n = need.bias, need.sd, need.n
    for k in range(m):
        gain = mean_score(0.82 * bias, math.sqrt(0.93) * sd) - mean_score(bias, sd)
        found = ITEMS[need.station.value, need.size] * max(0.0, float(gain))
        found *= 1 + 1 / math.sqrt(n + 1)
        if n == 0:
            found += 10
        elif k == 0 and need.ago >= 12:
            found += 5
        least = min(least, found)
        bias, sd, n = 0.82 * bias, math.sqrt(0.93) * sd, n + 1
    return least


def is_allowed(history, learners, equipment) -> bool:
    for row, learner in zip(history, learners, strict=True):
        visited = [thing for thing in row if thing is not None]
        if len(set(visited)) < len(visited):
            return False
        if any(t.station != "mass" and (t.name, t.true) in learner.seen for t in visited):
            return False
        kinds = [learner.before, *((t.station, t.size) if t else None for t in row)]
        if any(a is not None and a == b for a, b in itertools.pairwise(kinds)):
            return False
    for slot in zip(*history, strict=True):
        taken = [thing for thing in slot if thing is not None]
        n_mass = sum(thing.station == "mass" for thing in taken)
        if len(set(taken)) < len(taken) or n_mass > equipment.scales:
            return False
        if equipment.calculators is not None and len(taken) - n_mass > equipment.calculators:
            return False
    return True


def value_of(history, learners, pairs) -> float:
    total = 0.0
    for row, learner in zip(history, learners, strict=True):
        needs = {(need.station, need.size): need for need in learner.needs}
        kinds = [(t.station, t.size) for t in row if t is not None]
        total += sum(
            points_of(needs[kind], m)
            for kind in set(kinds)
            for m in range(1, kinds.count(kind) + 1)
        )
        total -= 100 * sum(range(1, row.count(None) + 1))
    for a, b in pairs:
        total += any(thing is not None and thing in history[b] for thing in history[a])
    return total


def histories(n_slots, things, learner):
    rows = itertools.product([None, *things], repeat=n_slots)
    return [row for row in rows if is_allowed([row], [learner], Equipment(9, 9))]


def best_of_all(learners, things, n_slots, equipment, pairs) -> float:
    rows = [histories(n_slots, things, learner) for learner in learners]
    return max(
        value_of(history, learners, pairs)
        for history in itertools.product(*rows)
        if is_allowed(history, learners, equipment)
    )


def drawn(rng):
    kinds = list(ITEMS)
    n_things = int(rng.integers(1, 5))
    things = [
        Thing(Station(station), size, f"thing {i}", 100.0 + i)
        for i, (station, size) in enumerate(kinds[k] for k in rng.integers(0, 4, n_things))
    ]
    learners = []
    for name in ("Ada", "Bo", "Cy")[: int(rng.integers(1, 4))]:
        needs = tuple(
            Need(
                Station(station),
                size,
                float(rng.normal(-0.1, 0.2)),
                float(rng.uniform(0.05, 0.4)),
                int(rng.integers(0, 6)),
                int(rng.integers(0, 20)),
                0,
            )
            for station, size in kinds
        )
        seen = {(t.name, t.true) for t in things if rng.random() < 0.3}
        station, size = kinds[int(rng.integers(4))]
        before = (Station(station), size) if rng.random() < 0.3 else None
        learners.append(Learner(name, needs, seen, before=before))
    calculators = None if rng.random() < 0.5 else int(rng.integers(0, 3))
    equipment = Equipment(int(rng.integers(0, 3)), calculators)
    names = [learner.name for learner in learners]
    pairs = [("Ada", "Bo")] if len(names) > 1 and rng.random() < 0.7 else []
    return learners, things, equipment, pairs


@pytest.mark.slow
def test_no_rota_of_all_is_worth_more():
    rng = np.random.default_rng(20270203)
    n_resting = 0
    for _ in range(60):
        learners, things, equipment, pairs = drawn(rng)
        n_slots = int(rng.integers(1, 4 if len(learners) < 3 else 3))
        found = rota(learners, things, n_slots, equipment=equipment, pairs=pairs)
        history = tuple(tuple(slot[each.name] for slot in found) for each in learners)
        by_number = [(0, 1)] if pairs else []

        assert is_allowed(history, learners, equipment)
        most = best_of_all(learners, things, n_slots, equipment, by_number)
        assert value_of(history, learners, by_number) == pytest.approx(most, abs=1e-6)
        n_resting += any(None in row for row in history)

    assert 10 < n_resting < 60  # rests are tried, and rotas without any
