"""How good the plan of 200 pairs in two rooms is, and how soon.

Run ``python benchmarks/heats.py`` (about two minutes; ``--days 2`` for fewer days).  Each day is
drawn from its seed: 200 pairs of schools of 2 to 12 pairs, two rooms of 12 places (of the second
one two accessible), three schools with times, two coaches with two schools each, siblings that go
together, others that go apart, two pairs that need an accessible place, and one put by hand.  For
each day: the plan made at once and the planned one, with the seconds, what each aim reached and
what no plan is below.
"""

import argparse
import datetime as dt
import time
from collections.abc import Sequence

import numpy as np

from nearmark.contest.event import Pair, Room
from nearmark.contest.heat_program import (
    TIME_LIMIT_S,
    HeatFrame,
    HeatPlan,
    make_field,
    not_kept,
    plan_heats,
    preview_heats,
)
from nearmark.contest.heat_wish import HeatWish

N_PAIRS = 200
ROOMS = (Room("Gym", 12), Room("Library", 12, 2))


def drawn_day(seed: int) -> tuple[list[Pair], list[HeatWish]]:
    """Pairs and wishes of an invented day."""
    rng = np.random.default_rng(seed)
    sizes: list[int] = []
    while sum(sizes) < N_PAIRS:
        sizes.append(min(int(rng.integers(2, 13)), N_PAIRS - sum(sizes)))
    schools = [f"School {n:02}" for n in range(len(sizes))]
    pairs = [
        Pair(f"P{school[-2:]}{n:02}", school, ("A", "B"))
        for school, size in zip(schools, sizes, strict=True)
        for n in range(size)
    ]
    wishes = [
        HeatWish(schools[0], earliest=clock("10:00")),
        HeatWish(schools[1], latest=clock("10:30")),
        HeatWish(schools[2], earliest=clock("10:00"), latest=clock("12:00")),
        *(HeatWish(school, coach="Ivy") for school in schools[3:5]),
        *(HeatWish(school, coach="Wren") for school in schools[5:7]),
        *(HeatWish(code, together="siblings") for code in ("P0700", "P0800")),
        *(HeatWish(code, apart="twins") for code in ("P0900", "P1000")),
        *(HeatWish(code, needs_accessible=True) for code in ("P1100", "P1200")),
        HeatWish("P1300", heat=4),
    ]
    return pairs, wishes


def clock(text: str) -> dt.time:
    """A time of the day."""
    return dt.time.fromisoformat(text)


def measured(seed: int, limit_s: float) -> None:
    """Plan one day both ways, and print what came of it."""
    pairs, wishes = drawn_day(seed)
    frame = HeatFrame(ROOMS, first_start=clock("09:00"))
    field = make_field(pairs, wishes, kept={}, before={})
    began = time.perf_counter()
    quick = preview_heats(pairs, frame)
    at_once_s = time.perf_counter() - began
    began = time.perf_counter()
    plan = plan_heats(pairs, frame, wishes=wishes, time_limit_s=limit_s, now=time.monotonic)
    planned_s = time.perf_counter() - began
    n_schools = len({pair.school for pair in pairs})
    print(f"day {seed}: {len(pairs)} pairs of {n_schools} schools")
    broken = len(not_kept(quick, field, frame))
    print(f"  at once {at_once_s:6.3f} s  {len(quick)} heats, {broken} wishes not kept")
    if not isinstance(plan, HeatPlan):
        print(f"  planned {planned_s:6.1f} s  no plan keeps every wish: {plan}")
        return
    broken = len(not_kept(plan.heats, field, frame))
    print(f"  planned {planned_s:6.1f} s  {len(plan.heats)} heats, {broken} wishes not kept")
    for level in plan.levels:
        print(f"    {level.aim:8} {level.value:6.1f}  no plan below {level.bound:6.1f}")


def main(words: Sequence[str] | None = None) -> None:
    """Plan some days."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=5)
    parser.add_argument("--time-limit", type=float, default=TIME_LIMIT_S)
    given = parser.parse_args(words)
    for seed in range(1, given.days + 1):
        measured(seed, given.time_limit)


if __name__ == "__main__":
    main()
