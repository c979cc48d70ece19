"""Whether the pupil model beats simple means, whether its bands are honest, how fast it is.

Run ``python benchmarks/coaching.py``; it takes some minutes.  Pupils are invented: clubs of twelve
whose usual bias and scatter differ from club to club, one attempt in ten a blunder of a factor two
or not.  Every figure is printed with its seed.
"""

import argparse
import time
from collections.abc import Callable
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from nearmark.coaching.attempt import Attempt, Station
from nearmark.coaching.belief import SEASON_START, Belief
from nearmark.coaching.pupil_habit import read_club
from nearmark.measurement.robust import robust_mean

Floats = NDArray[np.float64]

CLUB = 12
BLUNDER_SHARE = 0.10
LEARNT = "pupil model, club learnt"
START = "pupil model, season start"
FIRST_DAY = date(2027, 2, 3)


def pupils_of(club: Belief, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Biases and scatters of one club."""
    variance = club.b / rng.gamma(club.a, size=CLUB)
    return club.mean + rng.standard_normal(CLUB) * np.sqrt(variance / club.k), np.sqrt(variance)


def a_club(rng: np.random.Generator) -> Belief:
    """What is usual in one club: invented, around the season's start of the counts."""
    variance = 0.04 * np.exp(0.4 * rng.standard_normal())
    return Belief(float(rng.normal(-0.1, 0.1)), 1.0, 3.0, float(2 * variance))


def seen(
    bias: Floats, scatter: Floats, n: int, *, share: float, rng: np.random.Generator
) -> Floats:
    """Log ratios of every pupil, shape (CLUB, n)."""
    x = bias[:, None] + scatter[:, None] * rng.standard_normal((CLUB, n))
    blunders = rng.random((CLUB, n)) < share
    return x + blunders * rng.choice((-np.log(2), np.log(2)), (CLUB, n))


def as_attempts(x: Floats) -> list[Attempt]:
    """A log of one session."""
    return [
        Attempt(FIRST_DAY, f"pupil {i:02d}", Station.COUNT, f"jar {j}", float(np.exp(value)), 1.0)
        for i, row in enumerate(x)
        for j, value in enumerate(row)
    ]


def huber(x: Floats) -> float:
    """Robust mean; ISO 13528 algorithm A is Huber's proposal 2 with c = 1.5."""
    return robust_mean(x.tolist()).mean


def bias_table(clubs: int, seed: int) -> None:
    """Root mean square error of the bias, per number of attempts and share of blunders."""
    print(f"\nRMSE of the bias; {clubs} clubs of {CLUB} pupils a cell, seed {seed}")
    names = ("mean", "median", "Huber", START, LEARNT, "80 % band, clean next", "any next")
    print("n  blunders  " + "  ".join(f"{name:>10s}" for name in names))
    for n in (3, 5, 10):
        for share in (0.0, BLUNDER_SHARE):
            print(f"{n:2d} {100 * share:6.0f} %   {cell(clubs, n, share=share, seed=seed)}")


def cell(clubs: int, n: int, *, share: float, seed: int) -> str:
    """One row of the table."""
    rng = np.random.default_rng((seed, n, int(100 * share)))
    errors: dict[str, list[float]] = {}
    held_clean: list[bool] = []
    held_any: list[bool] = []
    for _ in range(clubs):
        bias, scatter = pupils_of(a_club(rng), rng)
        x = seen(bias, scatter, n, share=share, rng=rng)
        clean_next = seen(bias, scatter, 1, share=0, rng=rng)[:, 0]
        any_next = seen(bias, scatter, 1, share=share, rng=rng)[:, 0]
        learnt = [own[0] for own in read_club(as_attempts(x)).values()]
        # Three pupils at a time are too few to learn a club from: the season's start stands.
        start = [
            own[0].posterior.bias
            for first in range(0, CLUB, 3)
            for own in read_club(as_attempts(x[first : first + 3])).values()
        ]
        found: dict[str, Floats] = {
            "mean": x.mean(axis=1),
            "median": np.median(x, axis=1),
            "Huber": np.array([huber(row) for row in x]),
            START: np.array(start),
            LEARNT: np.array([habit.posterior.bias for habit in learnt]),
        }
        for name, values in found.items():
            errors.setdefault(name, []).extend(((values - bias) ** 2).tolist())
        bands = np.array([habit.band for habit in learnt])
        held_clean += ((bands[:, 0] <= clean_next) & (clean_next <= bands[:, 1])).tolist()
        held_any += ((bands[:, 0] <= any_next) & (any_next <= bands[:, 1])).tolist()
    rmse = [f"{np.sqrt(np.mean(values)):10.4f}" for values in errors.values()]
    return "  ".join([*rmse, f"{np.mean(held_clean):10.3f}", f"{np.mean(held_any):10.3f}"])


def speed(pupils: int, attempts: int, seed: int) -> None:
    """Time a pupil, in a club of two sizes: linear or not."""
    rng = np.random.default_rng(seed)
    print(f"\nTime; {attempts} attempts a pupil in 20 sessions over three stations, seed {seed}")
    stations = tuple(Station)
    for n in (pupils // 4, pupils):
        log = [
            Attempt(
                FIRST_DAY + timedelta(days=7 * (j * 20 // attempts)),
                f"pupil {i:03d}",
                stations[j % 3],
                "thing",
                float(np.exp(rng.normal(-0.1, 0.2))),
                1.0,
            )
            for i in range(n)
            for j in range(attempts)
        ]
        start = time.process_time()
        read_club(log)
        seconds = time.process_time() - start
        print(f"{n:4d} pupils: {seconds:6.2f} s of processor, {1000 * seconds / n:5.1f} ms a pupil")


PARTS: dict[str, Callable[[argparse.Namespace], None]] = {
    "bias": lambda options: bias_table(options.clubs, options.seed),
    "speed": lambda options: speed(200, 100, options.seed),
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--clubs", type=int, default=100)
    parser.add_argument("--seed", type=int, default=20_270_203)
    parser.add_argument("--only", choices=PARTS, help="one part alone")
    options = parser.parse_args()
    print(f"Season's start of the counts: {SEASON_START[Station.COUNT]}")
    for name, part in PARTS.items():
        if options.only in (None, name):
            part(options)


if __name__ == "__main__":
    main()
