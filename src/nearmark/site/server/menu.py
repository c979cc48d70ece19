"""What every page is given: the visitor, the event, and the rooms that are open to them."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from types import MappingProxyType
from typing import Final

from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext_noop as _

from nearmark import __version__
from nearmark.site.common.view_records import names_of
from nearmark.site.door.access import Role, may_open
from nearmark.site.door.visitor import Visitor, visitor_of
from nearmark.site.event.models import EventRecord
from nearmark.site.event.snapshot import snapshot_now
from nearmark.site.event_day.tour import TourBar, has_tour, tour_bar
from nearmark.site.server.help_places import help_address
from nearmark.site.server.translated_pages import (
    PageLanguage,
    language_of_page,
    other_languages,
    paper_languages,
)

MAX_IN_BAR: Final = 5
"""Entries that stand side by side at the foot of a phone; more open as a list."""


@dataclass(frozen=True, slots=True)
class MenuItem:
    """One entry of the menu; templates translate its words."""

    name: str
    title: str
    room: str
    short: str = ""  # as it is called where there is little room; empty: the title

    @property
    def address(self) -> str:
        """Where it leads."""
        return reverse(self.name)

    @property
    def in_short(self) -> str:
        """What it is called at the foot of a phone."""
        return self.short or self.title


@dataclass(frozen=True, slots=True)
class Room:
    """One room of the menu, with the entries that are open to the visitor."""

    name: str
    doors: tuple[MenuItem, ...]

    @property
    def address(self) -> str:
        """Of its first entry."""
        return self.doors[0].address


MENU: Final = (
    MenuItem("kit", _("Items and keys"), _("Kit")),
    MenuItem("materials", _("Materials"), _("Kit")),
    MenuItem("pour", _("Pour planner"), _("Kit")),
    MenuItem("purchase", _("Purchase list"), _("Kit")),
    MenuItem("cups", _("Cups"), _("Kit")),
    MenuItem("scales", _("Scales and rulers"), _("Kit")),
    MenuItem("seal", _("Sealed keys"), _("Kit")),
    MenuItem("cautions", _("Cautions"), _("Kit")),
    MenuItem("overview", _("Overview"), _("Event day")),
    MenuItem("event-change", _("Change the event"), _("Event day"), _("Event")),
    MenuItem("points", _("Open points"), _("Event day")),
    MenuItem("pairs", _("Pairs"), _("Event day")),
    MenuItem("day-plan", _("Plan of the day"), _("Event day")),
    MenuItem("heats", _("Heats and check-in"), _("Event day"), _("Check-in")),
    MenuItem("paper", _("Paper for the day"), _("Event day")),
    MenuItem("clock-control", _("Hall clock"), _("Event day"), _("Clock")),
    MenuItem("weigh-in", _("Weigh-in"), _("Event day")),
    MenuItem("entry", _("Enter answers"), _("Event day"), _("Answers")),
    MenuItem("differences", _("Differences"), _("Event day")),
    MenuItem("announcer", _("Announcer"), _("Event day")),
    MenuItem("standings", _("Standings"), _("Event day")),
    MenuItem("audit", _("Paper audit"), _("Event day")),
    MenuItem("corrections", _("Corrections"), _("Event day")),
    MenuItem("exports", _("Download"), _("Event day")),
    MenuItem("season", _("Clubs and pupils"), _("Season")),
    MenuItem("drills", _("Drills"), _("Season")),
    MenuItem("bags", _("Take-home bags"), _("Season")),
    MenuItem("calculator", _("Calculator"), _("Season")),
    MenuItem("practice-jars", _("Practice jars"), _("Season")),
    MenuItem("jar-shelf", _("Jar shelf"), _("Season")),
    MenuItem("devices", _("Devices"), _("Desk")),
    MenuItem("doctor", _("Is everything ready"), _("Desk"), _("Ready?")),
    MenuItem("events", _("Events and rules"), _("Desk"), _("Events")),
    MenuItem("jobs", _("Long work"), _("Desk")),
    MenuItem("history", _("History"), _("Desk")),
)

_UNDER: Final = MappingProxyType(
    {
        "thing": "kit",
        "event": "overview",
        "room": "event-change",
        "division": "event-change",
        "rule": "events",
        "clock": "clock-control",
        "feedback": "standings",
        "awards": "standings",
        "release": "standings",
        "withhold": "standings",
        "results": "exports",
        "seat": "drills",
        "handout": "drills",
        "club": "season",
        "home": "season",
        "jar": "jar-shelf",
        "box": "jar-shelf",
    }
)
"""First word of an address's name -> the entry under which its pages lie."""

