"""Whether the advice names the true fault of simulated pupils, and what following it brings.

Run ``python benchmarks/advice.py``.  Five hundred pupils of thirteen kinds, each with one planted
fault or none, practise twelve weeks: one scoop, one jar and one box a week, never the same thing
twice.  After each week from the fourth on the advice is asked for.  It speaks when something is
sure; then the first advice names the fault, is vague (answer higher or lower, without the cause),
or is wrong.  In the end all sure advice is followed on new attempts, against an oracle that takes
the fault away.
"""

import argparse
import math
from collections import Counter, defaultdict
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from nearmark.coaching.acts import Act, all_done, points
from nearmark.coaching.advice import Certainty, Trial, pupil_advice
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.kinds import items_of_station
from nearmark.coaching.slips import rounded
from nearmark.station import Station

WEEKS = 12
FIRST_WEEK = 4
FIRST_DAY = date(2027, 2, 3)
CUPS_G = (8.6, 8.7, 9.0, 54.0, 120.0, 182.0)
VAGUE = (Act.SHIFT, Act.LEAN)


@dataclass(frozen=True)
class Nature:
    """How a simulated pupil errs; logs for parts, g for the scoop."""

    layer: float = 0.0
    layers: float = 0.0
    hand: float = 0.0
    height: float = 0.0
    level_g: float = 0.0
    cup_share: float = 0.0
    kept: float = 1.0
    lean: float = 1.0
    slip: float = 0.0
    copies: float = 0.0
    noted: float = 0.85
    figures: int = 3
    left: float = 1.0
    sets_in: int = 0


@dataclass(frozen=True)
class Kind:
    """A planted fault: how it is drawn, what takes it away, and which act names it."""

    name: str
    draw: Callable[[np.random.Generator], dict[str, float]]
    cure: tuple[str, ...]
    act: Act | None


def _between(
    name: str, low: float, high: float
) -> Callable[[np.random.Generator], dict[str, float]]:
    return lambda rng: {name: float(rng.uniform(low, high))}


KINDS = (
    Kind("sound", lambda _: {}, (), None),
    Kind("cup-blind", _between("cup_share", 0.25, 0.5), ("cup_share",), Act.HOLD_CUP),
    Kind("layer counter high", _between("layer", 0.2, 0.4), ("layer",), Act.LAYER),
    Kind("layer counter low", _between("layer", -0.45, -0.2), ("layer",), Act.LAYER),
    Kind("short hand", _between("hand", 0.06, 0.12), ("hand",), Act.HAND),
    Kind("flat height", _between("height", -0.4, -0.2), ("height",), Act.HEIGHT),
    Kind("copier", _between("copies", 0.5, 0.8), ("copies",), Act.OWN_ANSWER),
    Kind("leaner", _between("lean", 0.7, 0.85), ("lean",), Act.OWN_PRODUCT),
    Kind("sloppy sums", _between("slip", 0.25, 0.5), ("slip",), Act.MULTIPLY),
    Kind("rounder", lambda _: {"figures": 1}, ("figures",), Act.FIGURES),
    Kind("trims nothing", _between("kept", 0.7, 0.82), ("kept",), Act.TRIM),
    Kind(
        "learner",
        lambda rng: {"layer": float(rng.uniform(-0.45, -0.3)), "left": 0.75},
        ("layer",),
        Act.LAYER,
    ),
    Kind(
        "forgetter",
        lambda rng: {"layer": float(rng.uniform(-0.45, -0.3)), "sets_in": 5},
        ("layer",),
        Act.LAYER,
    ),
)


def nature_of(kind: Kind, rng: np.random.Generator) -> Nature:
    """A pupil of a kind: small habits of everybody, and the fault."""
    small = {
        "layer": float(rng.normal(0, 0.03)),
        "layers": float(rng.normal(0, 0.03)),
        "hand": float(rng.normal(0, 0.01)),
        "level_g": float(rng.normal(0, 2)),
        "cup_share": float(rng.uniform(0, 0.04)),
    }
    return Nature(**(small | kind.draw(rng)))  # type: ignore[arg-type]


def cured(kind: Kind, nature: Nature) -> Nature:
    """The same pupil without the fault."""
    return replace(nature, **{name: getattr(Nature, name) for name in kind.cure})


