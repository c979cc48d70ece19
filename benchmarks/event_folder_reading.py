"""Time to read an event folder against its size; the growth exponent tells whether it is linear.

The peer is the csv module alone reading the same files into lists: what cannot be avoided.
Run: ./dev sh python benchmarks/event_folder_reading.py
"""

import csv
import gc
import math
import tempfile
import time
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from functools import partial
from pathlib import Path

from nearmark.contest.event import AnswerReading, AnswerStatus, Cup, Event, Item, Pair
from nearmark.event_folder import read_event, write_event
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station

SIZES = (500, 1_000, 2_000, 4_000)
REPEATS = 3
STATIONS = (Station.MASS, *[Station.COUNT] * 4, *[Station.VOLUME] * 2)


def large_event(n_pairs: int) -> Event:
    items = tuple(Item(f"I{n}", station, f"item {n}") for n, station in enumerate(STATIONS))
    pairs = tuple(Pair(f"P{n:04}", f"School {n % 40}", ("Ada", "Bo")) for n in range(n_pairs))
    answers = tuple(
        AnswerReading(
            pair.code,
            item.code,
            reading,
            f"clerk {reading}",
            AnswerStatus.ANSWERED,
            Decimal(1000 + n) / 10,
            str(n) if item.station is Station.MASS else "",
        )
        for n, pair in enumerate(pairs)
        for item in items
        for reading in (1, 2)
    )
    return Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        instruments=(Instrument("bench scale", "g", 0.1),),
        items=items,
        pairs=pairs,
        cups=tuple(Cup(str(n), Decimal("8.6"), "bench scale") for n in range(n_pairs)),
        answers=answers,
    )


def shortest(run: Callable[[], object]) -> float:
    """Processor seconds of the quickest of a few runs: the one least disturbed."""
    times = []
    for _ in range(REPEATS):
        gc.collect()  # so that no run pays for what another one left behind
        start = time.process_time()
        run()
        times.append(time.process_time() - start)
    return min(times)


def csv_alone(folder: Path) -> int:
    n = 0
    for path in folder.glob("*.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            n += len(list(csv.reader(file)))
    return n


def main() -> None:
    seconds = []
    for n_pairs in SIZES:
        event = large_event(n_pairs)
        with tempfile.TemporaryDirectory() as folder:
            write = shortest(partial(write_event, event, folder))
            read = shortest(partial(read_event, folder))
            peer = shortest(partial(csv_alone, Path(folder)))
        seconds.append(read)
        print(
            f"{n_pairs:5} pairs, {len(event.answers):6} answers: read {read:.3f} s "
            f"({read / peer:.0f} x the csv module alone), write and verify {write:.3f} s"
        )
    growth = math.log(seconds[-1] / seconds[0]) / math.log(SIZES[-1] / SIZES[0])
    print(f"growth exponent {growth:.2f} (1 is linear)")


if __name__ == "__main__":
    main()
