"""How long the plan of a meeting takes, and what planning slot by slot costs in a large club.

Run ``python benchmarks/meeting.py``.  Invented clubs of 6, 12 and 30 children with ten practices
each behind them; four slots.  Times are processor time and real time in ms, the middle of the
clubs drawn.  For 30 children the rota is also solved for all slots at once, to see what slot by
slot loses.
"""

import argparse
import itertools
import math
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta
from functools import partial
from statistics import median
from typing import TypeVar

import numpy as np

from nearmark.coaching import Attempt, read_club, truths_seen
from nearmark.coaching.advice import station_advice
from nearmark.coaching.meeting_plan import learners_here, plan_meeting
from nearmark.coaching.meeting_rota import Equipment, Learner, Slot, _best, rota, values
from nearmark.coaching.seen_truth import Thing
from nearmark.station import Station

KINDS = (
    (Station.MASS, ""),
    (Station.COUNT, "small"),
    (Station.COUNT, "medium"),
    (Station.COUNT, "large"),
    (Station.VOLUME, ""),
)
SLOTS = 4


def club(
    n_pupils: int, n_things: int, rng: np.random.Generator
) -> tuple[list[Attempt], list[Thing]]:
    """A log of ten practices, and things of which each pupil has seen some."""
    things = [
        Thing(*KINDS[i % len(KINDS)], f"thing {i}", 100.0 if i % len(KINDS) == 0 else 300.0 + i)
        for i in range(n_things)
    ]
    log = []
    for p, week in itertools.product(range(n_pupils), range(10)):
        day = date(2027, 2, 3) + timedelta(weeks=week)
        for station, size in (KINDS[0], KINDS[1 + week % 3], KINDS[4]):
            of_kind = [t for t in things if (t.station, t.size) == (station, size)]
            old = of_kind and rng.random() < 0.1
            name, true = (of_kind[0].name, of_kind[0].true) if old else (f"old {week}", 250.0)
            estimate = true * math.exp(rng.normal(-0.1, 0.2))
            log.append(Attempt(day, f"P{p}", station, name, estimate, true, size))
    return log, things


def learners_of(log: Sequence[Attempt], things: Sequence[Thing]) -> list[Learner]:
    """What is known of each pupil."""
    habits = read_club(log)
    return learners_here(habits, habits, things, truths_seen(log))


def worth(learners: Sequence[Learner], slots: Sequence[Slot]) -> tuple[float, int]:
    """Points of the visits, and rests."""
    total, rests = 0.0, 0
    for learner in learners:
        own = [slot[learner.name] for slot in slots]
        rests += own.count(None)
        for need in learner.needs:
            n = sum(t is not None and (t.station, t.size) == (need.station, need.size) for t in own)
            total += sum(values(need, n))
    return total, rests


T = TypeVar("T")


def timed(act: Callable[[], T]) -> tuple[tuple[float, float], T]:
    """Processor and real time of an act in ms, and what it returns."""
    cpu, real = time.process_time(), time.perf_counter()
    found = act()
    return (1e3 * (time.process_time() - cpu), 1e3 * (time.perf_counter() - real)), found


def all_advice(log: Iterable[Attempt]) -> int:
    """Advice of every pupil at every station."""
    own: dict[tuple[str, Station], list[Attempt]] = defaultdict(list)
    for each in log:
        own[each.pupil, each.station].append(each)
    return sum(station_advice(attempts) is not None for attempts in own.values())


def middle(times: Sequence[tuple[float, float]]) -> str:
    """Processor time, and real time."""
    return f"{median(t[0] for t in times):.0f} ({median(t[1] for t in times):.0f})"


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--clubs", type=int, default=7)
    parser.add_argument("--seed", type=int, default=20_270_203)
    options = parser.parse_args()
    print(f"{options.clubs} clubs each, seed {options.seed}; ms of processor (real)")
    for n_pupils, n_things in ((6, 10), (12, 20), (30, 20), (30, 40)):
        plans, advice = [], []
        for i in range(options.clubs):
            log, things = club(n_pupils, n_things, np.random.default_rng((options.seed, i)))
            act = partial(
                plan_meeting, learners_of(log, things), things, equipment=at_hand(n_pupils)
            )
            plans.append(timed(act)[0])
            advice.append(timed(partial(all_advice, log))[0])
        print(
            f"{n_pupils} pupils, {n_things} things: plan {middle(plans)}, advice {middle(advice)}"
        )
    for i in range(options.clubs):
        compare(*club(30, 20, np.random.default_rng((options.seed, i))))


def at_hand(n_pupils: int) -> Equipment:
    """A scale for eight."""
    return Equipment(scales=max(1, n_pupils // 8))


def compare(log: Sequence[Attempt], things: Sequence[Thing]) -> None:
    """Slot by slot against all slots at once, in one large club."""
    learners = learners_of(log, things)
    by_slot = worth(learners, rota(learners, things, SLOTS, equipment=at_hand(30)))
    at_once = worth(learners, _best(learners, things, SLOTS, at_hand(30), ()))
    print(
        f"30 pupils, 20 things, slot by slot: {by_slot[0] / 30:.2f} points a child, "
        f"{by_slot[1]} rests; all slots at once: {at_once[0] / 30:.2f}, {at_once[1]}"
    )


if __name__ == "__main__":
    main()
