"""How often the interval holds when one weighs until the key is fit.

Run ``python benchmarks/stopping.py`` (about five minutes).  Each simulated lead counts and weighs
samples one by one, looks after each from the second or third on, and stops at the first that is
fit.  Of the keys called fit: how many intervals hold the true count, how many keys are wrong by
more than 1 %, and how many samples it took.  Three rules: plain Student t (up to version 0.1), the
scatter bounded (0.2), and the rule of now.  Two leads: one weighs on until it is fit, one gives up
after 30 samples.  Who gives up keeps the lucky keys: where few come to fit within 30, no rule that
looks at the scatter makes those few as sure as the others.  So nothing in Nearmark proposes to give
up: it proposes larger samples.  ``--advised`` simulates leads who do what it proposes, through the
public functions; ``--public`` repeats some cells through them.

All looks of all leads are computed at once in NumPy: the formulas are written out again here, and
``tests/property/test_kit_stopping.py`` checks them against the public function.  The pieces are
gamma or lognormal (the latter by a shifted gamma of the same first three moments); one sample in
twenty is miscounted by one piece; masses are shown by the scale's step, and so are gross and tare.
"""

import argparse
import itertools
from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from nearmark.errors import ReadingsDisagree
from nearmark.kit import CountOptions, Sample, count_by_weighing
from nearmark.kit.count_checks import checked_container
from nearmark.kit.next_sample import predict_next
from nearmark.kit.unit_mass import unit_mass
from nearmark.kit.ways_on import ways_on
from nearmark.measurement.instruments import Instrument, Reading

MAX_SAMPLES = 30
"""After which a lead gives up."""

PATIENT = 150
"""Samples of a lead who does not give up."""

LIMIT = 0.01
MISCOUNT = 0.05
Z = float(stats.norm.ppf(0.975))
Floats = NDArray[np.float64]


class Cell(NamedTuple):
    """One kind of weigh-in."""

    pieces: int = 100
    cv: float = 0.1
    sample_g: float = 60.0
    step_g: float = 0.1
    law: str = "gamma"
    container: int = 16_000
    first_look: int = 3
    dish: str = "tared"


class WeighIns(NamedTuple):
    """Readings of many leads: net masses of their samples, and the net mass of the container."""

    cell: Cell
    samples_g: Floats
    net_g: Floats


class Looks(NamedTuple):
    """The value, its relative U and its interval after 2, 3, ... samples of each lead."""

    value: Floats
    relative_u: Floats
    low: Floats
    high: Floats


class Found(NamedTuple):
    """What became of the keys called fit, in shares, and the samples it took."""

    holds: float
    wrong: float
    fit: float
    median: float
    least: int


def shown(mass_g: Floats, step_g: float) -> Floats:
    """What a display shows."""
    return np.round(mass_g / step_g) * step_g


def sums_g(rng: np.random.Generator, n: Floats, cell: Cell) -> Floats:
    """Mass of n pieces of the lot."""
    mean = cell.sample_g / cell.pieces
    if cell.law == "gamma":
        return rng.gamma(n / cell.cv**2, mean * cell.cv**2)
    shape = 4 * n / (cell.cv**3 + 3 * cell.cv) ** 2
    standard = (rng.gamma(shape) - shape) / np.sqrt(shape)
    return mean * (n + cell.cv * np.sqrt(n) * standard)


def weigh_ins(rng: np.random.Generator, cell: Cell, n: int, most: int = MAX_SAMPLES) -> WeighIns:
    """Draw the readings of n leads, each of so many samples."""
    odds = [MISCOUNT / 2, 1 - MISCOUNT, MISCOUNT / 2]
    slips = rng.choice([-1.0, 0.0, 1.0], p=odds, size=(n, most))
    mass = sums_g(rng, cell.pieces + slips, cell)
    if cell.dish == "tared":
        samples = shown(mass, cell.step_g)
    else:  # the dish weighed once, its reading taken off every sample
        dish = rng.uniform(30, 40, (n, 1))
        samples = shown(mass + dish, cell.step_g) - shown(dish, cell.step_g)
    tare = rng.uniform(150, 400, n)
    full = sums_g(rng, np.full(n, float(cell.container)), cell) + tare
    return WeighIns(cell, samples, shown(full, cell.step_g) - shown(tare, cell.step_g))