def week_of(nature: Nature, week: int, rng: np.random.Generator) -> list[Attempt]:
    """One scoop, one jar, one box; the same draws whatever the nature."""
    fade = nature.left**week if week >= nature.sets_in else 0.0
    day = FIRST_DAY + timedelta(weeks=week)
    return [
        _scoop(nature, day, week, np.random.default_rng(rng.integers(2**63))),
        _jar(nature, fade, day, week, np.random.default_rng(rng.integers(2**63))),
        _box(nature, day, week, np.random.default_rng(rng.integers(2**63))),
    ]


def _scoop(nature: Nature, day: date, week: int, rng: np.random.Generator) -> Attempt:
    cup, density = float(rng.choice(CUPS_G)), float(rng.choice([0.4, 0.6, 0.8, 1.0]))
    net = 100 + nature.level_g - nature.cup_share * (cup - 30) + 7 * rng.standard_normal()
    parts = Scoop(cup, density) if rng.random() < nature.noted else None
    return Attempt(
        day, "Ada", Station.MASS, f"scoop {week}", round(max(net, 5.0), 1), 100.0, parts=parts
    )


def _jar(nature: Nature, fade: float, day: date, week: int, rng: np.random.Generator) -> Attempt:
    size = int(rng.integers(3))
    layer_true, layers_true = (
        int(rng.integers(*((25, 60), (90, 200), (280, 600))[size])),
        int(rng.integers(*((6, 12), (11, 22), (24, 34))[size])),
    )
    kept = nature.kept * math.exp(0.05 * rng.standard_normal())
    true = round(layer_true * layers_true * kept)
    layer = max(2, round(layer_true * math.exp(fade * nature.layer + 0.08 * rng.standard_normal())))
    layers = max(2, round(layers_true * math.exp(nature.layers + 0.06 * rng.standard_normal())))
    size_class = ("small", "medium", "large")[size]
    exact = Attempt(day, "Ada", Station.COUNT, f"jar {week}", layer * layers, true, size_class)
    return _written(nature, exact, Layers(layer, layers, layer_true, layers_true), rng)


def _box(nature: Nature, day: date, week: int, rng: np.random.Generator) -> Attempt:
    cm = tuple(round(float(rng.uniform(*ends)), 1) for ends in ((10, 28), (7, 18), (4, 12)))
    habits = (nature.hand, nature.hand, nature.hand + nature.height)
    own = [
        max(0.5, round(side * math.exp(habit + 0.04 * rng.standard_normal()), 1))
        for side, habit in zip(cm, habits, strict=True)
    ]
    parts = Sides(own[0], own[1], own[2], (cm[0], cm[1], cm[2]))
    true = round(math.prod(cm), 1)
    exact = Attempt(day, "Ada", Station.VOLUME, f"box {week}", parts.product, true)
    return _written(nature, exact, parts, rng)


def _written(
    nature: Nature, exact: Attempt, parts: Layers | Sides, rng: np.random.Generator
) -> Attempt:
    """An attempt as the pupil writes it down, beside a partner who reads a quarter off."""
    slips, copies, notes = rng.random(3)
    off = 0.12 * rng.standard_normal() + 0.25 * rng.choice((-1, 1))
    partner = rounded(exact.true * math.exp(off), 2)
    wrong = _slip(parts, rng)
    answer = wrong if slips < nature.slip else nature.lean * parts.product
    answer = partner if copies < nature.copies else rounded(answer, nature.figures)
    written = parts if notes < nature.noted else None
    return replace(exact, estimate=answer, parts=written, partner=partner)


def _slip(parts: Layers | Sides, rng: np.random.Generator) -> float:
    """A slip of the sum, by lot."""
    product = parts.product
    wrong = [10 * product, product / 10, 2 * product, product / 2, sum(parts.factors)]
    if isinstance(parts, Sides):
        wrong += [parts.length * parts.width, parts.width * parts.height]
    return float(rng.choice(wrong))


@dataclass
class Tally:
    """What came of one kind."""

    n: int = 0
    silent: int = 0
    named: int = 0
    vague: int = 0
    wrong: int = 0
    stated: float = 0.0
    brought: float = 0.0
    oracle: float = 0.0


def verdict(kind: Kind, found: tuple[Trial, ...]) -> str:
    """What the first advice is worth, if it is sure."""
    sure = [each for each in found if each.sureness is Certainty.SURE]
    if not sure:
        return "silent"
    acts = sure[0].acts
    if kind.act in acts:
        return "named"
    if kind.act is not None and all(act in VAGUE for act in acts):
        return "vague"
    return "wrong"


