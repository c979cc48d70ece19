"""The season before the Larkspur Valley Estimation Day: invented, from stated models and a seed.

Nothing in it was measured and nobody in it exists.  The models, per pupil:

- count: ln of the layer count and of the number of layers each have an own bias and scatter; the
  estimate is their product, rounded as a child rounds.  What a jar's own layers miss is the method.
- volume: ln of each side has one bias and an own scatter; the estimate is the product, whole cm3.
- mass: net - 100 g = level - share x (cup - usual cup) - pull x (ln density - usual) + scatter.

Two of a pair share a part of every scatter (correlation 0.3 of what remains).  Planted on purpose:
Milo, who begins far too low in counts and improves; Zed, whose zero slips once and who once
multiplies two sides only; Juno, whom a heavy cup fools; Tove, who is ill twice; parts that were not
written down.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np

from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.seen_truth import Thing
from nearmark.kit import material
from nearmark.measurement.rounding import round_to
from nearmark.station import Station

SEED: Final = 20270203
FIRST_DAY: Final = date(2027, 2, 10)
PRACTICES: Final = 10
PAIRS: Final = {"S1": ("Milo", "Wren"), "S2": ("Juno", "Kai"), "S3": ("Tove", "Zed")}

_SHARED: Final = 0.3
_PARTS_WRITTEN: Final = 0.75
_USUAL_CUP_G: Final = 30.0
_USUAL_DENSITY: Final = 0.75
_PULL_G: Final = 6.0
"""Bulky material feels lighter, so more of it is taken."""


@dataclass(frozen=True, slots=True)
class Nature:
    """How an invented pupil errs."""

    # Of the pieces in one layer, and of the number of layers (natural log, (bias, scatter)).
    layer: tuple[float, float]
    layers: tuple[float, float]
    side: tuple[float, float]  # of each side of a box (natural log, (bias, scatter))
    level: tuple[float, float]  # of a scoop out of the usual cup (g, (bias, scatter))
    cup_share: float = 0.05  # of the cup's mass not allowed for (dimensionless)
    # Share of the count bias that each practice leaves; 1: learns nothing (dimensionless).
    left: float = 1.0


@dataclass(frozen=True, slots=True)
class _Jar:
    name: str
    size: str
    pieces: int
    layer: int
    layers: int


@dataclass(frozen=True, slots=True)
class _Box:
    name: str
    cm: tuple[float, float, float]


NATURES: Final = {
    "Milo": Nature((-0.34, 0.10), (-0.06, 0.06), (-0.02, 0.04), (1.0, 8.0), left=0.82),
    "Wren": Nature((-0.04, 0.06), (-0.03, 0.05), (0.00, 0.03), (-1.0, 6.0)),
    "Juno": Nature((-0.10, 0.09), (-0.04, 0.06), (0.03, 0.04), (2.0, 7.0), cup_share=0.35),
    "Kai": Nature((0.08, 0.11), (0.02, 0.07), (-0.05, 0.03), (-3.0, 9.0)),
    "Tove": Nature((-0.12, 0.07), (-0.10, 0.07), (-0.01, 0.05), (4.0, 8.0)),
    "Zed": Nature((0.00, 0.16), (-0.05, 0.10), (0.01, 0.06), (0.0, 12.0)),
}

_JARS: Final = (
    _Jar("jar of chickpeas", "small", 438, 52, 9),
    _Jar("tub of elbow pasta", "medium", 2310, 158, 16),
    _Jar("jar of buttons", "small", 265, 36, 8),
    _Jar("tin of kidney beans", "medium", 1480, 118, 13),
    _Jar("bucket of rice", "large", 14_200, 560, 27),
    _Jar("jar of marbles", "small", 152, 24, 7),
    _Jar("tub of shell pasta", "medium", 1120, 98, 12),
    _Jar("bucket of split peas", "large", 12_600, 520, 26),
    _Jar("jar of acorns", "small", 318, 38, 9),
    _Jar("tin of coffee beans", "medium", 3350, 205, 17),
)
_BOXES: Final = (
    _Box("tea box", (12.4, 8.0, 6.5)),
    _Box("shoe box", (24.1, 15.4, 9.2)),
    _Box("crayon box", (14.6, 9.9, 2.7)),
    _Box("biscuit box", (19.0, 12.6, 7.4)),
    _Box("mug box", (9.8, 9.8, 10.4)),
    _Box("boot box", (30.2, 21.5, 5.6)),
    _Box("light bulb box", (16.4, 7.2, 7.2)),
    _Box("pencil case", (22.7, 11.3, 3.9)),
    _Box("sugar box", (13.1, 10.5, 9.0)),
    _Box("parcel", (27.5, 18.2, 8.1)),
)
"""One of each a practice: what was shown once is no practice the second time."""

STILL_TO_TRY: Final = (
    Thing(Station.COUNT, "small", "jar of hazelnuts", 196.0),
    Thing(Station.COUNT, "medium", "tub of bow pasta", 1840.0),
    Thing(Station.COUNT, "large", "bucket of lentils", 16_300.0),
    Thing(Station.VOLUME, "", "cereal box", 2871.0),
)
"""On the shelf for the next practices; nobody has seen their true values."""

_CUPS: Final = (("paper cup", 8.6), ("glass", 182.0), ("tin cup", 54.0), ("paper cup", 8.7))
_SCOOPED: Final = ("rice", "elbow-pasta", "split-pea")
_ABSENT: Final = {("Tove", 3), ("Tove", 7)}


def practice_season(seed: int = SEED) -> tuple[Attempt, ...]:
    """The log of the invented season.

    ``seed``: the same seed gives the same season. Returns: ten practices of six pupils in three
    pairs, oldest first.
    """
    rng = np.random.default_rng(seed)
    attempts: list[Attempt] = []
    for practice in range(PRACTICES):
        for pair, members in PAIRS.items():
            attempts += _of_pair(pair, members, practice, rng)
    return tuple(_with_slips(attempts))


def _of_pair(
    pair: str, members: tuple[str, str], practice: int, rng: np.random.Generator
) -> Iterator[Attempt]:
    """All attempts of two pupils on one day; both draw, so that an absence changes nothing else."""
    shared = rng.standard_normal(8)
    for pupil in members:
        own = rng.standard_normal(8)
        z = math.sqrt(_SHARED) * shared + math.sqrt(1 - _SHARED) * own
        written = rng.random(3) < _PARTS_WRITTEN
        if (pupil, practice) in _ABSENT:
            continue
        day = FIRST_DAY + timedelta(weeks=practice)
        who = _Who(day, pupil, pair, NATURES[pupil])
        yield _scoop(who, practice, float(z[0]), written=bool(written[0]))
        yield _count(who, practice, (float(z[1]), float(z[2])), written=bool(written[1]))
        yield _volume(who, practice, z[3:6], written=bool(written[2]))


@dataclass(frozen=True, slots=True)
class _Who:
    day: date
    pupil: str
    pair: str
    nature: Nature

    def attempt(
        self,
        station: Station,
        thing: str,
        estimate: float,
        true: float,
        *,
        size: str = "",
        parts: Layers | Sides | Scoop | None,
    ) -> Attempt:
        return Attempt(self.day, self.pupil, station, thing, estimate, true, size, parts, self.pair)


def _scoop(who: _Who, practice: int, z: float, *, written: bool) -> Attempt:
    cup, cup_g = _CUPS[practice % len(_CUPS)]
    content = material(_SCOOPED[practice % len(_SCOOPED)])
    density = round(content.bulk_density.value, 3)
    level, scatter = who.nature.level
    net = 100 + level + scatter * z
    net -= who.nature.cup_share * (cup_g - _USUAL_CUP_G)
    net -= _PULL_G * math.log(density / _USUAL_DENSITY)
    return who.attempt(
        Station.MASS,
        f"{content.plain_name} into a {cup}",
        round(max(net, 5.0), 1),
        100.0,
        parts=Scoop(cup_g, density) if written else None,
    )


def _count(who: _Who, practice: int, z: tuple[float, float], *, written: bool) -> Attempt:
    jar, nature = _JARS[practice % len(_JARS)], who.nature
    fade = nature.left**practice
    layer = round(jar.layer * math.exp(fade * nature.layer[0] + nature.layer[1] * z[0]))
    layers = round(jar.layers * math.exp(fade * nature.layers[0] + nature.layers[1] * z[1]))
    product = layer * layers
    return who.attempt(
        Station.COUNT,
        jar.name,
        float(round_to(product, -1)),
        jar.pieces,
        size=jar.size,
        parts=Layers(layer, layers, jar.layer, jar.layers) if written else None,
    )


def _volume(who: _Who, practice: int, z: np.ndarray, *, written: bool) -> Attempt:
    box, (bias, scatter) = _BOXES[practice % len(_BOXES)], who.nature.side
    own = [
        round(cm * math.exp(bias + scatter * float(each)), 1)
        for cm, each in zip(box.cm, z, strict=True)
    ]
    return who.attempt(
        Station.VOLUME,
        box.name,
        float(round(math.prod(own))),
        round(math.prod(box.cm), 1),
        parts=Sides(own[0], own[1], own[2], box.cm) if written else None,
    )


def _with_slips(attempts: list[Attempt]) -> Iterator[Attempt]:
    """Zed's two slips: a zero too many in the fourth practice, two sides only in the seventh."""
    zero, sides = (FIRST_DAY + timedelta(weeks=practice) for practice in (3, 6))
    for each in attempts:
        who = _Who(each.day, each.pupil, each.pair, NATURES[each.pupil])
        if each.pupil == "Zed" and (each.day, each.station) == (zero, Station.COUNT):
            yield who.attempt(
                each.station,
                each.thing,
                10 * each.estimate,
                each.true,
                size=each.size,
                parts=each.parts,
            )
        elif each.pupil == "Zed" and (each.day, each.station) == (sides, Station.VOLUME):
            box = next(box for box in _BOXES if box.name == each.thing)
            two = float(round(box.cm[0] * box.cm[1]))
            yield who.attempt(
                each.station, each.thing, two, each.true, parts=Sides(*box.cm, box.cm)
            )
        else:
            yield each