def _moments(drawn: WeighIns) -> tuple[Floats, Floats, Floats]:
    """Number of samples, mean of a sample in g, variance between samples; looks in columns."""
    k = np.arange(2.0, drawn.samples_g.shape[1] + 1)
    sums = np.cumsum(drawn.samples_g, axis=1)[:, 1:]
    squares = np.cumsum((drawn.samples_g - drawn.samples_g[:, :1]) ** 2, axis=1)[:, 1:]
    offset = sums - k * drawn.samples_g[:, :1]
    variance = np.maximum(squares - offset**2 / k, 0) / (k - 1)
    return k, np.maximum(sums / k, 1e-9), variance


def _looks(drawn: WeighIns, factor: Floats | float, of_mass: Floats, of_piece: Floats) -> Looks:
    """Fieller's interval; variances relative: of the mass of a piece, of one piece in N."""
    _, mean, _ = _moments(drawn)
    value = drawn.net_g[:, None] / mean * drawn.cell.pieces
    of_net = (drawn.cell.step_g**2 / 6 / drawn.net_g**2)[:, None]
    square, of_piece = factor**2 * of_mass, factor**2 * of_piece / value
    relative_u = np.sqrt(square + of_piece + factor**2 * of_net)
    leading = np.where(square < 1, 1 - square, np.nan)
    half = 1 + of_piece / 2
    root = np.sqrt(np.maximum(half**2 - leading * (1 - factor**2 * of_net), 0))
    return Looks(
        value, relative_u, value * (half - root) / leading, value * (half + root) / leading
    )


def plain_t(drawn: WeighIns) -> Looks:
    """The rule of before: Student's factor, and a floor divided by the number of samples."""
    k, mean, variance = _moments(drawn)
    scatter = variance / k / mean**2
    floor = (drawn.cell.step_g**2 / 6 / mean**2 + MISCOUNT / drawn.cell.pieces**2) / k
    factor = stats.t.ppf(0.975, k - 1)
    # The floor lent no degrees of freedom to the scatter: U was the larger of the two.
    of_mass = np.maximum(scatter, floor * (Z / factor) ** 2)
    return _looks(drawn, factor, of_mass, variance / mean**2 * drawn.cell.pieces)


def bounded(drawn: WeighIns) -> Looks:
    """The rule of version 0.2: the scatter at its upper 75 % bound, however large."""
    k, _, _ = _moments(drawn)
    believed = _bound(drawn, 0.75) * (stats.t.ppf(0.975, k) / Z) ** 2
    return _believing(drawn, believed, believed)


def guarded(drawn: WeighIns) -> Looks:
    """The rule of now: see ``nearmark/kit/sample_scatter.py``."""
    k, mean, variance = _moments(drawn)
    cell, scatter = drawn.cell, variance / mean**2
    most = (0.265**2 + MISCOUNT / cell.pieces) / cell.pieces + cell.step_g**2 / 6 / mean**2
    seen = scatter * (stats.t.ppf(0.975, k - 1) / Z) ** 2
    believed = np.minimum(
        _bound(drawn, 0.82) * (stats.t.ppf(0.975, k) / Z) ** 2, np.maximum(most, seen)
    )
    return _believing(drawn, believed, np.minimum(_bound(drawn, 0.90), np.maximum(most, scatter)))


def _bound(drawn: WeighIns, level: float) -> Floats:
    """Upper bound of the relative variance of a sample, a usual piece spread pooled with it."""
    k, mean, variance = _moments(drawn)
    squares = (k - 1) * variance / mean**2 + 0.10**2 / drawn.cell.pieces
    return squares / stats.chi2.ppf(1 - level, k)


