"""What every entry is checked against: the event, its pairs, items and cups, read once a change."""

import threading
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import chain

from django.db import connection

from nearmark.contest.event import Event
from nearmark.site.common.revision import one_moment
from nearmark.site.event.load import current_event, load_kit, pairs_of
from nearmark.site.event.models import EventRecord, ItemRecord, PairRecord

_EVENT_REVISION = "SELECT event FROM site_revisionrow WHERE id = 1"


@dataclass(frozen=True, slots=True)
class EventSnapshot:
    """The event as the people at the desk have it before them; shared, so never changed."""

    revision: str | None  # of the event, as it is here
    record: EventRecord | None  # ``None`` before one was made
    pairs: Mapping[int, PairRecord] = field(default_factory=dict)
    items: Mapping[int, ItemRecord] = field(default_factory=dict)
    # Number by code.
    pair_ids: Mapping[str, int] = field(default_factory=dict)
    item_ids: Mapping[str, int] = field(default_factory=dict)
    cups: frozenset[str] = frozenset()  # numbers and batches of the cups that have a tare
    event: Event | None = None  # what doubts are made of, without the answers

    @property
    def is_released(self) -> bool:
        """Whether the results are out."""
        return self.record is not None and self.record.released_at is not None


_LAST = EventSnapshot(None, None)
_LOCK = threading.Lock()


def snapshot_now() -> EventSnapshot:
    """The desk as this transaction sees it: one light look-up unless the event has changed."""
    return snapshot_at(event_revision())


def event_revision() -> str | None:
    """The revision of the event alone; ``None`` while the database keeps none."""
    with connection.cursor() as cursor:
        cursor.execute(_EVENT_REVISION)
        row = cursor.fetchone()
    return None if row is None else str(row[0])


def snapshot_at(revision: str | None) -> EventSnapshot:
    """The desk of a revision that was just read."""
    last = _LAST
    if revision is not None and last.revision == revision:
        return last
    with _LOCK, one_moment():
        return _read()


def _read() -> EventSnapshot:
    global _LAST  # noqa: PLW0603 - the one desk of this process
    revision = event_revision()
    if revision is not None and _LAST.revision == revision:
        return _LAST
    desk = _build(revision, current_event())
    # On PostgreSQL, inside an act, another process may have committed between two look-ups.
    if revision is not None and revision == event_revision():
        _LAST = desk
    return desk


def _build(revision: str | None, record: EventRecord | None) -> EventSnapshot:
    if record is None:
        return EventSnapshot(revision, None)
    pairs = {pair.pk: pair for pair in record.pairs.all()}
    items = {item.pk: item for item in record.items.all()}
    cups = record.cups.values_list("number", "batch")
    return EventSnapshot(
        revision,
        record,
        pairs,
        items,
        {pair.code: number for number, pair in pairs.items()},
        {item.code: number for number, item in items.items()},
        frozenset(filter(None, chain.from_iterable(cups))),
        replace(load_kit(record), pairs=pairs_of(record)),
    )
