"""What every page is given: the visitor, the event, and the rooms that are open to them."""

from dataclasses import dataclass

from django.http import HttpRequest
from django.urls import reverse

from nearmark import __version__
from nearmark.site.event_store import current_event
from nearmark.site.roles import may_open
from nearmark.site.visitor import visitor_of


@dataclass(frozen=True, slots=True)
class Door:
    """One entry of the menu."""

    name: str
    title: str
    room: str

    @property
    def address(self) -> str:
        """Where it leads."""
        return reverse(self.name)


DOORS = (
    Door("overview", "Overview", "Event day"),
    Door("pairs", "Pairs", "Event day"),
    Door("heats", "Heats and check-in", "Event day"),
    Door("clock-control", "Hall clock", "Event day"),
    Door("weigh-in", "Weigh-in", "Event day"),
    Door("entry", "Enter answers", "Event day"),
    Door("differences", "Differences", "Event day"),
    Door("standings", "Standings", "Event day"),
    Door("kit", "Items and keys", "Kit"),
    Door("season", "Clubs and pupils", "Season"),
    Door("drills", "Drills", "Season"),
    Door("bags", "Take-home bags", "Season"),
    Door("calculator", "Calculator", "Season"),
    Door("devices", "Devices", "Desk"),
    Door("jobs", "Long work", "Desk"),
    Door("history", "History", "Desk"),
)


def rooms(request: HttpRequest) -> dict[str, object]:
    """Context of every page.

    Parameters
    ----------
    request : HttpRequest
    """
    visitor = visitor_of(request)
    event = current_event()
    released = event is not None and event.released_at is not None
    here = request.resolver_match.url_name if request.resolver_match else ""
    doors = [door for door in DOORS if may_open(door.name, visitor.role, released=released)]
    return {
        "visitor": visitor,
        "event_record": event,
        "released": released,
        "doors": doors if visitor.account and not visitor.locked else [],
        "here": here,
        "version": __version__,
    }