def _believing(drawn: WeighIns, believed: Floats, container: Floats) -> Looks:
    """What the believed relative variances of a sample, and of the container, lead to."""
    k, mean, variance = _moments(drawn)
    cell = drawn.cell
    rounding = cell.step_g**2 / 12 / mean**2
    hidden = variance * (k - 1) / k <= (cell.step_g / 2) ** 2 * (1 + 1e-9)
    floor = MISCOUNT / cell.pieces**2
    of_mass = np.maximum(believed, floor) / k + rounding * (1 + hidden)
    return _looks(drawn, Z, of_mass, container * cell.pieces)


def stopped(drawn: WeighIns, looks: Looks, most: int = MAX_SAMPLES) -> Found:
    """What the leads find who stop at the first look that is fit, or give up after so many."""
    cell = drawn.cell
    fit = looks.relative_u[:, : most - 1] <= LIMIT
    fit[:, : cell.first_look - 2] = False
    ended = fit.any(axis=1)
    at = fit.argmax(axis=1)
    samples = np.where(ended, at + 2, most + 1)
    low, high, value = (
        ends[np.arange(len(at)), at][ended] for ends in (looks.low, looks.high, looks.value)
    )
    if not ended.any():
        return Found(np.nan, np.nan, 0.0, float(np.median(samples)), most + 1)
    return Found(
        float(((low <= cell.container) & (cell.container <= high)).mean()),
        float((abs(value / cell.container - 1) > LIMIT).mean()),
        float(ended.mean()),
        float(np.median(samples)),
        int(samples.min()),
    )


def at_fixed(drawn: WeighIns, looks: Looks, n_samples: int) -> float:
    """Share of the intervals that hold after a number of samples fixed beforehand."""
    low, high = looks.low[:, n_samples - 2], looks.high[:, n_samples - 2]
    return float(((low <= drawn.cell.container) & ~(high < drawn.cell.container)).mean())


def public_leads(cell: Cell, n: int, seed: int) -> Found:
    """The same through the public function, called after each sample with no options."""
    drawn = weigh_ins(np.random.default_rng(seed), cell, n)
    scale = Instrument("scale", "g", cell.step_g)
    held, wrong, took = [], [], []
    for masses, net in zip(drawn.samples_g, drawn.net_g, strict=True):
        gross, tare = Reading((float(net) + 300,), scale), Reading((300.0,), scale)
        samples = [Sample(cell.pieces, round(float(mass), 6)) for mass in masses]
        for k in range(cell.first_look, MAX_SAMPLES + 1):
            try:
                found = count_by_weighing(samples[:k], gross, tare)
            except ReadingsDisagree:
                continue
            if found.fit:
                held.append(found.interval[0] <= cell.container <= found.interval[1])
                wrong.append(abs(found.value / cell.container - 1) > LIMIT)
                took.append(k)
                break
    all_took = [*took, *[MAX_SAMPLES + 1] * (n - len(took))]
    return Found(
        float(np.mean(held)) if held else np.nan,
        float(np.mean(wrong)) if wrong else np.nan,
        len(took) / n,
        float(np.median(all_took)),
        min(all_took),
    )


def advised_leads(cell: Cell, n: int, seed: int) -> Found:
    """Leads who do what the tool proposes: larger samples where it says so, until it is fit.

    They give up, to count all pieces by hand, where it proposes no samples any more.  The samples
    it took are those of any size.
    """
    rng = np.random.default_rng(seed)
    scale, options = Instrument("scale", "g", cell.step_g), CountOptions()
    held, wrong, took = [], [], []
    for net in weigh_ins(rng, cell, n, 2).net_g:
        gross, tare = Reading((float(net) + 300,), scale), Reading((300.0,), scale)
        container = checked_container(gross, tare, None)
        samples: list[Sample] = []
        size = cell.pieces
        while len(samples) < PATIENT:
            slip = rng.choice([-1, 0, 1], p=[MISCOUNT / 2, 1 - MISCOUNT, MISCOUNT / 2])
            mass = shown(sums_g(rng, np.array(float(size + slip)), cell), cell.step_g)
            samples.append(Sample(size, round(float(mass), 6)))
            if len(samples) < cell.first_look:
                continue
            found = count_by_weighing(samples, gross, tare)
            if found.fit:
                held.append(found.interval[0] <= cell.container <= found.interval[1])
                wrong.append(abs(found.value / cell.container - 1) > LIMIT)
                took.append(len(samples))
                break
            unit = unit_mass(samples)
            on = ways_on(unit, container, options, predict_next(unit, container, options, size))
            if on.same is None and on.larger is None:
                break
            size = on.larger.pieces if on.larger else size
    if not took:
        return Found(np.nan, np.nan, 0.0, PATIENT + 1.0, PATIENT + 1)
    return Found(
        float(np.mean(held)),
        float(np.mean(wrong)),
        len(took) / n,
        float(np.median(took)),
        min(took),
    )


