"""Which part of the help each page leads to: one table, beside that of the addresses."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from django.urls import reverse


@dataclass(frozen=True, slots=True)
class NoLink:
    """A page without a link to the help."""

    why: str


_FAMILIES: Final = NoLink("children and families read it; it says all that they need")
_SCREEN: Final = NoLink("a projector shows it to the whole room; nobody there can press a link")
_SEAT: Final = NoLink("a child is at work on it, and the help would lead away from it")

HELP_PLACES: Final[Mapping[str, str | NoLink]] = MappingProxyType(
    {
        # the door
        "first-run": "site#the-first-account",
        "sign-in": "site#sign-in-join-unlock",
        "join": "site#sign-in-join-unlock",
        "unlock": "site#sign-in-join-unlock",
        "public-results": _FAMILIES,
        "public-earlier": _FAMILIES,
        "public-feedback": _FAMILIES,
        "verify": "verify#checking-a-result-without-trusting-anyone",
        # the help itself: to the list of its pages
        "help": "",
        "help-search": "",
        "help-page": "",
        # event day
        "overview": "event-day#overview",
        "events": "site#events-and-rules",
        "event-begin": "event-day#begin-an-event",
        "event-next": "site#events-and-rules",
        "event-figures": "site#events-and-rules",
        "rule-sets": "site#events-and-rules",
        "rule-set-make": "rules#settings",
        "event-change": "event-day#change-the-event",
        "pairs": "event-day#pairs",
        "pair": "event-day#the-story-of-a-pair",
        "pair-import": "pairs-import#a-list-of-pairs-from-elsewhere",
        "day-plan": "event-day#plan-of-the-day",
        "heats": "event-day#heats-and-check-in",
        "heat-plan": "event-day#plan-of-the-heats",
        "paper": "event-day#paper-for-the-day",
        "clock": _SCREEN,
        "clock-control": "site#the-halls-clock",
        "weigh-in": "event-day#weigh-in",
        "scale-checks": "event-day#check-weight",
        "buckets": "event-day#buckets-and-cups",
        "announcer": "event-day#announcer",
        "entry": "event-day#enter-answers",
        "differences": "event-day#differences",
        "standings": "event-day#standings-and-release",
        "awards": "divisions#awards",
        "feedback": "event-day#the-feedback-page-of-a-pair",
        "audit": "event-day#before-the-release-the-paper-audit",
        "audit-read": "event-day#before-the-release-the-paper-audit",
        "points": "event-day#open-points",
        "corrections": "event-day#after-the-release-corrections",
        "exports": "event-day#taking-results-away",
        # kit
        "kit": "kit-room#items-and-keys",
        "kit-item": "kit-room#an-item-from-empty-to-fit",
        "kit-item-history": "kit-room#how-this-key-changed",
        "thing": "kit-room#items-and-keys",
        "seal": "kit-room#seal-the-keys",
        "scales": "kit-room#scales-and-rulers",
        "cups": "kit-room#cups",
        "materials": "kit-room#materials",
        "cautions": "kit-room#cautions",
        "pour": "kit-room#pour-planner",
        "purchase": "kit-room#purchase-list",
        # season
        "season": "season#clubs",
        "season-club": "season#the-page-of-a-club",
        "season-things": "season#things",
        "season-thing": "season#things",
        "season-keys": "season#take-a-key-from-the-kit",
        "season-round": "season#a-session-of-twenty-minutes",
        "season-round-done": "season#a-session-of-twenty-minutes",
        "season-meeting": "season#a-meeting",
        "season-meeting-run": "season#a-meeting",
        "season-meeting-type": "season#a-meeting",
        "season-meeting-done": "season#a-meeting",
        "season-log": "season#the-log-in-and-out",
        "season-import": "season#the-log-in-and-out",
        "season-pupil": "season#the-page-of-a-pupil",
        "season-ladder": "season#scoop-ladder",
        "season-pair": "season#the-page-of-a-pair",
        "bags": "drills#take-home-bags",
        # drills and jars
        "drills": "drills#drills-mock-contests-bags-and-sums",
        "drill-club": "drills#a-drill",
        "drill-live": "drills#a-drill",
        "drill-door": _SCREEN,
        "drill-room": _SCREEN,
        "seat-join": _SEAT,
        "seat": _SEAT,
        "seat-item": _SEAT,
        "calculator": _SEAT,
        "practice-jars": _SEAT,
        "jar": _SEAT,
        "jar-shelf": "practice-jars#for-lead-and-coach",
        "handout": "room#a-workshop-for-coaches",
        # desk
        "devices": "site#devices",
        "device-joined": "site#devices",
        "doctor": "site#is-everything-ready",
        "jobs": "lost-link-and-long-work#long-work",
        "history": "event-day#history",
    }
)
"""Name of an address -> ``page#anchor`` of the help (empty: all pages), or why there is no link.

It names every address that shows a page to people.
"""


def help_address(name: str, at: str) -> str:
    """Where the link to the help of a page leads; empty: it has none.

    ``name``: of the page's address. ``at``: of the menu's entry under which it lies; its help is
    that of a page which has none of its own, such as a form that was refused.

    >>> help_address("cups", "kit"), help_address("clock", "clock-control")
    ('/help/kit-room/#cups', '')
    >>> help_address("cups-paste", "cups"), help_address("", "")
    ('/help/kit-room/#cups', '/help/')
    """
    place = HELP_PLACES.get(name, HELP_PLACES.get(at, ""))
    if isinstance(place, NoLink):
        return ""
    page, _, anchor = place.partition("#")
    return reverse("help-page", args=[page]) + f"#{anchor}" if page else reverse("help")