def contest_points(attempts: list[Attempt]) -> float:
    """Mean points of an item, each station by its items."""
    by_station: dict[Station, list[float]] = defaultdict(list)
    for each in attempts:
        by_station[each.station].append(points(each))
    weight = {station: items_of_station(station) for station in by_station}
    return sum(w * float(np.mean(by_station[s])) for s, w in weight.items()) / sum(weight.values())


def followed(attempts: list[Attempt], found: tuple[Trial, ...]) -> list[Attempt]:
    """New attempts as all sure advice would have made them."""
    steps = {each.station: each.steps for each in found if each.sureness is Certainty.SURE}
    return [all_done(steps.get(each.station, ()), each) or each for each in attempts]


def simulate(n_pupils: int, seed: int) -> tuple[dict[str, Tally], Counter[tuple[str, str]]]:
    """Pupils of all kinds in turn."""
    tallies: dict[str, Tally] = defaultdict(Tally)
    said: Counter[tuple[str, str]] = Counter()
    for i in range(n_pupils):
        rng = np.random.default_rng((seed, i))
        kind = KINDS[i % len(KINDS)]
        nature = nature_of(kind, rng)
        log: list[Attempt] = []
        tally = tallies[kind.name]
        found: tuple[Trial, ...] = ()
        for week in range(WEEKS):
            log += week_of(nature, week, rng)
            if week + 1 < FIRST_WEEK:
                continue
            found = pupil_advice(log)
            told = verdict(kind, found)
            tally.n += 1
            setattr(tally, told, getattr(tally, told) + 1)
            if told in ("wrong", "vague"):
                said[kind.name, " + ".join(found[0].acts)] += 1
        compare(kind, nature, found, tally, (seed, i))
    return dict(tallies), said


def compare(
    kind: Kind, nature: Nature, found: tuple[Trial, ...], tally: Tally, seed: tuple[int, int]
) -> None:
    """Follow the advice after the last week, on forty new weeks."""
    new, best = (
        [a for k in range(40) for a in week_of(each, WEEKS, np.random.default_rng((*seed, 1, k)))]
        for each in (replace(nature, noted=1.0), cured(kind, replace(nature, noted=1.0)))
    )
    now = contest_points(new)
    tally.brought += contest_points(followed(new, found)) - now
    tally.oracle += contest_points(best) - now
    tally.stated += (
        sum(items_of_station(t.station) * t.gain for t in found if t.sureness is Certainty.SURE) / 6
    )


def row(name: str, tally: Tally) -> str:
    """One line of the table."""
    pupils = max(1.0, tally.n / (WEEKS - FIRST_WEEK + 1))
    counts = "".join(f"{n:7d}" for n in (tally.n, tally.silent, tally.named, tally.vague))
    gains = "".join(f"{g / pupils:9.1f}" for g in (tally.stated, tally.brought, tally.oracle))
    return f"{name:20s}{counts}{tally.wrong:7d}{gains}"


def total_of(tallies: dict[str, Tally]) -> Tally:
    """All kinds together."""
    total = Tally()
    for each in tallies.values():
        for name, value in vars(each).items():
            setattr(total, name, getattr(total, name) + value)
    return total


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--pupils", type=int, default=500)
    parser.add_argument("--seed", type=int, default=20_270_203)
    options = parser.parse_args()
    tallies, said = simulate(options.pupils, options.seed)
    print(f"{options.pupils} pupils, weeks {FIRST_WEEK} to {WEEKS}, seed {options.seed}")
    print("counts of advice asked for; then points an item, stated, brought, and the oracle's")
    print(f"{'kind':22s}asked silent  named  vague  wrong   stated  brought   oracle")
    for name, each in tallies.items():
        print(row(name, each))
    total = total_of(tallies)
    spoke = total.n - total.silent
    shares = (f"{w} {100 * getattr(total, w) / spoke:.1f} %" for w in ("named", "vague", "wrong"))
    print(f"spoke {spoke} times: {', '.join(shares)}")
    print(f"followed advice brings {100 * total.brought / total.oracle:.0f} % of the oracle's gain")
    for (name, acts), n in said.most_common(12):
        print(f"  not the cause: {name}: {acts}: {n}")


if __name__ == "__main__":
    main()