CVS = (0.05, 0.10, 0.15, 0.20, 0.25)
SCALES = ((2, 0.01), (20, 0.1), (60, 0.1), (200, 0.1), (200, 1.0))
"""Mass of a sample and step of the scale, in g."""

COARSE = (
    ("2.5 g on 0.1 g", Cell(sample_g=2.53, cv=0.02)),
    ("10 g on 0.1 g", Cell(sample_g=10.02, cv=0.01)),
    ("45 g on 1 g", Cell(sample_g=45.3, step_g=1.0, cv=0.05)),
)
"""Pieces that hardly vary beside the step: the samples show one or two readings."""


PUBLIC = (
    Cell(cv=0.1),
    Cell(cv=0.2),
    Cell(300, 0.15),
    Cell(cv=0.1, first_look=2),
    Cell(sample_g=10.0, first_look=2),
)
"""Cells repeated through the public functions."""


ADVISED = (
    Cell(cv=0.1),
    Cell(cv=0.2, first_look=2),
    Cell(cv=0.25),
    Cell(cv=0.25, container=5_000, first_look=2),
    Cell(300, 0.25, container=5_000),
)
"""Cells where the leads do what is proposed to them."""


def cells() -> list[Cell]:
    """The table: 2 to 200 g, all piece spreads, two laws, two first looks, two containers."""
    grid = itertools.product((16_000, 5_000), (3, 2), ("gamma", "lognormal"), (100, 300), CVS)
    return [
        Cell(pieces, cv, sample_g, step_g, law, container, first)
        for container, first, law, pieces, cv in grid
        for sample_g, step_g in SCALES
    ]


RULES = (("plain t", plain_t), ("bounded", bounded), ("now", guarded))
LEADS = (("weighs on", PATIENT), ("gives up after 30", MAX_SAMPLES))
Row = tuple[Cell, list[list[Found]]]
"""A cell, and what became of the keys, by lead and rule."""


def print_table(draws: int, seed: int) -> None:
    print(
        f"{draws} leads a cell, seed {seed}; noise of a share of 95 %: "
        f"+- {200 * (0.95 * 0.05 / draws) ** 0.5:.1f} %.  Means over the scales and first looks."
    )
    rng = np.random.default_rng(seed)
    rows: list[Row] = []
    for cell in cells():
        drawn = weigh_ins(rng, cell, draws, PATIENT)
        looks = [rule(drawn) for _, rule in RULES]
        rows.append((cell, [[stopped(drawn, look, most) for look in looks] for _, most in LEADS]))
    rules = " | ".join(f"{name:^27s}" for name, _ in RULES)
    for lead, (name, _) in enumerate(LEADS):
        print(f"\nThe lead {name}:{'':{17 - len(name)}s}| {rules} | ratio")
        print("container law         n   cv | " + "holds wrong  fit   median  | " * 3)
        for group in _grouped(rows):
            _print_line(group, lead)
        _print_summary(rows, lead)


def _grouped(rows: list[Row]) -> list[list[Row]]:
    groups: dict[tuple[object, ...], list[Row]] = {}
    for row in rows:
        cell = row[0]
        groups.setdefault((cell.container, cell.law, cell.pieces, cell.cv), []).append(row)
    return list(groups.values())


