"""All open points on one page: where each is settled, and a reason that closes it."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.results import point_actions as acts
from nearmark.site.event_day.results.point_links import PointLine, point_lines
from nearmark.words.open_points import point_words


@dataclass(frozen=True, slots=True)
class PointsView:
    """What is open, and what was closed."""

    title: str
    lines: tuple[PointLine, ...]
    closed: list[tuple[PointLine, bool]]  # and whether it can be opened again here
    is_begun: bool  # the event has an item or a pair


def points(request: HttpRequest) -> HttpResponse:
    """What is open, and what was closed with which reason."""
    record = required_event()
    outcome = current_results(record)
    taken_back = set(record.closed_points.values_list("point", flat=True))
    view = PointsView(
        title="Open points",
        lines=point_lines(record, outcome),
        closed=[
            (line, line.point.id in taken_back)
            for line in point_lines(record, outcome, closed=True)
        ],
        is_begun=bool(outcome.event.items or outcome.event.pairs),
    )
    return show(request, "event_day/results/points", view)


@post_only
def point_close(request: HttpRequest) -> HttpResponse:
    """Close one with a reason."""
    given = request.POST
    why = given.get("why", "").strip()[:200]
    point = acts.close_point(given.get("point", ""), by=visitor_of(request).name, why=why)
    return done(request, f"Closed: {point_words(point)}", "points")


@post_only
def point_reopen(request: HttpRequest) -> HttpResponse:
    """Open it again."""
    acts.open_point_again(request.POST.get("point", ""), by=visitor_of(request).name)
    return done(request, "It is open again.", "points")
