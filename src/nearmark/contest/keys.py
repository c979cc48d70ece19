"""The key of every item of an event, from what was weighed, counted and measured."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from nearmark.contest.event import Event, Item, KeyDecision, Material, Side
from nearmark.contest.rules import Station
from nearmark.errors import InputError, NearmarkError, TooFewReadings
from nearmark.kit import (
    AssignedValue,
    BoxOptions,
    CountOptions,
    Sample,
    agreement,
    box_volume,
    count_by_weighing,
    hand_count,
)
from nearmark.measurement.instruments import Instrument, Reading

UNITS = {Station.MASS: "g", Station.COUNT: "pieces", Station.VOLUME: "cm3"}


@dataclass(frozen=True, slots=True)
class ItemKey:
    """What the answers on one item are scored against.

    Attributes
    ----------
    item : Item
    assigned : AssignedValue or None
        What the readings give; ``None`` for a target mass, or when they give nothing.
    key : unit of the item, or None
        ``None``: the item cannot be scored.
    u : unit of the item
        Standard uncertainty of the key; 0 for a target, which is exact.
    dof : dimensionless
    fit : bool
        Whether the readings bear the key within the rule set's limit.
    decision : KeyDecision or None
        The lead's decision, if there is one.
    problem : str
        What is wrong or missing; empty when nothing is.
    """

    item: Item
    assigned: AssignedValue | None
    key: Decimal | None
    u: float
    dof: float
    fit: bool
    decision: KeyDecision | None = None
    problem: str = ""

    @property
    def unit(self) -> str:
        """``g``, ``pieces`` or ``cm3``."""
        return UNITS[self.item.station]


def event_keys(event: Event) -> dict[str, ItemKey]:
    """The key of every item, in the order of the items.

    Parameters
    ----------
    event : Event

    Returns
    -------
    dict item code -> ItemKey
        Readings that cannot bear a key give an ``ItemKey`` with a problem, never an error.

    Examples
    --------
    >>> from datetime import date
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8),
    ...             items=(Item("M1", Station.MASS, "scoop of lentils"),))
    >>> event_keys(day)["M1"].key
    Decimal('100')
    """
    decisions = {decision.item: decision for decision in event.key_decisions}
    return {item.code: _item_key(event, item, decisions.get(item.code)) for item in event.items}


def key_as_json(key: ItemKey) -> dict[str, object]:
    """The stable keys of one item in JSON.

    Parameters
    ----------
    key : ItemKey

    Returns
    -------
    dict
        ``item``, ``station``, ``name``, ``unit``, ``key``, ``standard_uncertainty``, ``fit``,
        ``decision``, ``problem``, ``assigned_value``.

    Examples
    --------
    >>> scoop = Item("M1", Station.MASS, "scoop")
    >>> told = key_as_json(ItemKey(scoop, None, Decimal(100), 0, 9, fit=True))
    >>> told["unit"], told["key"]
    ('g', 100)
    """
    decision = key.decision
    return {
        "item": key.item.code,
        "station": key.item.station.value,
        "name": key.item.name,
        "unit": key.unit,
        "key": None if key.key is None else _number(key.key),
        "standard_uncertainty": key.u,
        "fit": key.fit,
        "decision": None
        if decision is None
        else {
            "value": None if decision.value is None else _number(decision.value),
            "by": decision.by,
            "reason": decision.reason,
        },
        "problem": key.problem,
        "assigned_value": None if key.assigned is None else key.assigned.as_json(),
    }


def _number(value: Decimal) -> int | float:
    return int(value) if value == value.to_integral_value() else float(value)


def _item_key(event: Event, item: Item, decision: KeyDecision | None) -> ItemKey:
    if item.station is Station.MASS:
        target = event.rules.target_mass_g
        exact = Decimal(target.numerator) / Decimal(target.denominator)
        return ItemKey(item, None, exact, 0.0, math.inf, fit=True, decision=decision)
    try:
        assigned, problem = _measured(event, item)
    except NearmarkError as refusal:
        decided = decision.value if decision else None
        return ItemKey(
            item, None, decided, 0.0, math.inf, fit=False, decision=decision, problem=str(refusal)
        )
    value = assigned.key if decision is None or decision.value is None else decision.value
    fit = assigned.fit and value == assigned.key and not problem
    if value <= 0:
        value, problem = None, "the key must be above zero: check the readings"
    return ItemKey(item, assigned, value, assigned.u, assigned.budget.dof, fit, decision, problem)


def _measured(event: Event, item: Item) -> tuple[AssignedValue, str]:
    """The assigned value, and what contradicts it."""
    if item.station is Station.VOLUME:
        return _measured_box(event, item), ""
    weighed = _weighed(event, item)
    counts = [c.pieces for c in event.hand_counts if c.item == item.code]
    if not counts:
        if weighed is None:
            raise TooFewReadings(
                f"{item.code}, {item.name}",
                got=0,
                need=2,
                mend="Weigh counted samples and the container, or count all pieces by hand",
            )
        return weighed, ""
    counted = hand_count(counts, measurand=_measurand(item), u_limit=event.rules.u_limit)
    if weighed is None:
        return counted, ""
    check = agreement(weighed, counted)
    return weighed, "" if check.agrees else check.words


def _measurand(item: Item) -> str:
    what = "number of pieces" if item.station is Station.COUNT else "volume"
    return f"{what} in {item.name} ({item.code})"


def _weighed(event: Event, item: Item) -> AssignedValue | None:
    """Count by weighing, if anything of the item was weighed."""
    samples = [s for s in event.samples if s.item == item.code]
    containers = [c for c in event.containers if c.item == item.code]
    if not samples and not containers:
        return None
    if not containers:
        raise TooFewReadings(
            f"{item.code}, container weighings", got=0, need=1, mend="Weigh it full and empty"
        )
    scale = _instrument(event, item, (c.instrument for c in containers))
    sample_scale = _instrument(event, item, (s.instrument for s in samples)) if samples else scale
    return count_by_weighing(
        [Sample(s.pieces, float(s.mass_g)) for s in samples],
        Reading(tuple(float(c.gross_g) for c in containers), scale),
        Reading(tuple(float(c.tare_g) for c in containers), scale),
        sample_scale=sample_scale,
        options=_count_options(event, item),
    )


def _count_options(event: Event, item: Item) -> CountOptions:
    material = next((m for m in event.materials if m.code == item.material), Material("", ""))
    return CountOptions(
        measurand=_measurand(item),
        u_limit=event.rules.u_limit,
        piece_cv=None if material.piece_cv is None else float(material.piece_cv),
        moisture_u=float(material.moisture_u),
    )


def _measured_box(event: Event, item: Item) -> AssignedValue:
    sides = []
    for side in Side:
        rows = [r for r in event.box_readings if r.item == item.code and r.side is side]
        if not rows:
            raise TooFewReadings(
                f"{item.code}, {side.value}", got=0, need=1, mend="Read it three times"
            )
        ruler = _instrument(event, item, (r.instrument for r in rows))
        sides.append(Reading(tuple(float(r.reading_cm) for r in rows), ruler))
    options = BoxOptions(measurand=_measurand(item), u_limit=event.rules.u_limit)
    return box_volume(sides[0], sides[1], sides[2], options=options)


def _instrument(event: Event, item: Item, names: Iterable[str]) -> Instrument:
    """The one instrument that made repeated readings of one quantity."""
    named = sorted(set(names))
    known = {i.name: i for i in event.instruments}
    if len(named) > 1:
        raise InputError(
            "one quantity was read on several instruments",
            where=item.code,
            value=", ".join(named),
            mend="Take all its readings on one instrument",
        )
    if named[0] not in known:
        raise InputError(
            "is not among the instruments",
            where=item.code,
            value=named[0],
            mend="Describe it in event.toml: unit and resolution",
        )
    return known[named[0]]
