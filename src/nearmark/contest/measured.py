"""What the readings of one item give: a count weighed or by hand, or the volume of a box."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from statistics import mean

from nearmark.contest.event import ContainerWeighing, Event, Item, Material, SamplesFrom, Side
from nearmark.errors import InputError, NearmarkError, ReadingsDisagree, TooFewReadings
from nearmark.kit import (
    AssignedValue,
    BoxOptions,
    CountOptions,
    Sample,
    box_volume,
    combined_count,
    count_by_weighing,
    hand_count,
    ruler_outlook,
)
from nearmark.kit.key_advice import RulerOutlook
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.station import Station


class Method(StrEnum):
    """How a value is found."""

    WEIGHING = "count by weighing"
    HAND = "count by hand"
    BOX = "box"
    BOTH = "both counts"


@dataclass(frozen=True, slots=True)
class NothingMeasured:
    """Nothing was weighed or counted yet."""


@dataclass(frozen=True, slots=True)
class ReadingsRefused:
    """Readings that bear no value."""

    method: Method
    refusal: str  # the words of the error


@dataclass(frozen=True, slots=True)
class KeyNotAboveZero:
    """A decided or measured key that no answer can be scored against."""

    key: Decimal  # unit of the item


@dataclass(frozen=True, slots=True)
class TargetIsFixed:
    """A key decided for an item whose target the rule set gives."""

    by: str
    value: Decimal  # g


KeyProblem = NothingMeasured | ReadingsRefused | KeyNotAboveZero | TargetIsFixed


@dataclass(frozen=True, slots=True)
class Measured:
    """A measured item."""

    assigned: AssignedValue | None  # ``None``: the readings bear no value
    problems: tuple[KeyProblem, ...] = ()  # what is missing, refused or contradicts itself
    # What the instrument at hand cannot reach; see ``_box_outlook``.
    outlook: RulerOutlook | None = None


def measured(event: Event, item: Item) -> Measured:
    """The assigned value of a container or a box.

    A refusal of the readings becomes a problem of the result, never an error.

    A count by hand serves where nothing was weighed, or where the weighings are refused; where both
    exist and agree, they are one value (``combined_count``).

    >>> from datetime import date
    >>> from nearmark.contest.event import HandCount
    >>> jar = Item("C1", Station.COUNT, "jar")
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8), items=(jar,),
    ...             hand_counts=(HandCount("C1", 412, "Rowan"), HandCount("C1", 412, "Sorrel")))
    >>> measured(day, jar).assigned.key
    Decimal('412')
    """
    return _box(event, item) if item.station is Station.VOLUME else _count(event, item)


def _count(event: Event, item: Item) -> Measured:
    """The weighed count, the count by hand, or the two in one where both exist and agree."""
    weighed, counted = _weighed(event, item), _counted(event, item)
    if weighed is None:
        return counted or Measured(None, (NothingMeasured(),))
    if counted is None:
        return weighed
    if weighed.assigned is None or counted.assigned is None:
        # One of the two was refused; the other serves, and the refusal stays in sight.
        problems = (*weighed.problems, *counted.problems)
        return Measured(weighed.assigned or counted.assigned, problems)
    try:
        return Measured(combined_count(weighed.assigned, counted.assigned))
    except ReadingsDisagree as refusal:
        return Measured(weighed.assigned, (ReadingsRefused(Method.BOTH, str(refusal)),))


def _weighed(event: Event, item: Item) -> Measured | None:
    """Count by weighing; ``None`` when no counted sample of the item was weighed."""
    samples = [s for s in event.samples if s.item == item.code]
    containers = [c for c in event.containers if c.item == item.code]
    if not samples:
        return None
    try:
        gross_g, tare_g = _full_and_empty(containers)
        scale = _instrument(event, (c.instrument for c in containers))
        assigned = count_by_weighing(
            [Sample(s.pieces, float(s.mass_g)) for s in samples],
            Reading(gross_g, scale),
            Reading(tare_g, scale),
            sample_scale=_instrument(event, (s.instrument for s in samples)),
            options=_count_options(event, item),
        )
    except NearmarkError as refusal:
        return Measured(None, (ReadingsRefused(Method.WEIGHING, str(refusal)),))
    return Measured(assigned)


def _full_and_empty(
    rows: Iterable[ContainerWeighing],
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Readings of the full and of the empty container, in g; both must be there."""
    rows = list(rows)
    gross_g = tuple(float(row.gross_g) for row in rows if row.gross_g is not None)
    tare_g = tuple(float(row.tare_g) for row in rows if row.tare_g is not None)
    missing = [name for name, read in (("full", gross_g), ("empty", tare_g)) if not read]
    if missing:
        mend = f"Weigh it {' and '.join(missing)}"
        raise TooFewReadings("container weighings", got=0, need=1, mend=mend)
    return gross_g, tare_g


