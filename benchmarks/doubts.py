"""How often is a sound reading asked about, and how often a slip?  Simulated readings of a kit.

Run ``python benchmarks/doubts.py``; 2,000 weigh-ins take about half a minute.  Every reading goes
through ``new_doubts``, as it does when somebody types it.  Lots differ from the catalogue by 10 to
15 % (standard deviation), coins and washers by what their specification allows; the model and its
figures are invented, the ranges are those of a school event.
"""

import argparse
import itertools
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import partial
from typing import Any

import numpy as np

from nearmark.contest.doubts import new_doubts
from nearmark.contest.event import (
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Cup,
    Event,
    Item,
    Side,
)
from nearmark.kit import CatalogueMaterial, materials
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station

SIZES = (50, 75, 100, 150, 200)
STEPS = (0.01, 0.1, 1.0)
LOTS = (0.10, 0.15)
BY_SPECIFICATION = 0.05
"""Up to this relative u the mass of a piece is specified: there are no lots."""

DAY = Event("Larkspur Valley Estimation Day", date(2027, 5, 8))
Slip = Callable[[int, float], tuple[int, float]]
"""Pieces counted and mass in g -> what is typed."""

SLIPS: dict[str, Slip] = {
    "75 typed for 100": lambda n, g: (75 if n == 100 else n, g),
    "100 typed for 75": lambda n, g: (100 if n == 75 else n, g),
    "point one place off (42.9 for 4.29)": lambda n, g: (n, 10 * g),
    "dish of 35 g left in": lambda n, g: (n, g + 35),
}


def shown(value: float, step: float) -> Decimal:
    """What a display with this step shows."""
    return Decimal(repr(round(round(value / step) * step, 2)))


class Lot:
    """One lot of a random material."""

    def __init__(self, rng: np.random.Generator) -> None:
        self.rng = rng
        every = materials()
        self.material: CatalogueMaterial = every[int(rng.integers(len(every)))]
        own_u = self.material.piece_mass.relative_u
        spread = own_u if own_u <= BY_SPECIFICATION else rng.uniform(*LOTS)
        self.mean_g = self.material.piece_mass_g * float(np.exp(rng.normal(0, spread)))
        self.cv = self.material.piece_cv * rng.uniform(0.8, 1.25)

    def mass_g(self, pieces: int) -> float:
        """Mass of so many pieces, handling included."""
        scatter = self.cv * np.sqrt(pieces) * self.rng.normal()
        return float(self.mean_g * (pieces + scatter) + self.rng.normal(0, 0.02))


def typed(day: Event, lot: Lot, code: str, *, size: int, step: float, slip: Slip) -> list[Event]:
    """The event after each reading of one weigh-in: empty, three samples, full."""
    rng, name = lot.rng, f"scale {step}"
    item = Item(code, Station.COUNT, code, lot.material.code)
    scales = {scale.name: scale for scale in (*day.instruments, Instrument(name, "g", step))}
    start = replace(day, instruments=tuple(scales.values()), items=(*day.items, item))
    tare_g = rng.uniform(60, 500)
    states = [start]

    def add(**rows: object) -> None:
        now = states[-1]
        more: dict[str, Any] = {what: (*getattr(now, what), row) for what, row in rows.items()}
        states.append(replace(now, **more))

    add(containers=ContainerWeighing(code, None, shown(tare_g, step), name))
    for _ in range(3):
        counted = size + int(rng.choice((-1, 0, 1), p=(0.025, 0.95, 0.025)))
        pieces, mass_g = slip(size, lot.mass_g(counted))
        add(samples=CountedSample(code, pieces, shown(mass_g, step), name))
    pieces = int(np.exp(rng.uniform(np.log(300), np.log(20_000))))
    gross = shown(tare_g + lot.mass_g(pieces), step)
    add(containers=ContainerWeighing(code, gross, None, name))
    return states


def is_asked(states: list[Event]) -> bool:
    """Whether any reading was asked about when it was typed."""
    return any(new_doubts(a, b) for a, b in itertools.pairwise(states))


def weigh_in(rng: np.random.Generator, slip: Slip = lambda n, g: (n, g), size: int = 0) -> bool:
    """One weigh-in; every second one follows another item of the same lot.  Whether it is asked."""
    lot = Lot(rng)
    size = size or int(rng.choice(SIZES))
    # Nobody weighs a sample on a scale that shows it in a handful of steps.
    fine = [step for step in STEPS if size * lot.mean_g >= 20 * step]
    step = float(rng.choice(fine))
    day = DAY
    if rng.random() < 0.5:
        before = int(rng.choice(SIZES))
        day = typed(DAY, lot, "J1", size=before, step=step, slip=lambda n, g: (n, g))[-1]
    return is_asked(typed(day, lot, "J2", size=size, step=step, slip=slip))


def box(rng: np.random.Generator, slip: str = "") -> bool:
    """A box of 200 to 4000 cm3, three readings an edge; whether it is asked about."""
    while True:
        sides = rng.uniform(4, 30, 3)
        if 200 <= np.prod(sides) <= 4000:
            break
    states = [
        replace(
            DAY,
            instruments=(Instrument("ruler", "cm", 0.1),),
            items=(Item("B1", Station.VOLUME, "box", box=BoxFaces(Faces.INSIDE)),),
        )
    ]
    wall = rng.uniform(0.3, 0.6)
    for side, true in zip(Side, sides, strict=True):
        for i in range(3):
            cm = true + rng.normal(0, 0.08)
            cm = cm / 2.54 if slip == "inches" else cm
            cm = cm + 2 * wall if slip == "outside" and i == 2 else cm
            row = BoxReading("B1", side, shown(cm, 0.1), "ruler")
            states.append(replace(states[-1], box_readings=(*states[-1].box_readings, row)))
    return is_asked(states)


def cups(rng: np.random.Generator, slip: str = "") -> bool:
    """Ten cups of one batch, 4 to 40 g, alike to 3 %; whether one is asked about."""
    mean, states = rng.uniform(4, 40), [DAY]
    for i in range(10):
        mass = mean * (1 + rng.normal(0, 0.03))
        mass = 10 * mass if slip and i == 4 else mass
        cup = Cup(str(i + 1), shown(mass, 0.1), "scale", "thin")
        states.append(replace(states[-1], cups=(*states[-1].cups, cup)))
    return is_asked(states)


def rate(run: Callable[[], bool], n: int) -> str:
    """How many of so many are asked about, in percent."""
    return f"{100 * sum(run() for _ in range(n)) / n:5.1f} %"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--n", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    rng = np.random.default_rng(given.seed)
    n, few = given.n, given.n // 4
    print(f"asked about ({n} sound, {few} of each slip; seed {given.seed})")
    print("  sound")
    print(f"    weigh-in, three samples and container  {rate(lambda: weigh_in(rng), n)}")
    print(f"    box, nine readings                     {rate(lambda: box(rng), n)}")
    print(f"    ten cups of a batch                    {rate(lambda: cups(rng), few)}")
    print("  slip")
    for words, slip in SLIPS.items():
        size = {"75 typed for 100": 100, "100 typed for 75": 75}.get(words, 0)
        asked = rate(partial(weigh_in, rng, slip, size), few)
        print(f"    {words:<38} {asked}")
    print(f"    ruler in inches, every edge            {rate(lambda: box(rng, 'inches'), few)}")
    print(f"    third reading outside (wall 3 to 6 mm) {rate(lambda: box(rng, 'outside'), few)}")
    print(f"    86 for 8.6, fifth cup                  {rate(lambda: cups(rng, 'point'), few)}")


if __name__ == "__main__":
    main()
