"""The rows of an event, written in bulk."""

import math
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
    EventRecord,
    InstrumentRecord,
    ItemRecord,
    MaterialRecord,
    PairRecord,
)
from nearmark.site.event.reading_models import BoxRow, HandCountRow, SampleRow, WeighingRow


def save_rows(record: EventRecord, event: Event, *, by: str, now: datetime) -> None:
    """Write everything that belongs to an event record.

    Parameters
    ----------
    record : EventRecord
        Without rows so far.
    by : str
        Who brought it.
    """
    _save_names(record, event)
    items = {item.code: item for item in record.items.all()}
    pairs = {pair.code: pair for pair in record.pairs.all()}
    _save_kit(event, items, by=by, now=now)
    _save_ledger(record, event, items, pairs, now)


def _save_names(record: EventRecord, event: Event) -> None:
    InstrumentRecord.objects.bulk_create(
        InstrumentRecord(
            event=record,
            name=i.name,
            unit=i.unit,
            resolution=i.resolution,
            gain_u=i.gain_u,
            linearity_u=i.linearity_u,
            zero_u=i.zero_u,
            capacity=i.capacity if math.isfinite(i.capacity) else None,
        )
        for i in event.instruments
    )
    MaterialRecord.objects.bulk_create(
        MaterialRecord(
            event=record,
            code=m.code,
            name=m.name,
            piece_cv=m.piece_cv,
            moisture_u=m.moisture_u,
            cautions=list(m.cautions),
        )
        for m in event.materials
    )
    ItemRecord.objects.bulk_create(
        ItemRecord(
            event=record,
            code=i.code,
            station=i.station.value,
            name=i.name,
            material=i.material,
            weight=i.weight,
            samples_from=i.samples_from or "",
            faces=i.faces or "",
            wall_cm=i.wall_cm,
            bulge_cm=i.bulge_cm,
            mixing_u=i.mixing_u,
        )
        for i in event.items
    )
    CupRecord.objects.bulk_create(
        CupRecord(
            event=record, number=c.number, tare_g=c.tare_g, instrument=c.instrument, batch=c.batch
        )
        for c in event.cups
    )
    PairRecord.objects.bulk_create(
        PairRecord(
            event=record,
            code=p.code,
            school=p.school,
            members=list(p.members),
            status=p.status.value,
            heat=p.heat,
        )
        for p in event.pairs
    )


def _save_kit(event: Event, items: dict[str, ItemRecord], *, by: str, now: datetime) -> None:
    SampleRow.objects.bulk_create(
        SampleRow(
            item=items[s.item],
            at=now,
            by=by,
            pieces=s.pieces,
            mass_g=s.mass_g,
            instrument=s.instrument,
        )
        for s in event.samples
    )
    WeighingRow.objects.bulk_create(
        WeighingRow(
            item=items[c.item],
            at=now,
            by=by,
            gross_g=c.gross_g,
            tare_g=c.tare_g,
            instrument=c.instrument,
        )
        for c in event.containers
    )
    HandCountRow.objects.bulk_create(
        HandCountRow(item=items[c.item], at=now, by=by, pieces=c.pieces, counter=c.counter)
        for c in event.hand_counts
    )
    BoxRow.objects.bulk_create(
        BoxRow(
            item=items[r.item],
            at=now,
            by=by,
            side=r.side.value,
            reading_cm=r.reading_cm,
            instrument=r.instrument,
        )
        for r in event.box_readings
    )


def _save_ledger(
    record: EventRecord,
    event: Event,
    items: dict[str, ItemRecord],
    pairs: dict[str, PairRecord],
    now: datetime,
) -> None:
    AnswerEntry.objects.bulk_create(
        AnswerEntry(
            key=uuid.uuid4(),
            pair=pairs[a.pair],
            item=items[a.item],
            reading=a.reading,
            clerk=a.clerk,
            status=a.status.value,
            value=a.value,
            cup=a.cup,
            scale=a.scale,
            at=now,
        )
        for a in event.answers
    )
    AdjudicationEntry.objects.bulk_create(
        AdjudicationEntry(
            pair=pairs[a.pair],
            item=items[a.item],
            clerk=a.clerk,
            status=a.status.value,
            value=a.value,
            cup=a.cup,
            reason=a.reason,
            at=now,
        )
        for a in event.adjudications
    )
    DecisionEntry.objects.bulk_create(
        DecisionEntry(
            event=record, item=items[d.item], value=d.value, by=d.by, reason=d.reason, at=now
        )
        for d in event.key_decisions
    )
    AuditEntry.objects.bulk_create(
        AuditEntry(
            pair=pairs[a.pair],
            item=items[a.item],
            clerk=a.clerk,
            status=a.status.value,
            value=a.value,
            cup=a.cup,
            at=now,
        )
        for a in event.audit_readings
    )
    ClosedPoint.objects.bulk_create(
        ClosedPoint(event=record, point=c.point, by=c.by, reason=c.reason, at=now)
        for c in event.closings
    )
