"""Between the tables and ``nearmark.contest.event``: the site computes nothing itself."""

import functools
import math
import tomllib
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

import tomli_w

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    AuditReading,
    BoxReading,
    Closing,
    ContainerWeighing,
    CountedSample,
    Cup,
    Event,
    Faces,
    HandCount,
    Item,
    KeyDecision,
    Material,
    Pair,
    PairStatus,
    SamplesFrom,
    Side,
)
from nearmark.contest.rule_files import rules_as_mapping, rules_from_mapping
from nearmark.contest.rules import RuleSet, Station
from nearmark.measurement.instruments import Instrument
from nearmark.site.event.answer_models import AdjudicationEntry, AnswerEntry, AuditEntry
from nearmark.site.event.models import EventRecord, InstrumentRecord, ItemRecord, PairRecord
from nearmark.site.event.reading_models import BoxRow, HandCountRow, SampleRow, WeighingRow
from nearmark.site.event.save import save_rows


def current_event() -> EventRecord | None:
    """The event the site works on: the newest; ``None`` before one was made."""
    return EventRecord.objects.order_by("-pk").first()


def load_event(record: EventRecord) -> Event:
    """The event as everything computed from it needs it.

    Returns
    -------
    Event
        Without what was struck out.
    """
    whole = replace(
        load_kit(record), pairs=pairs_of(record), audit_readings=tuple(_audit_readings(record))
    )
    return with_answers(whole, record)


def with_answers(event: Event, record: EventRecord) -> Event:
    """An event with its answers as they are now."""
    return replace(
        event,
        answers=tuple(_answers(record)),
        adjudications=tuple(_adjudications(record)),
    )


def load_kit(record: EventRecord) -> Event:
    """The event without pairs and answers: all that its keys are made of, read in a blink."""
    of_item = {"item__event": record, "struck_at": None}
    return Event(
        name=record.name,
        day=record.day,
        venue=record.venue,
        rules=rules_of(record),
        seed=record.seed,
        instruments=tuple(map(_instrument, record.instruments.all())),
        materials=tuple(
            Material(m.code, m.name, m.piece_cv, m.moisture_u, tuple(m.cautions))
            for m in record.materials.all()
        ),
        items=tuple(map(_item, record.items.all())),
        samples=tuple(
            CountedSample(r.item.code, r.pieces, r.mass_g, r.instrument)
            for r in SampleRow.objects.filter(**of_item).select_related("item")
        ),
        containers=tuple(
            ContainerWeighing(r.item.code, r.gross_g, r.tare_g, r.instrument)
            for r in WeighingRow.objects.filter(**of_item).select_related("item")
        ),
        hand_counts=tuple(
            HandCount(r.item.code, r.pieces, r.counter)
            for r in HandCountRow.objects.filter(**of_item).select_related("item")
        ),
        box_readings=tuple(
            BoxReading(r.item.code, Side(r.side), r.reading_cm, r.instrument)
            for r in BoxRow.objects.filter(**of_item).select_related("item")
        ),
        cups=tuple(Cup(c.number, c.tare_g, c.instrument, c.batch) for c in record.cups.all()),
        key_decisions=tuple(_decisions(record)),
        closings=tuple(_closings(record)),
    )


def event_of_pair(record: EventRecord, code: str) -> Event:
    """The event with one pair and its answers only: for a page after one entry.

    Parameters
    ----------
    code : str
        Of the pair.
    """
    return replace(
        load_kit(record),
        pairs=tuple(map(_pair, record.pairs.filter(code=code))),
        answers=tuple(_answers(record, pair__code=code)),
        adjudications=tuple(_adjudications(record, pair__code=code)),
        audit_readings=tuple(_audit_readings(record, pair__code=code)),
    )


def rules_of(record: EventRecord) -> RuleSet:
    """The event's own rule set."""
    return _rules(record.rules_toml)


@functools.lru_cache(maxsize=8)
def _rules(text: str) -> RuleSet:
    """Read once: every entry asks for them, and a rule set cannot be changed in place."""
    return rules_from_mapping(tomllib.loads(text))


def pairs_of(record: EventRecord) -> tuple[Pair, ...]:
    """The pairs of an event."""
    return tuple(map(_pair, record.pairs.all()))


def _pair(row: PairRecord) -> Pair:
    return Pair(row.code, row.school, tuple(row.members), PairStatus(row.status), row.heat)


def _instrument(row: InstrumentRecord) -> Instrument:
    capacity = math.inf if row.capacity is None else row.capacity
    return Instrument(
        row.name, row.unit, row.resolution, row.gain_u, row.linearity_u, capacity, row.zero_u
    )


def _item(row: ItemRecord) -> Item:
    return Item(
        row.code,
        Station(row.station),
        row.name,
        row.material,
        row.weight,
        samples_from=SamplesFrom(row.samples_from) if row.samples_from else None,
        faces=Faces(row.faces) if row.faces else None,
        wall_cm=row.wall_cm,
        bulge_cm=row.bulge_cm,
        mixing_u=row.mixing_u,
    )


def _answers(record: EventRecord, **only: str) -> Iterable[AnswerReading]:
    rows = AnswerEntry.objects.filter(pair__event=record, struck_at=None, **only).values_list(
        "pair__code", "item__code", "reading", "clerk", "status", "value", "cup", "scale"
    )
    for pair, item, reading, clerk, status, value, cup, scale in rows:
        yield AnswerReading(pair, item, reading, clerk, AnswerStatus(status), value, cup, scale)


def _adjudications(record: EventRecord, **only: str) -> Iterable[Adjudication]:
    rows = AdjudicationEntry.objects.filter(pair__event=record, **only).select_related(
        "pair", "item"
    )
    newest = {(r.pair.code, r.item.code): r for r in rows}
    for (pair, item), r in newest.items():
        yield Adjudication(pair, item, r.clerk, AnswerStatus(r.status), r.value, r.cup, r.reason)


def _decisions(record: EventRecord) -> Iterable[KeyDecision]:
    newest = {r.item.code: r for r in record.decisions.select_related("item")}
    for item, r in newest.items():
        if not r.is_withdrawal:
            yield KeyDecision(item, r.value, r.by, r.reason)


def _closings(record: EventRecord) -> Iterable[Closing]:
    newest = {row.point: row for row in record.closed_points.all()}
    for point, row in newest.items():
        if not row.is_open_again:
            yield Closing(point, row.by, row.reason)


def _audit_readings(record: EventRecord, **only: str) -> Iterable[AuditReading]:
    rows = AuditEntry.objects.filter(pair__event=record, **only).select_related("pair", "item")
    newest = {(r.pair.code, r.item.code): r for r in rows}
    for (pair, item), r in newest.items():
        yield AuditReading(pair, item, r.clerk, AnswerStatus(r.status), r.value, r.cup)


def save_event(event: Event, *, by: str, now: datetime) -> EventRecord:
    """Keep an event that was read from a folder; it becomes the current one.

    Parameters
    ----------
    by : str
        Who brought it; stands beside every reading of the kit.

    Returns
    -------
    EventRecord
        Reads back equal to ``event``.
    """
    record = EventRecord.objects.create(
        name=event.name,
        day=event.day,
        venue=event.venue,
        seed=event.seed,
        rules_toml=rules_text(event.rules),
    )
    save_rows(record, event, by=by, now=now)
    return record


def rules_text(rules: RuleSet) -> str:
    """A rule set in full, as TOML."""
    return tomli_w.dumps(rules_as_mapping(rules))