def _counted(event: Event, item: Item) -> Measured | None:
    """Count by hand; ``None`` when nobody counted the item."""
    counts = [c for c in event.hand_counts if c.item == item.code]
    if not counts:
        return None
    try:
        assigned = hand_count(
            [c.pieces for c in counts],
            counters=[c.counter for c in counts],
            measurand=_measurand(item),
            u_limit=event.rules.u_limit_at(item.station),
        )
        return Measured(assigned)
    except NearmarkError as refusal:
        return Measured(None, (ReadingsRefused(Method.HAND, str(refusal)),))


def _measurand(item: Item) -> str:
    what = "number of pieces in" if item.station is Station.COUNT else f"{_which_volume(item)} of"
    return f"{what} {item.name} ({item.code})"


def _which_volume(item: Item) -> str:
    return {None: "volume", True: "inner volume", False: "outer volume"}[item.box.key_is_inner]


def _count_options(event: Event, item: Item) -> CountOptions:
    material = next((m for m in event.materials if m.code == item.material), Material("", ""))
    return CountOptions(
        measurand=_measurand(item),
        u_limit=event.rules.u_limit_at(item.station),
        piece_cv=None if material.piece_cv is None else float(material.piece_cv),
        moisture_u=float(material.moisture_u),
        samples_from=(item.samples_from or SamplesFrom.LOT).value,
        mixing_u=None if item.mixing_u is None else float(item.mixing_u),
        lot=item.material,
    )


def _box(event: Event, item: Item) -> Measured:
    try:
        length, width, height = (_side(event, item, side) for side in Side)
        coarsest = max(side.instrument.resolution_u for side in (length, width, height))
        options = BoxOptions(
            measurand=_measurand(item),
            u_limit=event.rules.u_limit_at(item.station),
            box=item.box,
            # One reading of the wall on the ruler of the sides: nothing better is known of it.
            wall_u_cm=coarsest if item.box.walls_cm else 0.0,
        )
        return Measured(box_volume(length, width, height, options=options))
    except NearmarkError as refusal:
        # What the ruler cannot reach is said at the first reading, not after the ninth.
        outlook = _box_outlook(event, item)
        return Measured(None, (ReadingsRefused(Method.BOX, str(refusal)),), outlook)


def _box_outlook(event: Event, item: Item) -> RulerOutlook | None:
    """What the ruler at hand cannot do for a box, from the edges read so far, and what would.

    ``None`` when it can, or when nothing was read with one ruler that the event describes.
    """
    rows = [row for row in event.box_readings if row.item == item.code and row.reading_cm > 0]
    names = {row.instrument for row in rows}
    ruler = next((one for one in event.instruments if names == {one.name}), None)
    if ruler is None or ruler.unit != "cm":
        return None
    edges = [[float(row.reading_cm) for row in rows if row.side is side] for side in Side]
    read_cm = [mean(edge) for edge in edges if edge]
    return ruler_outlook(read_cm, ruler, event.rules.u_limit_at(item.station))


def _side(event: Event, item: Item, side: Side) -> Reading:
    rows = [r for r in event.box_readings if r.item == item.code and r.side is side]
    if not rows:
        raise TooFewReadings(side.value, got=0, need=1, mend="Read it three times")
    ruler = _instrument(event, (r.instrument for r in rows))
    return Reading(tuple(float(r.reading_cm) for r in rows), ruler)


def _instrument(event: Event, names: Iterable[str]) -> Instrument:
    """The one instrument that made repeated readings of one quantity."""
    named = sorted(set(names))
    known = {i.name: i for i in event.instruments}
    if len(named) > 1:
        raise InputError(
            "one quantity was read on several instruments",
            where="instrument",
            value=", ".join(named),
            mend="Take all its readings on one instrument",
        )
    if named[0] not in known:
        raise InputError(
            "is not among the instruments",
            where="instrument",
            value=named[0],
            mend="Describe it in event.toml: unit and resolution",
        )
    return known[named[0]]
