"""The lead settles an open point with a reason, and may open it again."""

from nearmark.contest.open_points import OpenPoint
from nearmark.errors import RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.answer_models import ClosedPoint
from nearmark.site.event.current import required_event
from nearmark.site.event.history import note
from nearmark.site.event.models import EventRecord
from nearmark.site.event.reasons import need_reason
from nearmark.site.event.results_cache import current_results
from nearmark.words.open_points import point_words


def close_point(point_id: str, *, by: str, why: str) -> OpenPoint:
    """Close one open point."""
    need_reason(why, "Say how you know that it may stay as it is")
    with writing():
        record = required_event()
        points = {point.id: point for point in current_results(record).open_points}
        point = points.get(point_id)
        if point is None:
            raise RuleError("this point is not open any more", mend="Load the page again")
        if not point.can_close:
            raise RuleError("this point cannot be closed", mend="Put right what it is about")
        keep_closing(record, point, by=by, why=why)
    return point


def keep_closing(record: EventRecord, point: OpenPoint, *, by: str, why: str) -> None:
    """Write a closing; within the transaction of the caller."""
    ClosedPoint.objects.create(
        event=record,
        point=point.id,
        words=point_words(point)[:1000],
        by=by,
        reason=why,
        at=clock.now(),
    )
    note(record, by, "closed an open point", old=point_words(point), why=why)


def open_point_again(point_id: str, *, by: str) -> None:
    """Take a closing back."""
    with writing():
        record = required_event()
        last = record.closed_points.filter(point=point_id).last()
        if last is None or last.is_open_again:
            raise RuleError("this point was not closed here", mend="Load the page again")
        ClosedPoint.objects.create(
            event=record,
            point=point_id,
            words=last.words,
            by=by,
            reason="",
            is_open_again=True,
            at=clock.now(),
        )
        note(record, by, "opened a point again", old=last.words, why="")