_JOB: Final = MappingProxyType({Role.SCORER: "Event day"})
"""The one room of those who come for one job; what is open to everybody is not theirs to do."""

_FOR_ITS_JOB: Final = frozenset({"announcer"})
"""Entries that a helper without this job does not need."""

_EXACTLY: Final = MappingProxyType(
    {"jar": "practice-jars", "scale-checks": "weigh-in", "buckets": "weigh-in"}
)


def door_at(here: str) -> str:
    """Name of the menu's entry under which a page lies; empty when it lies under none.

    ``here``: name of the page's address.

    >>> door_at("kit-item"), door_at("device-code"), door_at("thing"), door_at("sign-in")
    ('kit', 'devices', 'kit', '')
    """
    names = {door.name for door in MENU}
    if here in names or here in _EXACTLY:
        return _EXACTLY.get(here, here)
    first = here.split("-", maxsplit=1)[0]
    return next((name for name in (first, f"{first}s") if name in names), _UNDER.get(first, ""))


@dataclass(frozen=True, slots=True)
class FrameView:
    """What the frame of every page shows."""

    visitor: Visitor
    event_record: EventRecord | None
    released: bool
    menu: list[Room]
    room: Room | None  # the one that the page is in
    in_bar: Sequence[MenuItem]  # at the foot of a phone; empty: the rooms are there
    at: str  # name of the entry under which the page lies
    here: str  # name of the page's address
    help_address: str  # of the part of the help about the page; empty: no link
    version: str
    language: PageLanguage
    other_languages: Sequence[PageLanguage]  # that the page can be shown in
    paper_languages: Sequence[PageLanguage]  # that papers for children can be printed in
    tour: TourBar | None  # the step of the tour that the lead takes
    can_tour: bool  # whether the lead may begin it


def rooms(request: HttpRequest) -> dict[str, object]:
    """Context of every page."""
    visitor = visitor_of(request)
    # Looked up again: what the page shows may be what it has just done.
    desk = snapshot_now()
    released = desk.is_released
    here = request.resolver_match.url_name or "" if request.resolver_match else ""
    is_in = visitor.account is not None and not visitor.locked
    pages = visitor.job_pages
    doors = [
        door
        for door in MENU
        if is_in
        and may_open(door.name, visitor.role, released=released)
        and door.room == _JOB.get(visitor.role, door.room)
        and (door.name in pages if pages else visitor.is_lead or door.name not in _FOR_ITS_JOB)
    ]
    menu = [Room(name, tuple(of_it)) for name, of_it in groupby(doors, lambda door: door.room)]
    kind = str(request.resolver_match.kwargs.get("kind", "")) if request.resolver_match else ""
    at = (door_at(f"{kind}s") if here.startswith("thing") else "") or door_at(here)
    room = next((room for room in menu if any(door.name == at for door in room.doors)), None)
    if len(menu) == 1:
        room = menu[0]
    bar = tour_bar(request, desk.record, visitor)
    frame = FrameView(
        visitor=visitor,
        event_record=desk.record,
        released=released,
        menu=menu,
        room=room,
        in_bar=room.doors if room and menu == [room] and len(room.doors) <= MAX_IN_BAR else (),
        at=at,
        here=here,
        # The form of a thing lies under the list of its kind.
        help_address=help_address("" if here.startswith("thing") else here, at),
        version=__version__,
        language=language_of_page(),
        other_languages=other_languages(here),
        paper_languages=paper_languages(),
        tour=bar,
        can_tour=bar is None and has_tour(desk.record, visitor),
    )
    return names_of(frame)
