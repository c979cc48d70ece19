"""The event that the site is about now."""

from nearmark.errors import RuleError
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord


def required_event() -> EventRecord:
    """The current event. Raises RuleError if there is none."""
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="The lead sets one up first")
    return record


def open_event() -> EventRecord:
    """The current event; RuleError if there is none, or its results are out."""
    return open_for_change(current_event())


def open_for_change(record: EventRecord | None) -> EventRecord:
    """An event that was just looked up; RuleError if there is none, or its results are out."""
    if record is None:
        raise RuleError("there is no event yet", mend="The lead sets one up first")
    if record.released_at is not None:
        raise RuleError(
            "the results are out: nothing of the event can be changed",
            mend="The lead takes the results back first, with a reason",
        )
    return record
