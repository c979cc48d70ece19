"""A club: what next, its pupils and pairs, and how long it is kept."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Max, Q, QuerySet
from django.http import HttpRequest, HttpResponse

from nearmark.coaching import kinds_of, what_next
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season import club_actions as clubs
from nearmark.site.season import retention_actions as season_keeping
from nearmark.site.season.coach_views import ClubCoaches, coaches_of
from nearmark.site.season.forms import KeepForm, PracticePairForm, PupilsForm, SureForm
from nearmark.site.season.habits_cache import habits_of, progress_of_club
from nearmark.site.season.models import Club, Meeting, PracticePair, Pupil
from nearmark.site.season.progress_page import ProgressView, progress_view
from nearmark.site.season.views import REMIND_BEFORE, NextStep, club_of, next_step
from nearmark.words.coaching_habits import reason_words
from nearmark.words.replies import pupils_added
from nearmark.words.sides import kind_words


@dataclass(frozen=True, slots=True)
class PupilLine:
    """A pupil in the list of a club."""

    pupil: Pupil
    n: int
    last: date | None
    next_kind: str
    next_reason: str


@dataclass(frozen=True, slots=True)
class ClubView:
    """What next for a club, its pupils and pairs, and how long it is kept."""

    title: str
    club: Club
    step: NextStep
    lines: list[PupilLine]
    progress: ProgressView | None
    pupils_form: PupilsForm
    pairs: QuerySet[PracticePair]
    pair_form: PracticePairForm
    n_things: int
    open_meeting: Meeting | None
    keep_form: KeepForm
    is_over: bool  # past the day until which it is kept
    is_soon: bool  # close to it
    coaches: ClubCoaches


def club(request: HttpRequest, club_id: int) -> HttpResponse:
    """The page of a club."""
    return show(request, "season/club", _view(request, club_of(club_id)))


def _view(
    request: HttpRequest,
    record: Club,
    *,
    pupils_form: PupilsForm | None = None,
    pair_form: PracticePairForm | None = None,
    keep_form: KeepForm | None = None,
) -> ClubView:
    """The page; a form that was refused as it was typed."""
    day = today()
    meetings = Meeting.objects.filter(club=record).order_by("-pk")[:3]
    return ClubView(
        title=record.name,
        club=record,
        step=next_step(record),
        lines=_lines(record),
        progress=progress_view(progress_of_club(record)),
        pupils_form=pupils_form or PupilsForm(),
        pairs=record.pairs.select_related("first", "second"),
        pair_form=pair_form or PracticePairForm(list(record.pupils.all())),
        n_things=record.things.filter(retired_at=None).count(),
        open_meeting=next((m for m in meetings if not m.is_over), None),
        keep_form=keep_form or KeepForm(initial={"keep_until": record.keep_until}),
        is_over=record.keep_until < day,
        is_soon=day <= record.keep_until <= day + REMIND_BEFORE,
        coaches=coaches_of(request, record),
    )


def _lines(record: Club) -> list[PupilLine]:
    habits = habits_of(record)
    known = kinds_of(habits)
    kept = Q(attempts__struck_at=None)
    lines = []
    for pupil in record.pupils.annotate(
        n=Count("attempts", filter=kept), last=Max("attempts__day", filter=kept)
    ):
        (item,) = what_next(habits.get(pupil.name, ()), known, 1)
        kind = kind_words(item.station, item.size)
        lines.append(PupilLine(pupil, pupil.n, pupil.last, kind, reason_words(item)))
    return lines


@post_only
def pupil_add(request: HttpRequest, club_id: int) -> HttpResponse:
    """Add pupils to a club."""
    record, form = club_of(club_id), PupilsForm(request.POST)
    with refusals_on(form):
        given = form.checked()
        added = clubs.add_pupils(record, given["names"], by=visitor_of(request).name)
        return done(request, pupils_added(len(added)), "season-club", record.pk)
    view = _view(request, record, pupils_form=form)
    return show(request, "season/club", view, status=form.http_status)


@post_only
def pair_add(request: HttpRequest, club_id: int) -> HttpResponse:
    """Name a pair."""
    record = club_of(club_id)
    pupils = {str(pupil.pk): pupil for pupil in record.pupils.all()}
    form = PracticePairForm(list(pupils.values()), request.POST)
    with refusals_on(form):
        given = form.checked()
        first, second = pupils[given["first"]], pupils[given["second"]]
        pair = clubs.add_pair(record, given["code"], first, second, by=visitor_of(request).name)
        return done(request, f"{pair.code} is a pair now.", "season-club", record.pk)
    view = _view(request, record, pair_form=form)
    return show(request, "season/club", view, status=form.http_status)


@post_only
def club_keep(request: HttpRequest, club_id: int) -> HttpResponse:
    """Change how long a club is kept."""
    record, form = club_of(club_id), KeepForm(request.POST)
    with refusals_on(form):
        day = form.checked()["keep_until"]
        season_keeping.set_keep_until(record, day, today=today(), by=visitor_of(request).name)
        return done(request, "Saved.", "season-club", record.pk)
    view = _view(request, record, keep_form=form)
    return show(request, "season/club", view, status=form.http_status)


@post_only
def club_delete(request: HttpRequest, club_id: int) -> HttpResponse:
    """Delete a club with everything in it."""
    record, form = club_of(club_id), SureForm(request.POST)
    is_sure = form.is_valid() and form.cleaned_data["is_sure"]
    season_keeping.delete_club(record, is_sure=is_sure, by=visitor_of(request).name)
    return done(request, "The club was deleted with everything in it.", "season")
