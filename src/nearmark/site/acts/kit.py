"""The kit room: things to measure, readings added and struck out, decisions on keys."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final

from nearmark.contest.rules import Station
from nearmark.errors import InputError, RuleError
from nearmark.measurement.instruments import Instrument
from nearmark.site import clock
from nearmark.site.acts.events import open_event
from nearmark.site.acts.history import note
from nearmark.site.models import (
    BoxRow,
    CupRecord,
    DecisionEntry,
    EventRecord,
    HandCountRow,
    InstrumentRecord,
    ItemRecord,
    KitRow,
    SampleRow,
    WeighingRow,
)
from nearmark.site.writing import writing

KINDS: Final[dict[str, type[KitRow]]] = {
    "sample": SampleRow,
    "weighing": WeighingRow,
    "hand-count": HandCountRow,
    "edge": BoxRow,
}
"""Name in the address -> table."""


def add_item(code: str, station: Station, name: str, material: str, *, by: str) -> ItemRecord:
    """Add one thing to estimate.

    Parameters
    ----------
    code, name : str
    station : Station
    material : str
        Its code; empty for a box.
    by : str

    Raises
    ------
    InputError, RuleError
    """
    with writing():
        event = open_event()
        _refuse_taken(event.items.filter(code=code).exists(), "code", code)
        if material and not event.materials.filter(code=material).exists():
            raise InputError("is not known", where="material", value=material)
        item = ItemRecord.objects.create(
            event=event, code=code, station=station.value, name=name, material=material
        )
        note(event, by, f"added item {code}", new=name)
    return item


def add_instrument(instrument: Instrument, *, by: str) -> None:
    """Add a scale or a ruler.

    Parameters
    ----------
    instrument : Instrument
    by : str

    Raises
    ------
    InputError, RuleError
    """
    with writing():
        event = open_event()
        name = instrument.name
        _refuse_taken(event.instruments.filter(name=name).exists(), "name", name)
        InstrumentRecord.objects.create(
            event=event,
            name=name,
            unit=instrument.unit,
            resolution=instrument.resolution,
            gain_u=instrument.gain_u,
        )
        note(event, by, f"added {name}", new=f"{instrument.resolution:g} {instrument.unit}")


def add_cup(number: str, tare_g: Decimal, instrument: str, *, by: str) -> None:
    """Add a numbered cup with its tare.

    Parameters
    ----------
    number : str
    tare_g : g
    instrument : str
        Name of the scale.
    by : str

    Raises
    ------
    InputError, RuleError
    """
    with writing():
        event = open_event()
        _refuse_taken(event.cups.filter(number=number).exists(), "cup number", number)
        _check_instrument(event, instrument)
        CupRecord.objects.create(event=event, number=number, tare_g=tare_g, instrument=instrument)
        note(event, by, f"added cup {number}", new=f"tare {tare_g} g")


def add_reading(item_id: int, kind: str, values: Mapping[str, Any], *, by: str) -> KitRow:
    """Add one reading of an item.

    Parameters
    ----------
    item_id : int
    kind : str
        One of ``KINDS``.
    values : mapping of column -> value
        Already checked one by one.
    by : str

    Raises
    ------
    InputError, RuleError
    """
    with writing():
        event = open_event()
        item = known_item(event, item_id)
        if "instrument" in values:
            _check_instrument(event, str(values["instrument"]))
        row: KitRow = KINDS[kind].objects.create(item=item, at=clock.now(), by=by, **values)
        note(event, by, f"added a reading of {item.code}", new=str(row))
    return row


def strike_reading(kind: str, row_id: int, *, by: str, why: str) -> ItemRecord:
    """Strike a reading out; it stays in the history.

    Parameters
    ----------
    kind : str
        One of ``KINDS``.
    row_id : int
    by, why : str

    Raises
    ------
    InputError, RuleError
    """
    if not why:
        raise InputError("is needed", where="reason", mend="Say what was wrong with the reading")
    with writing():
        event = open_event()
        rows = KINDS[kind].objects.filter(pk=row_id, item__event=event, struck_at=None)
        row: KitRow | None = rows.first()
        if row is None:
            raise RuleError("this reading was struck out already, or is not of this event")
        row.struck_at, row.struck_by, row.struck_why = clock.now(), by, why
        row.save()
        note(event, by, f"struck out a reading of {row.item.code}", old=str(row), why=why)
    return row.item


def decide(item_id: int, value: Decimal | None, *, by: str, why: str, withdraw: bool) -> None:
    """Decide on a key in spite of its uncertainty, or let the measurement decide again.

    Parameters
    ----------
    item_id : int
    value : unit of the item, or None
        ``None``: the measured value.
    by, why : str
    withdraw : bool
        Take the decision in force back.

    Raises
    ------
    InputError, RuleError
    """
    if not why:
        raise InputError("is needed", where="reason", mend="Say why the key may be used")
    with writing():
        event = open_event()
        item = known_item(event, item_id)
        DecisionEntry.objects.create(
            event=event,
            item=item,
            value=value,
            by=by,
            reason=why,
            is_withdrawal=withdraw,
            at=clock.now(),
        )
        what = "took the decision back on" if withdraw else "decided on"
        new = "" if value is None else f"{value:f}"
        note(event, by, f"{what} the key of {item.code}", new=new, why=why)


def known_item(event: EventRecord, item_id: int) -> ItemRecord:
    """An item of the event.

    Parameters
    ----------
    event : EventRecord
    item_id : int

    Raises
    ------
    InputError
    """
    item = event.items.filter(pk=item_id).first()
    if item is None:
        raise InputError("is not known", where="item", value=item_id, mend="Choose it in the kit")
    return item


def _refuse_taken(taken: bool, where: str, value: str) -> None:  # noqa: FBT001 - reads well
    if taken:
        raise InputError("is taken", where=where, value=value, mend="Choose another one")


def _check_instrument(event: EventRecord, name: str) -> None:
    if not event.instruments.filter(name=name).exists():
        raise InputError("is not known", where="instrument", value=name, mend="Add it in the kit")
