"""The kit room: readings added and struck out, decisions on keys."""

from collections.abc import Collection, Mapping
from decimal import Decimal
from typing import Any, Final

from nearmark.contest.event import Event
from nearmark.contest.keys import event_keys
from nearmark.errors import RuleError
from nearmark.kit import percent_text
from nearmark.site.common import clock
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.answer_models import DecisionEntry
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import EventRecord, ItemRecord
from nearmark.site.event.reading_models import BoxRow, HandCountRow, KitRow, SampleRow, WeighingRow
from nearmark.site.event.reasons import need_reason, strike
from nearmark.site.kit.doubting import ask_first
from nearmark.site.kit.thing_actions import check_instrument
from nearmark.station import Station
from nearmark.words.next_step import faces_so_far

KINDS: Final[dict[str, type[KitRow]]] = {
    "empty": WeighingRow,
    "sample": SampleRow,
    "full": WeighingRow,
    "hand-count": HandCountRow,
    "edge": BoxRow,
}
"""Name in the address -> table."""


def add_reading(
    item_id: int, kind: str, values: Mapping[str, Any], *, by: str, kept: Collection[str] = ()
) -> KitRow:
    """Add one reading of an item, after asking about it.

    ``kind``: one of ``KINDS``. ``values`` (value by column): already checked one by one. ``kept``
    (ids of doubts): that the typist has answered: save it as it is.
    """
    with writing():
        event = open_event()
        item = known_item(event, item_id)
        if "instrument" in values:
            check_instrument(event, str(values["instrument"]))
        before = load_kit(event)
        row: KitRow = KINDS[kind].objects.create(item=item, at=clock.now(), by=by, **values)
        after = load_kit(event)
        why = ask_first(before, after, kept)
        old, new = (key_told(state, item.code) for state in (before, after))
        note(event, by, f"read {item.code}: {row}", old=old, new=new, why=why, item=item)
    return row


def state_faces(
    item_id: int, values: Mapping[str, Any], *, by: str, kept: Collection[str] = ()
) -> None:
    """Say for the first time between which faces a box is read; to change it takes a reason."""
    with writing():
        event = open_event()
        item = known_item(event, item_id)
        if item.station != Station.VOLUME.value or item.faces:
            raise RuleError(
                f"{item.code} has no open question about its faces",
                mend="Change it under What is known of it, with a reason",
            )
        before = load_kit(event)
        for column, value in values.items():
            setattr(item, column, value)
        item.save()
        after = load_kit(event)
        why = ask_first(before, after, kept)
        read = next(faces_so_far(each.box) for each in after.items if each.code == item.code)
        note(event, by, f"said of {item.code}: read {read}", why=why, item=item)


def strike_reading(kind: str, row_id: int, *, by: str, why: str) -> ItemRecord:
    """Strike a reading out; it stays in the history. ``kind``: one of ``KINDS``."""
    need_reason(why, "Say what was wrong with the reading")
    with writing():
        event = open_event()
        rows = KINDS[kind].objects.filter(pk=row_id, item__event=event, struck_at=None)
        row: KitRow | None = rows.first()
        if row is None:
            raise RuleError("this reading was struck out already, or is not of this event")
        code, before = row.item.code, load_kit(event)
        strike(row, by=by, why=why)
        row.save()
        old, new = (key_told(state, code) for state in (before, load_kit(event)))
        note(event, by, f"struck out {code}: {row}", old=old, new=new, why=why, item=row.item)
    return row.item


def decide(
    item_id: int,
    value: Decimal | None,
    *,
    by: str,
    why: str,
    withdraw: bool,
    kept: Collection[str] = (),
) -> None:
    """Decide on a key in spite of its uncertainty, or let the measurement decide again.

    ``value`` (unit of the item, or None): ``None``: the measured value. ``withdraw``: take the
    decision in force back. ``kept``: ids of doubts.
    """
    need_reason(why, "Say why the key may be used")
    with writing():
        event = open_event()
        item = known_item(event, item_id)
        before = load_kit(event)
        DecisionEntry.objects.create(
            event=event,
            item=item,
            value=value,
            by=by,
            reason=why,
            is_withdrawal=withdraw,
            at=clock.now(),
        )
        after = load_kit(event)
        why = f"{why} {ask_first(before, after, kept)}".rstrip()
        what = "took the decision back on" if withdraw else "decided on"
        old, new = (key_told(state, item.code) for state in (before, after))
        note(event, by, f"{what} the key of {item.code}", old=old, new=new, why=why, item=item)


def known_item(event: EventRecord, item_id: int) -> ItemRecord:
    """An item of the event."""
    return known_row(event.items, "item", "Choose it in the kit", pk=item_id)


def key_told(event: Event, code: str) -> str:
    """The key of an item as the history keeps it: value and how sure."""
    key = event_keys(event)[code]
    if key.key is None:
        return "no key"
    if key.borne_by is None:
        return f"key {key.key:f} {key.unit}"
    return f"key {key.key:f} {key.unit}, U {percent_text(key.borne_by.relative_expanded_u)}"
