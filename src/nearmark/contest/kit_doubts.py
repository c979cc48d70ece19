"""Doubts about the kit: samples, containers, counts by hand, boxes, cups, decided keys."""

import math
from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from nearmark.contest.doubt import Doubt, DoubtKind, doubt_id
from nearmark.contest.event import CountedSample, Cup, Event, Item, Material, Side
from nearmark.contest.measured import measured
from nearmark.contest.odd_records import (
    CountsDiffer,
    KeyFarFromMeasured,
    Odd,
    SpreadOfMaterial,
    WallTakenOffInside,
)
from nearmark.kit.odd_records import DishLeftOn
from nearmark.kit.odd_samples import MAX_COMPARED, TypedSample, odd_samples
from nearmark.kit.odd_spread import odd_spread
from nearmark.kit.odd_things import odd_box, odd_container, odd_cups, odd_edges
from nearmark.kit.usual import usual_piece
from nearmark.measurement.slips import slip_between
from nearmark.station import Station

DEFAULT_STEP: Final = {"g": 0.1, "cm": 0.1}
"""Taken for an instrument that nobody has described."""

SIZES: Final = (Decimal("1e-6"), Decimal("1e9"))
"""Grams, centimetres, pieces: far beyond anything that is weighed or measured."""

COUNTS_DIFFER: Final = 0.02
"""Two careful counts of one container differ by less (common practice, no source)."""

KEY_DIFFERS: Final = 0.02
"""A decided key that is off by less than this share, or than twice U, is no slip."""


def kit_doubts(event: Event) -> Iterator[Doubt]:
    """Doubts about what was weighed, counted and measured, and about decided keys.

    By item, then by cup.

    >>> from datetime import date
    >>> list(kit_doubts(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    []
    """
    for item in event.items:
        if item.station is Station.COUNT:
            yield from _sample_doubts(event, item)
            yield from _container_doubts(event, item)
            yield from _hand_count_doubts(event, item)
        elif item.station is Station.VOLUME:
            yield from _box_doubts(event, item)
        yield from _key_doubts(event, item)
    for used in event.materials:
        yield from _spread_doubts(event, used)
    yield from _cup_doubts(event)


def _step(event: Event, name: str, unit: str) -> float:
    known = next((one for one in event.instruments if one.name == name), None)
    return known.resolution if known else DEFAULT_STEP[unit]


def _is_size(value: Decimal | int) -> bool:
    """Whether a reading may be one at all; what is impossible is refused elsewhere, not doubted."""
    return Decimal(value).is_finite() and SIZES[0] <= value <= SIZES[1]


def _of_item(kind: DoubtKind, item: Item, odd: Odd, *values: object) -> Doubt:
    id_ = doubt_id(kind, item.code, *values)
    return Doubt(id_, kind, item.code, "", "", odd)


def _sample_doubts(event: Event, item: Item) -> Iterator[Doubt]:
    typed = _typed_samples(event, item)
    if not typed:
        return
    elsewhere = [s for s in event.samples if s.item != item.code]
    usual = usual_piece(item.material, _weighed_before(event, item))
    odd = odd_samples(
        typed,
        usual,
        sizes=sorted({s.pieces for s in elsewhere if _is_size(s.pieces)}),
        dishes=_dishes(event, item),
    )
    for sample, found in zip(typed, odd, strict=True):
        if found is not None:
            yield _of_item(DoubtKind.SAMPLE, item, found, sample.pieces, sample.mass_g)


def _spread_doubts(event: Event, used: Material) -> Iterator[Doubt]:
    """A typed spread of the pieces, beside the samples and the catalogue."""
    if used.piece_cv is None or used.piece_cv <= 0:
        return
    known = usual_piece(used.code)
    piece_cv, catalogued = float(used.piece_cv), known.piece_cv if known else None
    for item in event.items:
        if item.material == used.code and item.station is Station.COUNT:
            odd = odd_spread(_sound_samples(event, item), piece_cv, None)
            if odd is not None:
                yield _of_item(DoubtKind.SPREAD, item, odd, used.code, used.piece_cv)
                return
    odd = odd_spread((), piece_cv, catalogued)
    if odd is not None:
        id_ = doubt_id(DoubtKind.SPREAD, used.code, used.piece_cv)
        yield Doubt(id_, DoubtKind.SPREAD, "", "", "", SpreadOfMaterial(used.name, odd))


def _typed_samples(event: Event, item: Item) -> list[TypedSample]:
    return [
        TypedSample(s.pieces, s.mass_g, _step(event, s.instrument, "g"))
        for s in event.samples
        if s.item == item.code and _is_size(s.mass_g) and _is_size(s.pieces)
    ]


def _sound_samples(event: Event, item: Item) -> list[TypedSample]:
    """Those that agree with each other: a slip says nothing of the spread."""
    typed = _typed_samples(event, item)
    odd = odd_samples(typed, None)
    return [sample for sample, found in zip(typed, odd, strict=True) if found is None]


