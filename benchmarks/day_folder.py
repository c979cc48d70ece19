"""The day in a folder: seconds and memory of ``nearmark sheets`` for 80 and 200 pairs.

Each run is a process of its own, so that its highest memory is its own (``getrusage`` of the
child).  The peer is the run of 80 pairs: 200 pairs are 2.5 times as many, and should take no more
than that.  The limits: 80 pairs in 10 s and 500 MB.
Run: ./dev sh python benchmarks/day_folder.py
"""

import os
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from nearmark.demo import larkspur_valley
from nearmark.event_folder import write_event

PAIRS = (80, 200)
A_HEAT = 12
RUNS = 3


def crowd(n_pairs: int, folder: Path) -> None:
    """The invented event with as many pairs, in heats of twelve, before anybody answered."""
    event = larkspur_valley()
    pairs = tuple(
        replace(
            event.pairs[n % len(event.pairs)],
            code=f"P{n + 1:03}",
            heat=f"heat {n // A_HEAT + 1}",
        )
        for n in range(n_pairs)
    )
    bare = replace(
        event,
        pairs=pairs,
        answers=(),
        adjudications=(),
        audit_readings=(),
        closings=(),
    )
    write_event(bare, folder)


def measured(folder: Path, to: Path) -> tuple[float, float, float]:
    """Seconds by the clock and of processors, and the highest memory in MB, of one run."""
    words = [sys.executable, "-m", "nearmark.cli", "sheets", str(folder), "--start", "09:00"]
    words += ["--to", str(to), "--json"]
    start = time.perf_counter()
    child = os.posix_spawn(
        sys.executable,
        words,
        os.environ,
        file_actions=[(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)],
    )
    _, status, used = os.wait4(child, 0)
    if os.waitstatus_to_exitcode(status):
        raise SystemExit("nearmark sheets failed")
    return time.perf_counter() - start, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        best = {}
        for n in PAIRS:
            folder = Path(name) / str(n)
            crowd(n, folder)
            runs = [measured(folder, Path(name) / f"sheets-{n}") for _ in range(RUNS)]
            wall, busy, memory = zip(*runs, strict=True)
            best[n] = (min(wall), min(busy), max(memory))
            n_files = len(list((Path(name) / f"sheets-{n}").rglob("*.pdf")))
            print(
                f"{n:4} pairs: {min(wall):.1f} to {max(wall):.1f} s by the clock, "
                f"{min(busy):.1f} s of processors, {max(memory):.0f} MB, {n_files} files"
            )
        small, large = PAIRS
        wall, busy, memory = (best[large][k] / best[small][k] for k in range(3))
        print(
            f"{large / small:.2f} times the pairs: {wall:.2f} times by the clock, {busy:.2f} times "
            f"of processors, {memory:.2f} times the memory"
        )


if __name__ == "__main__":
    main()
