"""The rows of an event, written in bulk."""

import uuid
from datetime import datetime

from nearmark.contest.event import Event
from nearmark.site.event.answer_models import (
    AdjudicationEntry,
    AnswerEntry,
    AuditEntry,
    ClosedPoint,
    DecisionEntry,
)
from nearmark.site.event.models import (
    CupRecord,
    DivisionRecord,
    EventRecord,
    HeatWishRecord,
    InstrumentRecord,
    ItemRecord,
    MaterialRecord,
    PairRecord,
    RoomRecord,
)
from nearmark.site.event.reading_models import BoxRow, HandCountRow, SampleRow, WeighingRow
from nearmark.site.event.rows import row_of


def save_rows(record: EventRecord, event: Event, *, by: str, now: datetime) -> None:
    """Write all that belongs to an event record without rows, brought by somebody."""
    _save_names(record, event)
    items = {item.code: item for item in record.items.all()}
    pairs = {pair.code: pair for pair in record.pairs.all()}
    _save_kit(event, items, by=by, now=now)
    _save_ledger(record, event, items, pairs, now)


def _save_names(record: EventRecord, event: Event) -> None:
    for model, things in (
        (InstrumentRecord, event.instruments),
        (MaterialRecord, event.materials),
        (DivisionRecord, event.divisions),
        (RoomRecord, event.rooms),
        (HeatWishRecord, event.heat_wishes),
        (ItemRecord, event.items),
        (CupRecord, event.cups),
        (PairRecord, event.pairs),
    ):
        model.objects.bulk_create(row_of(model, thing, event=record) for thing in things)


def _save_kit(event: Event, items: dict[str, ItemRecord], *, by: str, now: datetime) -> None:
    for model, readings in (
        (SampleRow, event.samples),
        (WeighingRow, event.containers),
        (HandCountRow, event.hand_counts),
        (BoxRow, event.box_readings),
    ):
        model.objects.bulk_create(
            row_of(model, reading, item=items[reading.item], at=now, by=by) for reading in readings
        )


def _save_ledger(
    record: EventRecord,
    event: Event,
    items: dict[str, ItemRecord],
    pairs: dict[str, PairRecord],
    now: datetime,
) -> None:
    AnswerEntry.objects.bulk_create(
        row_of(AnswerEntry, a, key=uuid.uuid4(), pair=pairs[a.pair], item=items[a.item], at=now)
        for a in event.answers
    )
    for model, papers in (
        (AdjudicationEntry, event.adjudications),
        (AuditEntry, event.audit_readings),
    ):
        model.objects.bulk_create(
            row_of(model, a, pair=pairs[a.pair], item=items[a.item], at=now) for a in papers
        )
    DecisionEntry.objects.bulk_create(
        row_of(DecisionEntry, d, event=record, item=items[d.item], at=now)
        for d in event.key_decisions
    )
    ClosedPoint.objects.bulk_create(
        row_of(ClosedPoint, c, event=record, at=now) for c in event.closings
    )
