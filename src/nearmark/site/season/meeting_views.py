"""A meeting: plan it, look at it, print it, type in what was written down, see how it went."""

from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse

from nearmark.coaching import MAX_LEARNERS, USUAL_MIN
from nearmark.printing import MeetingSheet, SheetChild, meeting_sheet_pdf
from nearmark.site.common.responses import (
    done,
    file_answer,
    paper_size,
    post_only,
    refusals_on,
    show,
)
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.forms import MeetingForm
from nearmark.site.season.meeting_actions import make_meeting, plan_rest_again, results_of
from nearmark.site.season.meeting_page import (
    PartLine,
    fetch_lines,
    lines_of,
    meeting_of,
    part_lines,
    refill_lines,
)
from nearmark.site.season.meeting_sheet import PlaceLine
from nearmark.site.season.models import Club, Meeting, Pupil
from nearmark.site.season.round_views import Outcome, outcome_of
from nearmark.site.season.views import NextStep, club_of, next_step
from nearmark.station import UNITS, Station


@dataclass(frozen=True, slots=True)
class MeetingFormView:
    """Who is here, how long and with what, before there is a plan."""

    title: str
    club: Club
    form: MeetingForm


@dataclass(frozen=True, slots=True)
class MeetingView:
    """The plan of a meeting."""

    title: str
    club: Club
    meeting: Meeting
    parts: list[PartLine]
    fetch: list[str]
    refills: list[str]
    has_slots: bool  # whether pupils go to stations in it
    form: MeetingForm


@dataclass(frozen=True, slots=True)
class MeetingTypeView:
    """All numbers of a meeting, in the order of the printed page."""

    title: str
    club: Club
    meeting: Meeting
    rows: list[tuple[Pupil, list[PlaceLine]]]
    n_refused: int


@dataclass(frozen=True, slots=True)
class MeetingDoneView:
    """The true values, and how everybody did."""

    title: str
    club: Club
    meeting: Meeting
    # Name, true value and unit of each thing.
    things: list[tuple[str, float, str, list[Outcome]]]
    n_missing: int  # places without a number
    step: NextStep


@post_only
def meeting_plan(request: HttpRequest, club_id: int) -> HttpResponse:
    """Plan a meeting; by one press for all pupils and twenty minutes."""
    club = club_of(club_id)
    pupils = list(club.pupils.all())
    form = MeetingForm(pupils, request.POST if "minutes" in request.POST else _usual(pupils))
    with refusals_on(form):
        here = [pupil for pupil in pupils if str(pupil.pk) in form.checked()["here"]]
        meeting = make_meeting(club, here, form.wanted, by=visitor_of(request).name)
        return done(request, "The plan is ready.", "season-meeting", meeting.pk)
    view = MeetingFormView("Plan a meeting", club, form)
    return show(request, "season/meeting_form", view, status=form.http_status)


def _usual(pupils: list[Pupil]) -> dict[str, Any]:
    here = [str(pupil.pk) for pupil in pupils[:MAX_LEARNERS]]
    return {"here": here, "minutes": USUAL_MIN, "scales": 1}


def meeting(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """The plan."""
    record = meeting_of(meeting_id)
    return show(request, "season/meeting", _view(record, form_of(record)))


def _view(record: Meeting, form: MeetingForm) -> MeetingView:
    lines = lines_of(record)
    return MeetingView(
        title="Meeting",
        club=record.club,
        meeting=record,
        parts=part_lines(record, lines),
        fetch=fetch_lines(record, lines),
        refills=refill_lines(record),
        has_slots=any(part.slot is not None for part in record.parts()),
        form=form,
    )


def form_of(record: Meeting) -> MeetingForm:
    """Who is here, how long and with what, as it was planned."""
    initial = {
        "here": [str(pk) for pk in record.pupils.values_list("pk", flat=True)],
        "minutes": record.minutes,
        "scales": record.scales,
        "calculators": record.calculators,
    }
    return MeetingForm(list(record.club.pupils.all()), initial=initial)


def rows_of(lines: list[PlaceLine]) -> list[tuple[Pupil, list[PlaceLine]]]:
    """The lines of each pupil, in the order of the slots."""
    rows: dict[str, list[PlaceLine]] = defaultdict(list)
    for line in lines:
        rows[line.place.pupil.name].append(line)
    return [(rows[name][0].place.pupil, rows[name]) for name in sorted(rows)]


@post_only
def meeting_again(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """Plan again for those who are here now: all of it, or what is left while it runs."""
    record = meeting_of(meeting_id)
    club: Club = record.club
    pupils = list(club.pupils.all())
    form = MeetingForm(pupils, request.POST)
    by = visitor_of(request).name
    with refusals_on(form):
        here = [pupil for pupil in pupils if str(pupil.pk) in form.checked()["here"]]
        if record.part is None:
            made = make_meeting(club, here, form.wanted, by=by)
            return done(request, "The plan is made again.", "season-meeting", made.pk)
        plan_rest_again(record, here, by=by)
        return done(request, "The rest is planned again.", "season-meeting-run", record.pk)
    return show(request, "season/meeting", _view(record, form), status=form.http_status)


def meeting_type(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """All numbers of a meeting on one screen, in the order of the printed page."""
    record = meeting_of(meeting_id)
    return show(request, "season/meeting_type", type_view(record, lines_of(record)))


def type_view(record: Meeting, lines: list[PlaceLine]) -> MeetingTypeView:
    """What the screen to type on shows."""
    n_refused = sum(bool(line.refusal) for line in lines)
    return MeetingTypeView("Type in a meeting", record.club, record, rows_of(lines), n_refused)


def meeting_done(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """The true values, and how everybody did, thing by thing."""
    record = meeting_of(meeting_id)
    kept = results_of(record)
    by_thing: dict[str, list[Outcome]] = defaultdict(list)
    truths: dict[str, tuple[float, str]] = {}
    for place in record.places.all():
        row = kept.get(place.key)
        if row is not None:
            by_thing[row.thing].append(outcome_of(row))
            truths[row.thing] = (row.true, UNITS[Station(row.station)])
    view = MeetingDoneView(
        title="How the meeting went",
        club=record.club,
        meeting=record,
        things=[(name, *truths[name], by_thing[name]) for name in sorted(by_thing)],
        n_missing=record.places.exclude(thing=None).exclude(key__in=list(kept)).count(),
        step=next_step(record.club),
    )
    return show(request, "season/meeting_done", view)


def meeting_pdf(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """The plan with a tally, as one page."""
    record = meeting_of(meeting_id)
    lines = lines_of(record)
    sheet = MeetingSheet(
        club=record.club.name,
        day=record.day,
        parts=[
            (line.part.begins_min, line.ends_min, line.title, line.words)
            for line in part_lines(record, lines)
        ],
        fetch=fetch_lines(record, lines),
        slots=[part.begins_min for part in record.parts() if part.slot is not None],
        children=[
            SheetChild(
                pupil.name,
                [
                    (line.place.slot, line.place.thing.name if line.place.thing else None)
                    for line in own
                ],
                next((line.say for line in own if line.place.thing), ""),
            )
            for pupil, own in rows_of(lines)
        ],
    )
    return file_answer(meeting_sheet_pdf(sheet, paper=paper_size(request)), "meeting.pdf")
