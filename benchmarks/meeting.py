"""How long the plan of a meeting takes, and what planning slot by slot costs in a large club.

Run ``python benchmarks/meeting.py``.  Invented clubs of 6, 12 and 30 children with ten practices
each behind them; four slots.  Times are processor time and real time in ms, the middle of the
clubs drawn.  For 30 children the rota is also solved for all slots at once: the loss is what the
slot by slot rota has less, in points of the contest for each child.
"""

import argparse
import itertools
import math
import time
from collections.abc import Callable, Sequence
from datetime import date, timedelta
from statistics import median

import numpy as np

from nearmark.coaching import Attempt, Station, read_club, truths_seen
from nearmark.coaching.advice import station_advice
from nearmark.coaching.meeting_plan import plan_meeting
from nearmark.coaching.meeting_rota import Equipment, Learner, Slot, _best, values
from nearmark.coaching.practice_plan import needs
from nearmark.coaching.seen_truth import Thing

KINDS = (
    (Station.MASS, ""),
    (Station.COUNT, "small"),
    (Station.COUNT, "medium"),
    (Station.COUNT, "large"),
    (Station.VOLUME, ""),
)
SLOTS = 4


def club(n_pupils: int, n_things: int, rng: np.random.Generator) -> tuple[list[Attempt], list]:
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
    habits, seen = read_club(log), truths_seen(log)
    kinds = {(thing.station, thing.size) for thing in things}
    return [Learner(name, needs(own, kinds), seen.get(name, ())) for name, own in habits.items()]


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


def timed(act: Callable[[], object]) -> tuple[float, float, object]:
    """Processor and real time of an act in ms, and what it returns."""
    cpu, real = time.process_time(), time.perf_counter()
    found = act()
    return 1e3 * (time.process_time() - cpu), 1e3 * (time.perf_counter() - real), found


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--clubs", type=int, default=7)
    parser.add_argument("--seed", type=int, default=20_270_203)
    options = parser.parse_args()
    print(f"{options.clubs} clubs each, seed {options.seed}; ms of processor (real)")
    for n_pupils, n_things in ((6, 10), (12, 20), (30, 20), (30, 40)):
        plan_ms, advice_ms, losses, rests = [], [], [], []
        for i in range(options.clubs):
            log, things = club(n_pupils, n_things, np.random.default_rng((options.seed, i)))
            learners = learners_of(log, things)
            at_hand = Equipment(scales=max(1, n_pupils // 8))
            cpu, real, plan = timed(
                lambda who=learners, what=things, at_hand=at_hand: plan_meeting(
                    who, what, equipment=at_hand
                )
            )
            plan_ms.append((cpu, real))
            own: dict[tuple[str, Station], list[Attempt]] = {}
            for each in log:
                own.setdefault((each.pupil, each.station), []).append(each)
            advice_ms.append(timed(lambda own=own: [station_advice(a) for a in own.values()])[:2])
            if n_pupils == 30 and n_things == 20:
                whole = _best(learners, things, SLOTS, at_hand, ())
                best, found = worth(learners, whole), worth(learners, plan.slots)
                losses.append((best[0] - found[0]) / n_pupils)
                rests.append((best[1], found[1]))
        middle = [
            f"{median(t[0] for t in ms):.0f} ({median(t[1] for t in ms):.0f})"
            for ms in (plan_ms, advice_ms)
        ]
        print(f"{n_pupils} pupils, {n_things} things: plan {middle[0]}, all advice {middle[1]}")
        if losses:
            print(f"  slot by slot loses {np.mean(losses):.2f} points a child of", end=" ")
            print(f"{best[0] / n_pupils:.1f}; rests at once, slot by slot: {rests}")


if __name__ == "__main__":
    main()
