"""Whether the pupil model beats simple means, whether its bands are honest, how fast it is.

Run ``python benchmarks/coaching.py``; it takes some minutes.  Pupils are invented: clubs of twelve
whose usual bias and scatter differ from club to club, one attempt in ten a blunder of a factor two
or not.  Every figure is printed with its seed.
"""

import argparse
import time
from collections.abc import Callable
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from nearmark.coaching.attempt import Attempt
from nearmark.coaching.belief import SEASON_START, Belief
from nearmark.coaching.deciders import Mode, Pupils, pair_answer
from nearmark.coaching.expected_score import mean_score
from nearmark.coaching.pair_advice import NEAR, Question, advise
from nearmark.coaching.posterior import posterior
from nearmark.coaching.practice_plan import Need, plan_session
from nearmark.coaching.pupil_habit import read_club
from nearmark.measurement.robust import robust_mean
from nearmark.station import Station

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
        # Three pupils at a time are too few to learn a club from: the season's start is used.
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


def advice_table(pairs: int, seed: int) -> None:
    """Of advice given with a probability, how much is right; drawn pairs with known truth."""
    print(f"\nAdvice: stated probability against share right; {pairs} pairs a line, seed {seed}")
    prior = SEASON_START[Station.COUNT]
    for modes in (tuple(Mode), (Mode.FIRST, Mode.SECOND)):
        for n in (3, 5, 8):
            rng = np.random.default_rng((seed, n, len(modes)))
            stated, right = advised(prior, modes, n, pairs=pairs, rng=rng)
            parts = []
            for low, high in pairwise((0.0, 0.5, 0.6, 0.7, 0.8, 0.9, 1.001)):
                inside = (stated >= low) & (stated < high)
                share = f"{right[inside].mean():.2f}" if inside.any() else "-"
                parts.append(f"{low:.1f}+: {share} of {inside.sum()}")
            print(f"{len(modes)} modes, {n} attempts each   {'   '.join(parts)}")


def advised(
    prior: Belief, modes: tuple[Mode, ...], n: int, *, pairs: int, rng: np.random.Generator
) -> tuple[Floats, NDArray[np.bool_]]:
    """Probability stated by each advice, and whether it was right."""
    question = Question(modes=modes, n_draws=1000)
    stated, right = [], []
    for _ in range(pairs):
        variance = prior.b / rng.gamma(prior.a, size=2)
        scatter = np.sqrt(variance)
        bias = prior.mean + rng.standard_normal(2) * scatter / np.sqrt(prior.k)
        x = bias[:, None] + scatter[:, None] * rng.standard_normal((2, n))
        first, second = (posterior([row.tolist()], prior) for row in x)
        advice = advise(first, second, rng, question=question)
        truth = Pupils((bias[0], bias[1]), (scatter[0], scatter[1]))
        scores = {mode: float(mean_score(*pair_answer(mode, truth, 0.3))) for mode in modes}
        stated.append(advice.p_right)
        right.append(scores[advice.mode] >= max(scores.values()) - NEAR)
    return np.array(stated), np.array(right)


STRATA = tuple((station, size) for station in Station for size in ("small", "large"))
WEIGHTS = {Station.MASS: 1.0, Station.COUNT: 3.0, Station.VOLUME: 2.0}
SESSION = 36


def practice_table(pupils: int, seed: int) -> None:
    """Points won back by 36 items in different orders, under an invented law of learning.

    Practice takes 18 % of the bias and 7 % of the scatter's excess over a floor; the same stratum
    twice running works half as well; the other size learns a quarter as much.
    """
    print(f"\nPractice: weighted points won back by {SESSION} items; {pupils} pupils, seed {seed}")
    rng = np.random.default_rng(seed)
    bias = rng.normal(0, 0.3, (pupils, len(STRATA)))
    scatter = 0.08 + np.abs(rng.normal(0.15, 0.08, (pupils, len(STRATA))))
    weight = np.array([WEIGHTS[station] for station, _ in STRATA])
    blocked = [i // (SESSION // len(STRATA)) for i in range(SESSION)]
    robin = [i % len(STRATA) for i in range(SESSION)]
    won: dict[str, list[float]] = {"blocked": [], "round robin": [], "the plan": []}
    for m, s in zip(bias, scatter, strict=True):
        known = [Need(*stratum, m[i], s[i], 2, i, i // 2) for i, stratum in enumerate(STRATA)]
        planned = [STRATA.index((p.station, p.size)) for p in plan_session(known, SESSION)]
        for name, order in (("blocked", blocked), ("round robin", robin), ("the plan", planned)):
            before, after = (
                float(weight @ mean_score(*law)) for law in ((m, s), learnt(m, s, order))
            )
            won[name].append(after - before)
    for name, values in won.items():
        error = np.std(values) / np.sqrt(len(values))
        print(f"{name:12s} {np.mean(values):6.1f} +- {error:.1f}")


def learnt(bias: Floats, scatter: Floats, order: list[int]) -> tuple[Floats, Floats]:
    """Biases and scatters after practising in an order."""
    m, excess = bias.copy(), scatter - 0.08
    last = -1
    for i in order:
        force = 0.5 if i == last else 1.0
        for j, share in ((i, force), (i ^ 1, 0.25 * force)):  # i ^ 1: the other size
            m[j] *= 1 - 0.18 * share
            excess[j] *= 1 - 0.07 * share
        last = i
    return m, 0.08 + excess


PARTS: dict[str, Callable[[argparse.Namespace], None]] = {
    "bias": lambda options: bias_table(options.clubs, options.seed),
    "advice": lambda options: advice_table(options.pairs, options.seed),
    "practice": lambda options: practice_table(options.clubs, options.seed),
    "speed": lambda options: speed(200, 100, options.seed),
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--clubs", type=int, default=100)
    parser.add_argument("--pairs", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=20_270_203)
    parser.add_argument("--only", choices=PARTS, help="one part alone")
    options = parser.parse_args()
    print(f"Season's start of the counts: {SEASON_START[Station.COUNT]}")
    for name, part in PARTS.items():
        if options.only in (None, name):
            part(options)


if __name__ == "__main__":
    main()
