"""The kit room: readings added and struck out, decisions on keys."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final

from nearmark.contest.keys import event_keys
from nearmark.errors import InputError, RuleError
from nearmark.kit import percent_text
from nearmark.site import clock
from nearmark.site.acts.events import open_event
from nearmark.site.acts.history import note
from nearmark.site.acts.kit_things import check_instrument
from nearmark.site.acts.reasons import need_reason, strike
from nearmark.site.event_store import load_kit
from nearmark.site.models import (
    BoxRow,
    DecisionEntry,
    EventRecord,
    HandCountRow,
    ItemRecord,
    KitRow,
    SampleRow,
    WeighingRow,
)
from nearmark.site.writing import writing

KINDS: Final[dict[str, type[KitRow]]] = {
    "empty": WeighingRow,
    "sample": SampleRow,
    "full": WeighingRow,
    "hand-count": HandCountRow,
    "edge": BoxRow,
}
"""Name in the address -> table."""


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
            check_instrument(event, str(values["instrument"]))
        before = key_told(event, item.code)
        row: KitRow = KINDS[kind].objects.create(item=item, at=clock.now(), by=by, **values)
        after = key_told(event, item.code)
        note(event, by, f"read {item.code}: {row}", old=before, new=after, item=item)
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
    need_reason(why, "Say what was wrong with the reading")
    with writing():
        event = open_event()
        rows = KINDS[kind].objects.filter(pk=row_id, item__event=event, struck_at=None)
        row: KitRow | None = rows.first()
        if row is None:
            raise RuleError("this reading was struck out already, or is not of this event")
        code, before = row.item.code, key_told(event, row.item.code)
        strike(row, by=by, why=why)
        row.save()
        after = key_told(event, code)
        note(event, by, f"struck out {code}: {row}", old=before, new=after, why=why, item=row.item)
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
    need_reason(why, "Say why the key may be used")
    with writing():
        event = open_event()
        item = known_item(event, item_id)
        before = key_told(event, item.code)
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
        after = key_told(event, item.code)
        what = f"{what} the key of {item.code}"
        note(event, by, what, old=before, new=after, why=why, item=item)


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


def key_told(event: EventRecord, code: str) -> str:
    """The key of an item as the history keeps it: value and how sure.

    Parameters
    ----------
    event : EventRecord
    code : str
        Of the item.
    """
    key = event_keys(load_kit(event))[code]
    if key.key is None:
        return "no key"
    if key.borne_by is None:
        return f"key {key.key:f} {key.unit}"
    return f"key {key.key:f} {key.unit}, U {percent_text(key.borne_by.relative_expanded_u)}"
