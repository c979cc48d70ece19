"""The Larkspur Valley Estimation Day: an invented event, simulated from stated models and a seed.

Nothing in it was measured and nobody in it exists.  The models: piece masses are lognormal; a
container's net mass is the sum of its own pieces; counted samples come from the same lot; scales
and rulers show their nearest step; a pair misses in log ratio with its own bias and scatter.
Planted on purpose, each a thing a real day brings: a key with transposed digits (C1), a key that
needs more samples and was accepted by the lead (C3), a tie, a blank, an illegible answer, a heavy
cup, an entry conflict that waits for a third reading and one that has it, a guest and an absentee.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

import numpy as np

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Cup,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Material,
    Pair,
    PairStatus,
    Side,
)
from nearmark.contest.keys import event_keys
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.measurement.instruments import Instrument
from nearmark.measurement.rounding import round_to
from nearmark.station import Station

NAME = "Larkspur Valley Estimation Day"
SEED = 20270508
SCALE = "bench scale"
RULER = "steel ruler"
CLERKS = ("clerk Ash", "clerk Birch", "clerk Cedar")
_SCHOOLS = (
    "Fernhollow",
    "Otterbrook Mill",
    "Quillbank",
    "Copperwren",
    "Saltmeadow End",
    "Lanternfield",
    "Pebblethwaite",
    "Gorsewater",
    "Thistlewick",
    "Marrowby",
    "Windlecombe",
    "Hazelpike",
)
_FIRST_NAMES = (  # noqa: SIM905 - shorter to read than a list of quotes
    "Ada Bo Cleo Dov Esi Finn Gita Hana Ivo Juno Kai Lena Milo Nell Omar Pia Quin Rosa Sol Tove "
    "Uma Vito Wren Xan Yara Zed"
).split()


@dataclass(frozen=True, slots=True)
class _Container:
    item: Item
    n: int
    piece_g: float
    piece_cv: float
    tare_g: float
    samples: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Box:
    item: Item
    sides_cm: tuple[float, float, float]


_CONTAINERS = (
    _Container(
        Item("C1", Station.COUNT, "small jar of chickpeas", "chickpea"), 421, 0.42, 0.18, 96.4, ()
    ),
    _Container(
        Item("C2", Station.COUNT, "square tub of elbow pasta", "elbow-pasta"),
        2874,
        0.36,
        0.09,
        141.7,
        (150, 150, 150, 150, 150),
    ),
    _Container(
        Item("C3", Station.COUNT, "tall jar of milled rice", "rice"),
        14350,
        0.021,
        0.14,
        388.2,
        (500, 500, 500),
    ),
)
_BOXES = (
    _Box(Item("B1", Station.VOLUME, "tea box", box=BoxFaces(Faces.OUTSIDE)), (12.43, 8.05, 6.52)),
    _Box(Item("B2", Station.VOLUME, "shoe box", box=BoxFaces(Faces.OUTSIDE)), (24.10, 15.35, 9.20)),
)
_CUP_ITEM = Item("M1", Station.MASS, "100 g of split peas", "split-pea")


def larkspur_valley(seed: int = SEED) -> Event:
    """Build the demo event.

    ``seed``: the same seed gives the same event. Returns: 12 invented schools, 46 pairs and 3
    children alone, six items.
    """
    rng = np.random.default_rng(seed)
    kit = _kit(rng, seed)
    pairs = _pairs(rng)
    event = replace(kit, pairs=pairs, answers=_answers(rng, kit, pairs))
    return _with_planted_tie(_with_planted_trouble(event))


def _shown(value: float, instrument_step: str) -> Decimal:
    """What a display with this step shows."""
    step = Decimal(instrument_step)
    return (Decimal(repr(value)) / step).quantize(Decimal(1)) * step


def _lot(rng: np.random.Generator, container: _Container, n: int) -> float:
    """Net mass in g of ``n`` pieces of the container's lot."""
    sigma = math.sqrt(math.log1p(container.piece_cv**2))
    mu = math.log(container.piece_g) - sigma**2 / 2
    return float(rng.lognormal(mu, sigma, n).sum())


def _kit(rng: np.random.Generator, seed: int) -> Event:
    weighed = [c for c in _CONTAINERS if c.samples]
    cups = tuple(
        Cup(str(number), _shown(8.6 + 0.15 * float(rng.standard_normal()), "0.1"), SCALE, "thin")
        for number in range(1, 57)
    )
    # Cup 17 is a thick one: it hides the net mass from the hand.
    heavy = replace(cups[16], tare_g=Decimal("182.4"), batch="")
    return Event(
        name=NAME,
        day=date(2027, 5, 8),
        venue="Larkspur Valley hall (invented)",
        seed=seed,
        instruments=(
            Instrument(SCALE, "g", 0.1, gain_u=0.0002, capacity=6000.0),
            Instrument(RULER, "cm", 0.1),
        ),
        materials=(
            Material("chickpea", "Chickpeas", cautions=("raw pulses: never taste",)),
            Material("elbow-pasta", "Elbow pasta", cautions=("allergen: wheat",)),
            Material("rice", "Milled rice", moisture_u=Decimal("0.001")),
            Material("split-pea", "Split peas", cautions=("raw pulses: never taste",)),
        ),
        items=(_CUP_ITEM, *(c.item for c in _CONTAINERS), *(b.item for b in _BOXES)),
        samples=tuple(
            CountedSample(c.item.code, n, _shown(_lot(rng, c, n), "0.1"), SCALE)
            for c in weighed
            for n in c.samples
        ),
        containers=tuple(
            ContainerWeighing(
                c.item.code,
                _shown(_lot(rng, c, c.n) + c.tare_g, "0.1"),
                _shown(c.tare_g, "0.1"),
                SCALE,
            )
            for c in weighed
        ),
        # Counted once by one person and written down with two digits exchanged: 241 for 421.
        hand_counts=(HandCount("C1", 241, "Rowan"),),
        box_readings=tuple(_box_readings(rng)),
        cups=(*cups[:16], heavy, *cups[17:]),
        key_decisions=(
            KeyDecision("C1", None, "lead Juniper", "no time for a second count before the doors"),
            KeyDecision("C3", None, "lead Juniper", "jar sealed before more samples were drawn"),
        ),
    )