def _weighed_before(event: Event, item: Item) -> list[tuple[str, float]]:
    """Mass of a piece in the items of the same material that were weighed earlier."""
    alike = {o.code for o in event.items if item.material and o.material == item.material}
    before: dict[str, list[CountedSample]] = defaultdict(list)
    for sample in event.samples:
        if sample.item == item.code:
            break
        if sample.item in alike and _is_size(sample.mass_g) and _is_size(sample.pieces):
            before[sample.item].append(sample)
    return [
        (code, float(sum(row.mass_g for row in rows)) / sum(row.pieces for row in rows))
        for code, rows in before.items()
    ]


def _dishes(event: Event, item: Item) -> list[DishLeftOn]:
    """What may have been left on the scale: the container of the item, a cup."""
    empty = [
        DishLeftOn("", row.tare_g)
        for row in event.containers
        if row.item == item.code and row.tare_g
    ]
    cups = {cup.tare_g: cup.number for cup in reversed(event.cups)}
    return [*empty, *(DishLeftOn(cup, tare_g) for tare_g, cup in cups.items())][:MAX_COMPARED]


def _container_doubts(event: Event, item: Item) -> Iterator[Doubt]:
    rows = [row for row in event.containers if row.item == item.code]
    if not rows:
        return
    odd = odd_container(
        [row.gross_g for row in rows if row.gross_g is not None and _is_size(row.gross_g)],
        [row.tare_g for row in rows if row.tare_g is not None and _is_size(row.tare_g)],
        _step(event, rows[0].instrument, "g"),
    )
    for reading, found in odd.items():
        yield _of_item(DoubtKind.CONTAINER, item, found, reading)


def _hand_count_doubts(event: Event, item: Item) -> Iterator[Doubt]:
    counts = [count for count in event.hand_counts if count.item == item.code]
    for count in counts[1:]:
        first = counts[0].pieces
        if not (_is_size(first) and _is_size(count.pieces)):
            continue
        off = abs(math.log(count.pieces / first))
        if off > max(COUNTS_DIFFER, 1.5 / first):
            meant = slip_between(Decimal(count.pieces), Decimal(first))
            odd = CountsDiffer(count.pieces, first, counts[0].counter, meant)
            yield _of_item(DoubtKind.HAND_COUNT, item, odd, first, count.pieces)


def _box_doubts(event: Event, item: Item) -> Iterator[Doubt]:
    rows = [row for row in event.box_readings if row.item == item.code and _is_size(row.reading_cm)]
    read: dict[str, list[Decimal]] = defaultdict(list)
    for row in rows:
        read[row.side.value].append(row.reading_cm)
    wall = item.box.misplaced_wall
    if wall and item.box.is_inside:
        yield _of_item(DoubtKind.FACES, item, WallTakenOffInside(item.box), wall)
    if not rows:
        return
    step = _step(event, rows[0].instrument, "cm")
    odd = odd_edges(read, step, item.box)
    for (side, reading), found in odd.items():
        yield _of_item(DoubtKind.EDGE, item, found, side, reading)
    sound = {
        side: next((r for r in readings if (side, r) not in odd), None)
        for side, readings in read.items()
    }
    whole = {side: reading for side, reading in sound.items() if reading is not None}
    if len(whole) == len(Side):
        box = odd_box(whole)
        if box is not None:
            values = (f"{whole[side.value]:f}" for side in Side)
            yield _of_item(DoubtKind.BOX, item, box, "x".join(values))


def _key_doubts(event: Event, item: Item) -> Iterator[Doubt]:
    """A decided key far from the measured one."""
    decision = next((d for d in event.key_decisions if d.item == item.code), None)
    if decision is None or decision.value is None or decision.value <= 0:
        return
    if item.station is Station.MASS:
        return
    assigned = measured(event, item).assigned
    if assigned is None or assigned.key <= 0:
        return
    off = float(decision.value / assigned.key) - 1
    if abs(off) <= max(KEY_DIFFERS, 2 * assigned.relative_expanded_u):
        return
    meant = slip_between(decision.value, assigned.key)
    odd = KeyFarFromMeasured(decision.value, assigned.key, meant)
    yield _of_item(DoubtKind.KEY, item, odd, decision.value, assigned.key)


def _cup_doubts(event: Event) -> Iterator[Doubt]:
    sound = [cup for cup in event.cups if _is_size(cup.tare_g)]
    batches: dict[str, list[Cup]] = defaultdict(list)
    for cup in sound:
        if cup.batch:
            batches[cup.batch].append(cup)
    alone = ([cup] for cup in sound if not cup.batch)
    for cups in (*batches.values(), *alone):
        step = _step(event, cups[0].instrument, "g")
        for cup, odd in zip(cups, odd_cups([c.tare_g for c in cups], step), strict=True):
            if odd is not None:
                id_ = doubt_id(DoubtKind.CUP, cup.number, cup.tare_g)
                yield Doubt(id_, DoubtKind.CUP, "", "", cup.number, odd)
