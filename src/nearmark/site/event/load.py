"""Between the tables and ``nearmark.contest.event``: the site computes nothing itself."""

import functools
import tomllib
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import TypeVar

import tomli_w
from django.db import models
from django.db.models import F

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
    Division,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Material,
    Pair,
    Room,
)
from nearmark.contest.heat_wish import HeatWish
from nearmark.contest.rule_files import rules_as_mapping, rules_from_mapping
from nearmark.contest.rules import RuleSet
from nearmark.measurement.instruments import Instrument
from nearmark.site.event.answer_models import AdjudicationEntry, AnswerEntry, AuditEntry
from nearmark.site.event.models import EventRecord
from nearmark.site.event.reading_models import BoxRow, HandCountRow, KitRow, SampleRow, WeighingRow
from nearmark.site.event.rows import record_of
from nearmark.site.event.save import save_rows

_Record = TypeVar("_Record")


def current_event() -> EventRecord | None:
    """The event the site works on: opened last; ``None`` before one was made."""
    return EventRecord.objects.order_by(F("opened_at").desc(nulls_last=True), "-pk").first()


def load_event(record: EventRecord) -> Event:
    """The event as everything computed from it needs it, without what was struck out."""
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
    return Event(
        name=record.name,
        day=record.day,
        venue=record.venue,
        rules=rules_of(record),
        seed=record.seed,
        instruments=_all(Instrument, record.instruments.all()),
        materials=_all(Material, record.materials.all()),
        divisions=_all(Division, record.divisions.all()),
        rooms=_all(Room, record.rooms.all()),
        heat_wishes=_all(HeatWish, record.heat_wishes.all()),
        items=_all(Item, record.items.all()),
        samples=_readings(CountedSample, SampleRow, record),
        containers=_readings(ContainerWeighing, WeighingRow, record),
        hand_counts=_readings(HandCount, HandCountRow, record),
        box_readings=_readings(BoxReading, BoxRow, record),
        cups=_all(Cup, record.cups.all()),
        key_decisions=tuple(_decisions(record)),
        closings=tuple(_closings(record)),
    )


def event_of_pair(record: EventRecord, code: str) -> Event:
    """The event with one pair and its answers only: for a page after one entry."""
    return replace(
        load_kit(record),
        pairs=_all(Pair, record.pairs.filter(code=code)),
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
    return _all(Pair, record.pairs.all())


def _all(kind: type[_Record], rows: Iterable[models.Model]) -> tuple[_Record, ...]:
    return tuple(record_of(kind, row) for row in rows)


def _readings(kind: type[_Record], model: type[KitRow], record: EventRecord) -> tuple[_Record, ...]:
    rows = model.objects.filter(item__event=record, struck_at=None).select_related("item")
    return tuple(record_of(kind, row, item=row.item.code) for row in rows)


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
        yield record_of(Adjudication, r, pair=pair, item=item)


def _decisions(record: EventRecord) -> Iterable[KeyDecision]:
    newest = {r.item.code: r for r in record.decisions.select_related("item")}
    for item, r in newest.items():
        if not r.is_withdrawal:
            yield record_of(KeyDecision, r, item=item)


def _closings(record: EventRecord) -> Iterable[Closing]:
    newest = {row.point: row for row in record.closed_points.all()}
    for row in newest.values():
        if not row.is_open_again:
            yield record_of(Closing, row)


def _audit_readings(record: EventRecord, **only: str) -> Iterable[AuditReading]:
    rows = AuditEntry.objects.filter(pair__event=record, **only).select_related("pair", "item")
    newest = {(r.pair.code, r.item.code): r for r in rows}
    for (pair, item), r in newest.items():
        yield record_of(AuditReading, r, pair=pair, item=item)


def save_event(event: Event, *, by: str, now: datetime, is_practice: bool = False) -> EventRecord:
    """Keep an event that was read from a folder; it becomes the current one.

    ``by``: who brought it; is beside every reading of the kit. Returns a record that reads back
    equal to ``event``.
    """
    record = EventRecord.objects.create(
        opened_at=now,
        is_practice=is_practice,
        name=event.name,
        day=event.day,
        venue=event.venue,
        seed=event.seed,
        rules_toml=rules_text(event.rules),
        heat_places=event.rules.usual_places,
    )
    save_rows(record, event, by=by, now=now)
    return record


def rules_text(rules: RuleSet) -> str:
    """A rule set in full, as TOML."""
    return tomli_w.dumps(rules_as_mapping(rules))
