"""The things of the kit: added, changed with a reason, taken away while nothing needs them."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from django.db import models

from nearmark.errors import InputError, RuleError
from nearmark.kit.box_faces import BoxFaces
from nearmark.kit.never import refuse_forbidden_material
from nearmark.measurement.instruments import Instrument
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.answer_models import AnswerEntry, DecisionEntry
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import (
    CupRecord,
    EventRecord,
    InstrumentRecord,
    ItemRecord,
    MaterialRecord,
)
from nearmark.site.event.reading_models import BoxRow, HandCountRow, SampleRow, WeighingRow
from nearmark.site.event.reasons import need_reason
from nearmark.site.event.rows import record_of
from nearmark.site.kit.doubting import ask_first
from nearmark.site.kit.models import PourRow, VesselRecord
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class Thing:
    """One kind of thing."""

    table: type[models.Model]
    name: str  # column that names it
    word: str  # in the history and in refusals


THINGS: Final = {
    "item": Thing(ItemRecord, "code", "item"),
    "scale": Thing(InstrumentRecord, "name", "instrument"),
    "cup": Thing(CupRecord, "number", "cup"),
    "material": Thing(MaterialRecord, "code", "material"),
    "vessel": Thing(VesselRecord, "code", "vessel"),
}
"""Name in the address -> table."""


_SAY_WHY: Final = "Say why, in a few words"


def add_thing(kind: str, values: Mapping[str, Any], *, by: str, kept: Collection[str] = ()) -> Any:
    """Add one thing, after asking about it.

    ``kind``: one of ``THINGS``. ``values`` (value by column): already checked one by one. ``kept``
    (ids of doubts): that were answered: save it as it is.
    """
    with writing():
        event = open_event()
        before = load_kit(event)
        row = _made(event, kind, values)
        why = ask_first(before, load_kit(event), kept)
        what = f"added {THINGS[kind].word} {row}"
        note(event, by, what, new=_described(values), why=why, item=_item(row))
    return row


def add_cups(
    cups: Iterable[tuple[str, Decimal]],
    *,
    instrument: str,
    batch: str,
    by: str,
    kept: Collection[str] = (),
) -> int:
    """Add many cups, all or none, after asking about them.

    ``cups``: (number, tare in g). ``instrument``: name of the scale. ``batch``: what they have in
    common; empty when each is alone. ``kept``: ids of doubts. Returns how many were added.
    """
    with writing():
        event = open_event()
        before = load_kit(event)
        added = [
            _made(
                event,
                "cup",
                {"number": number, "tare_g": tare, "instrument": instrument, "batch": batch},
            )
            for number, tare in cups
        ]
        named = ", ".join(f"{cup.number}: {cup.tare_g} g" for cup in added)
        of = f" of batch {batch}" if batch else ""
        why = ask_first(before, load_kit(event), kept)
        note(event, by, f"added {len(added)} cups{of}", new=named, why=why)
    return len(added)


def change_thing(
    kind: str,
    row_id: int,
    values: Mapping[str, Any],
    *,
    by: str,
    why: str,
    kept: Collection[str] = (),
) -> Any:
    """Change what is known of a thing, after asking about it; the history keeps what stood there.

    ``kind``: one of ``THINGS``. ``values``: value by column. ``kept``: ids of doubts.
    """
    need_reason(why, _SAY_WHY)
    with writing():
        event = open_event()
        before = load_kit(event)
        row = known_thing(event, kind, row_id)
        old = {name: getattr(row, name) for name in values}
        new = {name: value for name, value in values.items() if value != old[name]}
        if not new:
            raise InputError("is what is there already", where="change", mend="Change a field")
        _check(event, kind, {**old, **new}, but=row_id)
        for name, value in new.items():
            setattr(row, name, value)
        row.save()
        why = f"{why} {ask_first(before, load_kit(event), kept)}".rstrip()
        note(
            event,
            by,
            f"changed {THINGS[kind].word} {row}",
            old=_described({name: old[name] for name in new}, empty="none"),
            new=_described(new, empty="none"),
            why=why,
            item=_item(row),
        )
    return row


def remove_thing(kind: str, row_id: int, *, by: str, why: str) -> str:
    """Take a thing away that nothing refers to, and say what it was called."""
    need_reason(why, _SAY_WHY)
    with writing():
        event = open_event()
        row = known_thing(event, kind, row_id)
        user = _who_needs(event, kind, row)
        called = str(row)
        if user:
            raise RuleError(f"{called} is needed by {user}", mend="Change it instead")
        name = THINGS[kind].name
        columns = {f.name: getattr(row, f.name) for f in row._meta.concrete_fields}  # noqa: SLF001
        old = _described({k: v for k, v in columns.items() if k not in {"id", "event", name}})
        note(event, by, f"took away {THINGS[kind].word} {called}", old=old, why=why)
        row.delete()
    return called


def _made(event: EventRecord, kind: str, values: Mapping[str, Any]) -> Any:
    _check(event, kind, values)
    return THINGS[kind].table._default_manager.create(event=event, **values)  # noqa: SLF001


def known_thing(event: EventRecord, kind: str, row_id: int) -> Any:
    """A thing of the event, of one of the kinds in ``THINGS``."""
    thing = THINGS[kind]
    rows = thing.table._default_manager.filter(event=event)  # noqa: SLF001
    return known_row(rows, thing.word, "Choose it again", pk=row_id)


def _check(
    event: EventRecord, kind: str, values: Mapping[str, Any], *, but: int | None = None
) -> None:
    """Nothing is called as another; what it refers to is there; it makes sense as a whole."""
    thing = THINGS[kind]
    name = values.get(thing.name)
    same = thing.table._default_manager.filter(event=event, **{thing.name: name})  # noqa: SLF001
    if name is not None and same.exclude(pk=but).exists():
        raise InputError("is taken", where=thing.name, value=name, mend="Choose another one")
    check = _CHECKS.get(kind)
    if check:
        check(event, values)


def _check_item(event: EventRecord, values: Mapping[str, Any]) -> None:
    material = values.get("material")
    if material and not event.materials.filter(code=material).exists():
        raise InputError("is not known", where="material", value=material)
    record_of(BoxFaces, ItemRecord(**values)).check_wall()


def _check_cup(event: EventRecord, values: Mapping[str, Any]) -> None:
    check_instrument(event, str(values.get("instrument", "")))


def _check_scale(_event: EventRecord, values: Mapping[str, Any]) -> None:
    stated = {"gain_u", "linearity_u", "zero_u", "capacity"}
    known = {k: v for k, v in values.items() if k in stated and v}
    Instrument(values.get("name", "it"), values.get("unit", "g"), values["resolution"], **known)


def _check_material(_event: EventRecord, values: Mapping[str, Any]) -> None:
    refuse_forbidden_material(values.get("code", ""), values.get("name", ""))


_CHECKS: Final = {
    "item": _check_item,
    "cup": _check_cup,
    "scale": _check_scale,
    "material": _check_material,
}


def check_instrument(event: EventRecord, name: str) -> None:
    """Refuse a scale or ruler that the event does not have."""
    if not event.instruments.filter(name=name).exists():
        raise InputError("is not known", where="instrument", value=name, mend="Add it in the kit")


def _who_needs(event: EventRecord, kind: str, row: Any) -> str:
    """What refers to a thing, in words; empty when nothing does."""
    readings = (SampleRow, WeighingRow, BoxRow)
    if kind == "item":
        tables = (*readings, HandCountRow, AnswerEntry, DecisionEntry, PourRow)
        n = sum(table.objects.filter(item=row).count() for table in tables)
        return f"{n} readings, plans, decisions and answers, struck ones too" if n else ""
    if kind == "scale":
        n = sum(t.objects.filter(item__event=event, instrument=row.name).count() for t in readings)
        n += event.cups.filter(instrument=row.name).count()
        n += AnswerEntry.objects.filter(pair__event=event, scale=row.name).count()
        return f"{n} readings" if n else ""
    if kind == "cup":
        n = AnswerEntry.objects.filter(pair__event=event, cup=row.number).count()
        return f"{n} weighings of pairs" if n else ""
    if kind == "material":
        return ", ".join(event.items.filter(material=row.code).values_list("code", flat=True))
    return ""


def _item(row: object) -> ItemRecord | None:
    return row if isinstance(row, ItemRecord) else None


def _described(values: Mapping[str, Any], *, empty: str = "") -> str:
    """Columns in words, for the history."""
    shown = ((name.replace("_", " "), _shown(value) or empty) for name, value in values.items())
    return ", ".join(f"{name} {value}" for name, value in shown if value)


def _shown(value: object) -> str:
    if value is None or value == []:
        return ""
    if isinstance(value, list):
        return "; ".join(map(str, value))
    if isinstance(value, Station):
        return value.value
    return f"{value:g}" if isinstance(value, float) else str(value)
