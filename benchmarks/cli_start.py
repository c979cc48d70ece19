"""How long ``nearmark --help`` takes, against bare Python plus the import of the CLI library.

Both are whole processes, run in turn; the goal is a ratio of at most 2.5.
"""

import statistics
import subprocess
import sys
import time

RUNS = 25
GOAL = 2.5
BARE = [sys.executable, "-c", "import click"]
OURS = [sys.executable, "-m", "nearmark.cli", "--help"]


def seconds(words: list[str]) -> float:
    start = time.perf_counter()
    subprocess.run(words, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def main() -> None:
    for words in (BARE, OURS):
        seconds(words)
    bare, ours = zip(*((seconds(BARE), seconds(OURS)) for _ in range(RUNS)), strict=True)
    ratio = statistics.median(b / a for a, b in zip(bare, ours, strict=True))
    print(f"python -c 'import click': {1000 * statistics.median(bare):.0f} ms (median of {RUNS})")
    print(f"nearmark --help:          {1000 * statistics.median(ours):.0f} ms")
    print(f"ratio, median of pairs:   {ratio:.2f} (goal: at most {GOAL})")


if __name__ == "__main__":
    main()