def _print_line(group: list[Row], lead: int) -> None:
    cell = group[0][0]
    line = f"{cell.container:9d} {cell.law:9s} {cell.pieces:3d} {cell.cv:.2f}"
    for rule in range(len(RULES)):
        found = [row[1][lead][rule] for row in group]
        holds, wrong = _mean(f.holds for f in found), _mean(f.wrong for f in found)
        fit, median = _mean(f.fit for f in found), _mean(f.median for f in found)
        line += f" | {100 * holds:5.1f} {100 * wrong:5.1f} {100 * fit:4.0f} {median:7.1f}   "
    print(f"{line} | {_mean(_ratios(group, lead)):.2f}")


def _ratios(rows: list[Row], lead: int) -> list[float]:
    """Samples needed now over those of plain t."""
    return [found[lead][-1].median / found[lead][0].median for _, found in rows]


def _mean(values: Iterable[float]) -> float:
    known = [v for v in values if not np.isnan(v)]
    return float(np.mean(known)) if known else np.nan


def _print_summary(rows: list[Row], lead: int) -> None:
    for rule, (name, _) in enumerate(RULES):
        found = [row[1][lead][rule] for row in rows]
        fit = sum(f.fit for f in found)
        holds = sum(f.holds * f.fit for f in found if f.fit) / fit
        wrong = sum(f.wrong * f.fit for f in found if f.fit) / fit
        reached = [f for f in found if f.fit >= 0.5]
        few = max((f.wrong * f.fit for f in found if 0 < f.fit < 0.5), default=0.0)
        print(
            f"{name}: of all keys called fit {100 * holds:.1f} % hold, {100 * wrong:.1f} % wrong; "
            f"of {len(reached)} cells where half of the leads or more come to fit, "
            f"{sum(f.holds < 0.945 for f in reached)} hold below 94.5 %, "
            f"{sum(f.wrong > 0.055 for f in reached)} wrong above 5.5 %, "
            f"worst {100 * min(f.holds for f in reached):.1f} / "
            f"{100 * max(f.wrong for f in reached):.1f} %; "
            f"in the others at most {100 * few:.1f} % of all leads hold a wrong key"
        )
    ratios = _ratios(rows, lead)
    over = sum(ratio > 1.6 for ratio in ratios)
    print(
        f"samples now over plain t, median of the ratios {np.median(ratios):.2f}, largest "
        f"{max(ratios):.2f}; above 1.6 in {over} of {len(rows)}"
    )


def print_coarse(draws: int, seed: int) -> None:
    print("\ncoarse scales, fixed numbers of samples: intervals that hold, before / after")
    for name, cell in COARSE:
        line = f"{name:16s}"
        for k in (2, 3, 4, 6, 10, 20):
            # The mass of a sample lies anywhere between two steps.
            before, after = coarse_shares(cell, k, draws, seed)
            line += f"  k={k}: {100 * before:5.1f} / {100 * after:5.1f}"
        print(line)


def coarse_shares(cell: Cell, k: int, draws: int, seed: int) -> tuple[float, float]:
    """Share of intervals that hold, before and after, over masses anywhere between two steps."""
    rng = np.random.default_rng(seed)
    before, after = [], []
    for offset in np.linspace(-0.5, 0.5, 20, endpoint=False):
        placed = cell._replace(sample_g=cell.sample_g + offset * cell.step_g)
        drawn = weigh_ins(rng, placed, draws // 20)
        before.append(at_fixed(drawn, plain_t(drawn), k))
        after.append(at_fixed(drawn, guarded(drawn), k))
    return float(np.mean(before)), float(np.mean(after))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--draws", type=int, default=4000)
    parser.add_argument("--seed", type=int, default=20_261_126)
    parser.add_argument("--public", type=int, default=0, metavar="LEADS", help="leads a cell")
    parser.add_argument("--advised", type=int, default=0, metavar="LEADS", help="leads a cell")
    options = parser.parse_args()
    if options.public:
        for cell in PUBLIC:
            print(cell, public_leads(cell, options.public, options.seed), flush=True)
        return
    if options.advised:
        for cell in ADVISED:
            print(cell, advised_leads(cell, options.advised, options.seed), flush=True)
        return
    print_table(options.draws, options.seed)
    print_coarse(options.draws, options.seed)


if __name__ == "__main__":
    main()
