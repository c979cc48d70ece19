"""How often does the 95 % interval hold?  Simulated weigh-ins and boxes with known truth.

The number of samples is fixed here; ``stopping.py`` weighs until the key is fit, for which the
interval of a count is made, so that here it holds more often than 95 of 100 times.
Run ``python benchmarks/covering.py``; 10,000 of each take about a minute.  Every draw goes through
the public functions.  The stated models are invented; the ranges are those of a school event.
"""

import argparse
import time
from collections.abc import Callable

import numpy as np

from nearmark.errors import ReadingsDisagree
from nearmark.kit import Sample, box_volume, count_by_weighing
from nearmark.measurement.instruments import Instrument, Reading

SCALE = Instrument("bench scale", "g", 0.1)
RULER = Instrument("ruler", "cm", 0.1)
DISH_G = 38.0
LEVEL = 0.95


def shown(value: float, step: float) -> float:
    """What a display with this step shows."""
    return round(round(value / step) * step, 6)


def weighed(mass_g: float, dish_g: float) -> float:
    """Net mass as read: with the dish, minus the dish, both rounded by the scale."""
    return round(shown(mass_g + dish_g, 0.1) - shown(dish_g, 0.1), 6)


def count_holds(
    rng: np.random.Generator,
    *,
    n_samples: int = 3,
    mass_g: tuple[float, float] = (0.05, 3.0),
    cv: tuple[float, float] = (0.05, 0.25),
) -> bool | None:
    """One weigh-in: samples of 100, 1500 to 16000 pieces; whether the interval holds the count.

    Pieces are gamma distributed, so that the sum of any number of them is drawn exactly.  One
    sample in twenty is miscounted by one piece; handling scatters by 0.05 g.
    """
    mean = float(np.exp(rng.uniform(*np.log(mass_g))))
    shape = 1 / rng.uniform(*cv) ** 2
    n_pieces = int(rng.integers(1500, 16_001))

    def pieces_g(n: int) -> float:
        return float(rng.gamma(n * shape, mean / shape))

    samples = []
    for _ in range(n_samples):
        slip = int(rng.choice((-1, 1))) if rng.random() < 0.05 else 0
        mass = pieces_g(100 + slip) + rng.normal(0, 0.05)
        samples.append(Sample(100, weighed(mass, DISH_G + rng.uniform(0, 1))))
    tare = rng.uniform(150, 400)
    gross = shown(pieces_g(n_pieces) + tare, 0.1)
    try:
        result = count_by_weighing(
            samples, Reading((gross,), SCALE), Reading((shown(tare, 0.1),), SCALE)
        )
    except ReadingsDisagree:
        return None
    low, high = result.interval
    return low <= n_pieces <= high


def box_holds(
    rng: np.random.Generator,
    *,
    n_readings: int = 3,
    scatter_cm: tuple[float, float] = (0.03, 0.15),
) -> bool | None:
    """One box of sides 4 to 25 cm; whether the interval holds its volume."""
    sides = rng.uniform(4, 25, 3)
    scatter = rng.uniform(*scatter_cm)
    readings = [
        Reading(tuple(shown(x, 0.1) for x in side + rng.normal(0, scatter, n_readings)), RULER)
        for side in sides
    ]
    low, high = box_volume(*readings).interval
    return bool(low <= sides.prod() <= high)


def coverage(
    holds: Callable[[np.random.Generator], bool | None], n: int, seed: int
) -> tuple[float, int]:
    """Share of the intervals that hold, and how many draws were refused."""
    rng = np.random.default_rng(seed)
    found = [holds(rng) for _ in range(n)]
    answered = [held for held in found if held is not None]
    return sum(answered) / len(answered), n - len(answered)


CASES: dict[str, Callable[[np.random.Generator], bool | None]] = {
    "count, 3 samples of 100 (reference case)": count_holds,
    "count, light pieces 0.03 to 0.1 g": lambda rng: count_holds(rng, mass_g=(0.03, 0.1)),
    "count, heavy pieces 1 to 5 g": lambda rng: count_holds(rng, mass_g=(1.0, 5.0)),
    "count, even pieces, cv 5 %": lambda rng: count_holds(rng, cv=(0.05, 0.0501)),
    "count, uneven pieces, cv 25 %": lambda rng: count_holds(rng, cv=(0.25, 0.2501)),
    "count, 2 samples": lambda rng: count_holds(rng, n_samples=2),
    "count, 5 samples": lambda rng: count_holds(rng, n_samples=5),
    "count, 8 samples": lambda rng: count_holds(rng, n_samples=8),
    "box, 3 readings a side (reference case)": box_holds,
    "box, careful, scatter 0.03 cm": lambda rng: box_holds(rng, scatter_cm=(0.03, 0.0301)),
    "box, scatter 0.08 cm": lambda rng: box_holds(rng, scatter_cm=(0.08, 0.0801)),
    "box, careless, scatter 0.15 cm": lambda rng: box_holds(rng, scatter_cm=(0.15, 0.1501)),
    "box, 2 readings a side": lambda rng: box_holds(rng, n_readings=2),
    "box, 5 readings a side": lambda rng: box_holds(rng, n_readings=5),
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--draws", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=20_260_314)
    parser.add_argument("--all", action="store_true", help="all cases, not only the reference two")
    options = parser.parse_args()
    noise = 2 * (LEVEL * (1 - LEVEL) / options.draws) ** 0.5
    print(f"{options.draws} draws a case, seed {options.seed}; noise +- {100 * noise:.1f} %")
    for name, holds in CASES.items():
        if options.all or "reference" in name:
            start = time.perf_counter()
            share, refused = coverage(holds, options.draws, options.seed)
            seconds = time.perf_counter() - start
            print(f"{name:42s} {100 * share:5.1f} %  refused {refused:3d}  {seconds:5.1f} s")


if __name__ == "__main__":
    main()
