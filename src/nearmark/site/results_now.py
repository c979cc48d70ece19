"""The results as they stand; the one place to change when they are kept between requests."""

from nearmark.contest.results import Results, results
from nearmark.site.event_store import load_event
from nearmark.site.models import EventRecord


def results_now(record: EventRecord) -> Results:
    """Keys, scores, places and open points of an event as it is now.

    Parameters
    ----------
    record : EventRecord
    """
    return results(load_event(record))
