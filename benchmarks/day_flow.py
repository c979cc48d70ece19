"""How long a day of 80 pairs takes to simulate, and how much memory.

Run ``python benchmarks/day_flow.py``.  Goal: 400 days in under 5 s, on a
machine that does nothing else (else look at the processor time).  The peer is the same number of
turns in a bare SimPy queue, in the same run: what the discrete events alone cost.
"""

import argparse
import resource
import time
from collections.abc import Generator, Iterator
from contextlib import contextmanager

import simpy

from nearmark.contest.day_flow.changes import worth_of_changes
from nearmark.contest.day_flow.options import DayOptions
from nearmark.contest.day_flow.room import Overrun
from nearmark.contest.day_flow.summary import day_bands

KB = 1024


def peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KB


@contextmanager
def timed(what: str) -> Iterator[None]:
    start, worked = time.perf_counter(), time.process_time()
    yield
    taken, worked = time.perf_counter() - start, time.process_time() - worked
    print(f"{what}: {taken:.2f} s, of which {worked:.2f} s processor time")


def bare_queue(turns: int) -> None:
    env = simpy.Environment()
    server = simpy.Resource(env, 2)

    def come(n: int) -> Generator[simpy.Event, None, None]:
        yield env.timeout(n)
        with server.request() as turn:
            yield turn
            yield env.timeout(1.5)

    for n in range(turns):
        env.process(come(n))
    env.run()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--days", type=int, default=400)
    parser.add_argument("--pairs", type=int, default=80)
    options = parser.parse_args()
    before = peak_mb()
    for overrun in Overrun:
        for rooms in (1, 2):
            plan = DayOptions(pairs=options.pairs, rooms=rooms, overrun=overrun).planned()
            with timed(
                f"{options.days} days of {options.pairs} pairs, rooms: {rooms}, {overrun.value}"
            ):
                day_bands(plan, n_days=options.days)
            print(f"  peak {peak_mb():.0f} MB (before the first one {before:.0f} MB)")
    with timed("the peer, a bare queue with as many turns"):
        for _ in range(options.days):
            bare_queue(options.pairs * 7)
    with timed("40 days, the first answer of the page"):
        day_bands(DayOptions(pairs=options.pairs).planned(), n_days=40)
    with timed("the search over cheap changes"):
        worth_of_changes(DayOptions(pairs=options.pairs).planned())


if __name__ == "__main__":
    main()
