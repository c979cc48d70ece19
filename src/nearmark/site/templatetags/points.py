"""The one list of open points, on every page that says what is open."""

from django import template

from nearmark.contest.open_points import PointKind
from nearmark.site.event.load import current_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.results.point_links import point_lines
from nearmark.site.event_day.steps import KIT_KINDS

register = template.Library()

MAX_AT_ONCE = 5
"""Open points in sight; more are behind a fold."""


@register.inclusion_tag("event_day/results/open_points.html")
def open_points() -> dict[str, object]:
    """The open points of the event, each with its link."""
    record = current_event()
    lines = () if record is None else point_lines(record, current_results(record))
    return {"lines": lines, "first": lines[:MAX_AT_ONCE], "more": lines[MAX_AT_ONCE:]}


@register.simple_tag
def doubted_items() -> list[str]:
    """Codes of the items whose key or readings have an open point."""
    record = current_event()
    points = () if record is None else current_results(record).open_points
    return list(
        dict.fromkeys(p.item for p in points if p.kind in KIT_KINDS | {PointKind.KEY_CHECK})
    )
