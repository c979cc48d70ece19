"""A round in one screen: choose the thing once, type a number for each pupil, see how it went."""

import uuid
from dataclasses import dataclass, replace
from datetime import date

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.contest.scoring import percent_accuracy
from nearmark.errors import InputError
from nearmark.site.common.local_time import today
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.attempt_actions import keep_attempts, strike_attempt
from nearmark.site.season.attempt_columns import attempt_of
from nearmark.site.season.known_things import ThingToChoose, core_thing, known_to, things_to_choose
from nearmark.site.season.models import Club, PracticeAttempt, Pupil, Source, Thing
from nearmark.site.season.round_sheet import RoundRow, RoundSheet, empty_sheet, read_sheet
from nearmark.site.season.views import NextStep, club_of, next_step
from nearmark.station import UNITS, Station
from nearmark.words.coaching_advice import attempt_words
from nearmark.words.coaching_things import warning_words
from nearmark.words.deviations import error_words
from nearmark.words.replies import attempts_saved

STRIP_PX = 340


@dataclass(frozen=True, slots=True)
class Outcome:
    """How one attempt went."""

    row: PracticeAttempt
    points: int  # rounded, of 100
    deviation: str
    strip: str
    advice: str


def outcome_of(row: PracticeAttempt, *, is_known: bool = False) -> Outcome:
    """Score, words and strip of a kept attempt."""
    ratio = row.estimate / row.true
    strip = strip_svg(
        [Mark(ratio, "", MarkKind.THIS)], width_px=STRIP_PX, title=f"{row.thing}, attempt {row.pk}"
    )
    attempt = replace(attempt_of(row, pupil=row.pupil.name), is_known=is_known)
    advice = attempt_words(attempt)
    points = round(percent_accuracy(row.estimate, row.true))
    return Outcome(row, points, error_words(ratio), strip, advice)


@dataclass(frozen=True, slots=True)
class RoundView:
    """Where a round is typed; the true value is not on this page."""

    title: str
    club: Club
    sheet: RoundSheet | None  # none until a thing is chosen
    n_refused: int
    focus: RoundRow | None  # where to type first
    day: date
    is_other_day: bool
    things: list[ThingToChoose]
    warning: str  # who has seen the true value already
    has_pupils: bool
    nothing: bool  # it was sent without an estimate


@dataclass(frozen=True, slots=True)
class RoundDoneView:
    """The truth, and how everybody did."""

    title: str
    club: Club
    thing: Thing
    unit: str
    outcomes: list[Outcome]
    absent: list[Pupil]
    step: NextStep


def practice_round(request: HttpRequest, club_id: int) -> HttpResponse:
    """Choose a thing; then a row for each pupil.  The true value is not on this page."""
    club = club_of(club_id)
    thing = _thing(club, request.GET.get("thing", ""))
    sheet = None if thing is None else empty_sheet(thing, club.pupils.all(), today())
    return show(request, "season/round", _view(club, sheet, today()))


def _view(club: Club, sheet: RoundSheet | None, day: date, *, nothing: bool = False) -> RoundView:
    return RoundView(
        title="Log a round",
        club=club,
        sheet=sheet,
        n_refused=sheet.n_refused if sheet else 0,
        focus=sheet.focus if sheet else None,
        day=day,
        is_other_day=day != today(),
        things=things_to_choose(club),
        warning=_warning(club, sheet) if sheet else "",
        has_pupils=club.pupils.exists(),
        nothing=nothing,
    )


def _warning(club: Club, sheet: RoundSheet) -> str:
    """Who has seen the true value already."""
    (known,) = known_to(club, [core_thing(sheet.thing)])
    return warning_words(known)


def _thing(club: Club, text: str) -> Thing | None:
    return club.things.filter(pk=typed_number(text) or 0).first()


@post_only
def round_save(request: HttpRequest, club_id: int) -> HttpResponse:
    """Keep a round whole, or show what to correct with everything still typed."""
    club = club_of(club_id)
    thing = _thing(club, request.POST.get("thing", ""))
    if thing is None:
        raise InputError("is not in this club any more", where="thing", mend="Choose it again")
    day = _day(request.POST.get("day", ""))
    sheet = read_sheet(request.POST, thing, club.pupils.all(), day)
    nothing = not sheet.tries and not sheet.n_refused
    if sheet.n_refused or nothing:
        return show(request, "season/round", _view(club, sheet, day, nothing=nothing), status=422)
    kept = keep_attempts(sheet.tries, club=club, source=Source.ROUND, by=visitor_of(request).name)
    first = min(row.pk for row, _ in kept)
    address = reverse("season-round-done", args=[club.pk])
    return done(request, attempts_saved(len(kept)), f"{address}?thing={thing.pk}&from={first}")


def _day(text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise InputError(
            "is not a date", where="day", value=text[:40], mend="Write it like 2027-02-03"
        ) from None
    if day > today():
        raise InputError(
            "is in the future", where="day", value=text, mend="Choose today or an earlier day"
        )
    return day


def round_saved(request: HttpRequest, club_id: int) -> HttpResponse:
    """Whether a row of a round is kept, for a browser whose answer was lost on its way."""
    club = club_of(club_id)
    try:
        key = uuid.UUID(request.GET.get("key", ""))
    except ValueError:
        return JsonResponse({"saved": False})
    return JsonResponse({"saved": club.attempts.filter(key=key).exists()})


def round_done(request: HttpRequest, club_id: int) -> HttpResponse:
    """The truth, and how everybody did."""
    club = club_of(club_id)
    thing = _thing(club, request.GET.get("thing", ""))
    start = typed_number(request.GET.get("from", ""), 18)
    if thing is None or start is None:
        raise Http404
    rows = list(
        club.attempts.filter(pk__gte=start, thing=thing.name, struck_at=None)
        .order_by("pk")
        .select_related("pupil")[:200]
    )
    seen = {row.pupil_id for row in rows}
    knew = _knew(thing, start)
    view = RoundDoneView(
        title="How it went",
        club=club,
        thing=thing,
        unit=UNITS[Station(thing.station)],
        outcomes=[outcome_of(row, is_known=row.pupil_id in knew) for row in rows],
        absent=[pupil for pupil in club.pupils.all() if pupil.pk not in seen],
        step=next_step(club),
    )
    return show(request, "season/round_done", view)


def _knew(thing: Thing, first: int) -> set[int]:
    """Numbers of the pupils who had seen the true value before a round."""
    if thing.station == Station.MASS:
        return set()
    rows = thing.club.attempts.filter(
        pk__lt=first, thing=thing.name, true=thing.true, struck_at=None
    )
    return set(rows.values_list("pupil_id", flat=True))


@post_only
def attempt_strike(request: HttpRequest, attempt_id: int) -> HttpResponse:
    """Strike an attempt out, with a reason."""
    why = request.POST.get("why", "").strip()[:200]
    row = strike_attempt(attempt_id, by=visitor_of(request).name, why=why)
    back = request.POST.get("back", "")
    home = reverse("season-log", args=[row.club_id])
    inside = back.startswith("/season/") and "\\" not in back and "//" not in back
    return done(request, "It is struck out and no longer counts.", back if inside else home)