def _box_readings(rng: np.random.Generator) -> Iterable[BoxReading]:
    for box in _BOXES:
        for side, length_cm in zip(Side, box.sides_cm, strict=True):
            for _ in range(3):
                reading = length_cm + 0.04 * float(rng.standard_normal())
                yield BoxReading(box.item.code, side, _shown(reading, "0.1"), RULER)


def _pairs(rng: np.random.Generator) -> tuple[Pair, ...]:
    pairs = []
    for number in range(1, 50):
        school = _SCHOOLS[(number - 1) * len(_SCHOOLS) // 49]
        first, second = rng.choice(len(_FIRST_NAMES), 2, replace=False)
        names = (_FIRST_NAMES[first], _FIRST_NAMES[second])
        solo = number in (12, 27, 41)
        status = {33: PairStatus.ABSENT, 48: PairStatus.GUEST}.get(number, PairStatus.ENTERED)
        heat = f"heat {1 + (number - 1) // 12}"
        pairs.append(Pair(f"P{number:02}", school, names[:1] if solo else names, status, heat))
    return tuple(pairs)


def _answers(
    rng: np.random.Generator, kit: Event, pairs: tuple[Pair, ...]
) -> tuple[AnswerReading, ...]:
    """Two equal blind readings of every answer of every pair that came."""
    truths = {c.item.code: float(c.n) for c in _CONTAINERS}
    truths |= {b.item.code: math.prod(b.sides_cm) for b in _BOXES}
    model = {Station.MASS: (0.0, 0.09), Station.COUNT: (-0.12, 0.20), Station.VOLUME: (-0.02, 0.08)}
    answers = []
    came = [p for p in pairs if p.status is not PairStatus.ABSENT]
    for cup, pair in zip(kit.cups, came, strict=False):
        skill = float(rng.lognormal(0.0, 0.35))
        for item in kit.items:
            bias, scatter = model[item.station]
            ratio = math.exp(bias * skill + scatter * skill * float(rng.standard_normal()))
            if item.station is Station.MASS:
                value = cup.tare_g + _shown(100 * ratio, "0.1")
            else:
                value = _as_written(truths[item.code] * ratio)
            number = cup.number if item.station is Station.MASS else ""
            answers += [
                AnswerReading(
                    pair.code, item.code, reading, clerk, AnswerStatus.ANSWERED, value, number
                )
                for reading, clerk in zip((1, 2), CLERKS, strict=False)
            ]
    return tuple(answers)


def _as_written(value: float) -> Decimal:
    """A child's answer: whole, and rounded to tens from a thousand on."""
    return Decimal(int(round_to(value, -1 if value >= 1000 else 0)))


def _changed(
    event: Event, pair: str, item: str, readings: tuple[int, ...], **change: object
) -> Event:
    return replace(
        event,
        answers=tuple(
            replace(a, **change)  # type: ignore[arg-type]  # a few known fields, checked by the tests
            if (a.pair, a.item) == (pair, item) and a.reading in readings
            else a
            for a in event.answers
        ),
    )


def _with_planted_trouble(event: Event) -> Event:
    blank: dict[str, object] = {"status": AnswerStatus.BLANK, "value": None}
    event = _changed(event, "P20", "C3", (1, 2), **blank)
    event = _changed(event, "P44", "B2", (1, 2), status=AnswerStatus.ILLEGIBLE, value=None)
    # A conflict nobody has resolved yet, and one a third person has.
    event = _changed(event, "P09", "C2", (1,), value=Decimal(2170))
    event = _changed(event, "P09", "C2", (2,), value=Decimal(2710))
    event = _changed(event, "P30", "B1", (1,), value=Decimal(671))
    event = _changed(event, "P30", "B1", (2,), value=Decimal(617))
    resolved = Adjudication(
        "P30",
        "B1",
        CLERKS[2],
        AnswerStatus.ANSWERED,
        Decimal(617),
        "",
        "the seven is crossed on the sheet",
    )
    return replace(event, adjudications=(resolved,))


def _with_planted_tie(event: Event) -> Event:
    """Give P15 the mirror image of P05's answers about each key: another answer, the same score."""
    keys = event_keys(event)
    cups = {cup.number: cup for cup in event.cups}
    own_cup = next(a.cup for a in event.answers if a.pair == "P15" and a.cup)
    for answer in [a for a in event.answers if a.pair == "P05" and a.reading == 1]:
        key, value = keys[answer.item].key, answer.value
        if key is None or value is None:
            continue
        if answer.cup:
            net = value - cups[answer.cup].tare_g
            mirrored, cup = 2 * key - net + cups[own_cup].tare_g, own_cup
        else:
            # The mirror image of a wild answer would be a wilder one: that one is shared as it is.
            near = key / 2 < value < 3 * key / 2
            mirrored, cup = (2 * key - value if near else value), ""
        event = _changed(event, "P15", answer.item, (1, 2), value=mirrored, cup=cup)
    return event
