"""The results as they stand, computed once for each revision of the event.

Everybody who shows results asks here.  A result is kept under the revision that the database gave
together with the rows it was computed from, so that an old one is never taken for the present one,
whoever changed the event: another thread, another process, a restored file.
"""

import threading
from typing import Final

from nearmark.contest.results import Results, results
from nearmark.site.common.revision import Revision, one_moment, revision_now
from nearmark.site.event.load import load_event
from nearmark.site.event.models import EventRecord

MAX_KEPT: Final = 4
"""The newest, and those that slow readers still look at."""

_Key = tuple[int, Revision]
_KEPT: dict[_Key, Results] = {}
_LOCK = threading.Lock()


def current_results(record: EventRecord) -> Results:
    """Keys, scores, places, open points of an event as it is now: shared, never to be changed."""
    return results_at(record)[1]


def results_at(record: EventRecord) -> tuple[Revision | None, Results]:
    """The results with the revision they are of."""
    revision = revision_now()
    kept = None if revision is None else _KEPT.get((record.pk, revision))
    if kept is not None:
        return revision, kept
    # One at a time: of forty who ask after a change, one computes.
    with _LOCK:
        with one_moment():
            revision = revision_now()
            kept = None if revision is None else _KEPT.get((record.pk, revision))
            if kept is not None:
                return revision, kept
            event = load_event(EventRecord.objects.get(pk=record.pk))
            is_of_one_moment = revision is not None and revision == revision_now()
        outcome = results(event)
        if revision is not None and is_of_one_moment:
            _keep((record.pk, revision), outcome)
        return revision, outcome


def _keep(key: _Key, outcome: Results) -> None:
    while len(_KEPT) >= MAX_KEPT:
        del _KEPT[next(iter(_KEPT))]
    _KEPT[key] = outcome
