"""Drills for the coach: open one, hand out the codes, see who has answered, close it."""

from dataclasses import dataclass, replace

import numpy as np
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.errors import InputError
from nearmark.site.common import clock
from nearmark.site.common.lookup import known_row
from nearmark.site.common.responses import add_refusal, done, post_only, show, site_address
from nearmark.site.door.device_views import qr_svg
from nearmark.site.door.visitor import visitor_of
from nearmark.site.drills import actions as drills
from nearmark.site.drills import seat_actions as drill_seats
from nearmark.site.drills.forms import USUAL_S, DrillForm
from nearmark.site.drills.jar_columns import draw_jars, fresh_jars, shelf
from nearmark.site.drills.mock_views import MockClock, MockResult, mock_clock, mock_result
from nearmark.site.drills.models import Drill, DrillItem, DrillKind, DrillSeat
from nearmark.site.drills.page_data import SeatRow, seat_rows
from nearmark.site.season.club_access import clubs_of
from nearmark.site.season.models import Club
from nearmark.words.numbers import plural

SHOWN = 20
"""Drills listed a club; the log keeps all answers."""


@dataclass(frozen=True, slots=True)
class DrillsView:
    """Every club with its drills, and whether each is open."""

    title: str
    clubs: list[tuple[Club, list[tuple[Drill, bool]]]]
    n_open: int


@dataclass(frozen=True, slots=True)
class DrillClubView:
    """What the next drill of a club asks, and of whom."""

    title: str
    club: Club
    form: DrillForm
    n_things: int
    n_pupils: int


@dataclass(frozen=True, slots=True)
class LiveView:
    """Codes, and who has answered what; also the part of that page that changes."""

    title: str
    drill: Drill
    is_open: bool
    items: list[DrillItem]
    rows: list[SeatRow]
    n_answers: int
    n_all: int
    clock: MockClock | None  # none for a drill
    result: MockResult
    address: str = ""  # where pupils join; empty in the part that changes
    picture: str = ""  # the same to be scanned


def drills_page(request: HttpRequest) -> HttpResponse:
    """Every club of one's own with its drills."""
    now = clock.now()
    clubs = [
        (club, [(drill, drill.is_open(now)) for drill in club.drills.all()[:SHOWN]])
        for club in clubs_of(visitor_of(request)).prefetch_related("drills")
    ]
    n_open = sum(is_open for _, rows in clubs for _, is_open in rows)
    return show(request, "drills/drills", DrillsView("Drills", clubs, n_open))


def drill_club(request: HttpRequest, club_id: int) -> HttpResponse:
    """What the next drill of a club asks, and of whom."""
    club = _club(club_id)
    form = None
    if "fresh" in request.GET:
        form = DrillForm(club, initial={"jars": [str(jar.pk) for jar in fresh_jars(club)[:1]]})
    return _club_page(request, club, form)


def _club_page(request: HttpRequest, club: Club, form: DrillForm | None) -> HttpResponse:
    n_things = club.things.filter(retired_at=None).count() + shelf().count()
    view = DrillClubView(
        title=f"A drill for {club.name}",
        club=club,
        form=form or DrillForm(club),
        n_things=n_things,
        n_pupils=club.pupils.count(),
    )
    return show(request, "drills/club", view, status=422 if form and form.is_bound else 200)


@post_only
def drill_open(request: HttpRequest, club_id: int) -> HttpResponse:
    """Open a drill."""
    club = _club(club_id)
    form = DrillForm(club, request.POST)
    if not form.is_valid():
        return _club_page(request, club, form)
    given = form.cleaned_data
    things, sitting = form.chosen
    try:
        jars = form.jars_by_hand + draw_jars(
            club,
            form.wanted,
            grade=given["draw_grade"],
            but=[jar.pk for jar in form.jars_by_hand],
            rng=np.random.default_rng(),
        )
    except InputError as refusal:
        add_refusal(form, refusal)
        return _club_page(request, club, form)
    plan = drills.Plan(
        given["title"],
        DrillKind(given["kind"]),
        things,
        sitting,
        with_calculator=given["with_calculator"],
        pictures_only=given["pictures_only"],
        minutes=given["minutes"],
        jars=jars,
        seconds=given["seconds"] or USUAL_S,
        with_guests=given["with_guests"],
    )
    drill = drills.open_drill(club, plan, by=visitor_of(request).name)
    words = "Open." if plan.with_guests and not sitting else "Open. Hand out the codes."
    return done(request, words, "drill-live", drill.pk)


def drill_live(request: HttpRequest, drill_id: int) -> HttpResponse:
    """Codes, and who has answered what."""
    drill = drill_of(drill_id)
    address = join_address(request)
    view = replace(_live(drill), address=address, picture=qr_svg(address))
    return show(request, "drills/live", view)


def drill_state(request: HttpRequest, drill_id: int) -> HttpResponse:
    """The part of the coach's page that changes, for its script."""
    return show(request, "drills/seats", _live(drill_of(drill_id)))


def _live(drill: Drill) -> LiveView:
    items = list(drill.items.all())
    rows = seat_rows(drill, items)
    return LiveView(
        title=drill.title,
        drill=drill,
        is_open=drill.is_open(clock.now()),
        items=items,
        rows=rows,
        n_answers=sum(row.n_answered for row in rows),
        n_all=len(rows) * len(items),
        clock=mock_clock(drill),
        result=mock_result(drill),
    )


def join_address(request: HttpRequest) -> str:
    """Where codes are typed, as other devices reach it."""
    return site_address(request) + reverse("seat-join")


@post_only
def drill_start(request: HttpRequest, drill_id: int) -> HttpResponse:
    """Start the clock of a mock contest."""
    drill = drill_of(drill_id)
    drills.start_clock(drill, by=visitor_of(request).name)
    return done(request, f"It runs: {plural(drill.minutes, 'minute')}.", "drill-live", drill.pk)


@post_only
def drill_close(request: HttpRequest, drill_id: int) -> HttpResponse:
    """Close a drill."""
    drill = drill_of(drill_id)
    drills.close(drill, by=visitor_of(request).name)
    words = "Closed and scored." if drill.is_mock else "Closed. Every answer is in the club's log."
    return done(request, words, "drill-live", drill.pk)


@post_only
def drill_seat_code(request: HttpRequest, seat_id: int) -> HttpResponse:
    """Give a seat another code."""
    seats = DrillSeat.objects.select_related("drill", "pupil", "pair")
    seat = known_row(seats, "seat", pk=seat_id)
    code = drill_seats.new_code(seat, by=visitor_of(request).name)
    return done(request, f"The new code is {code}.", "drill-live", seat.drill_id)


def _club(club_id: int) -> Club:
    return known_row(Club.objects, "club", "Choose from the list", pk=club_id)


def drill_of(drill_id: int) -> Drill:
    """A drill by its number."""
    drills_ = Drill.objects.select_related("club")
    return known_row(drills_, "drill", "Choose from the list", pk=drill_id)
