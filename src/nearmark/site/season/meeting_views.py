"""A meeting: plan it, look at it, print it, type in what was written down, see how it went."""

from collections import defaultdict
from typing import Any

from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.coaching import MAX_LEARNERS, USUAL_MIN
from nearmark.printing import MeetingSheet, SheetChild, meeting_sheet_pdf
from nearmark.site.common.responses import done, file_answer, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.forms import MeetingForm
from nearmark.site.season.meeting_actions import (
    make_meeting,
    plan_rest_again,
    results_of,
)
from nearmark.site.season.meeting_models import Meeting
from nearmark.site.season.meeting_page import (
    fetch_lines,
    lines_of,
    meeting_of,
    part_lines,
    refill_lines,
)
from nearmark.site.season.meeting_sheet import PlaceLine
from nearmark.site.season.models import Club, Pupil
from nearmark.site.season.round_views import outcome_of
from nearmark.site.season.views import club_of, next_step
from nearmark.station import UNITS, Station


@post_only
def meeting_plan(request: HttpRequest, club_id: int) -> HttpResponse:
    """Plan a meeting; by one press for all pupils and twenty minutes."""
    club = club_of(club_id)
    pupils = list(club.pupils.all())
    form = MeetingForm(pupils, request.POST if "minutes" in request.POST else _usual(pupils))
    if form.is_valid():
        with refusals_on(form):
            here = [pupil for pupil in pupils if str(pupil.pk) in form.cleaned_data["here"]]
            meeting = make_meeting(club, here, form.wanted, by=visitor_of(request).name)
            return done(request, "The plan is ready.", _address(meeting))
    context = {"title": "Plan a meeting", "club": club, "form": form}
    return show(request, "season/meeting_form", context, status=form.http_status)


def _usual(pupils: list[Pupil]) -> dict[str, Any]:
    here = [str(pupil.pk) for pupil in pupils[:MAX_LEARNERS]]
    return {"here": here, "minutes": USUAL_MIN, "scales": 1}


def _address(meeting: Meeting) -> str:
    return reverse("season-meeting", args=[meeting.pk])


def meeting(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """The plan."""
    record = meeting_of(meeting_id)
    return show(request, "season/meeting", _context(record))


def _context(record: Meeting, **forms: Form) -> dict[str, object]:
    lines = lines_of(record)
    context: dict[str, object] = {
        "title": "Meeting",
        "club": record.club,
        "meeting": record,
        "parts": part_lines(record, lines),
        "fetch": fetch_lines(record, lines),
        "refills": refill_lines(record),
        "slots": [part for part in record.parts() if part.slot is not None],
        "form": form_of(record),
    }
    return context | forms


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
    if form.is_valid():
        here = [pupil for pupil in pupils if str(pupil.pk) in form.cleaned_data["here"]]
        with refusals_on(form):
            if record.part is None:
                made = make_meeting(club, here, form.wanted, by=by)
                return done(request, "The plan is made again.", _address(made))
            plan_rest_again(record, here, by=by)
            address = reverse("season-meeting-run", args=[record.pk])
            return done(request, "The rest is planned again.", address)
    return show(request, "season/meeting", _context(record, form=form), status=form.http_status)


def meeting_type(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """All numbers of a meeting on one screen, in the order of the printed page."""
    record = meeting_of(meeting_id)
    return show(request, "season/meeting_type", type_context(record, lines_of(record)))


def type_context(record: Meeting, lines: list[PlaceLine]) -> dict[str, object]:
    """What the screen to type on shows."""
    return {
        "title": "Type in a meeting",
        "club": record.club,
        "meeting": record,
        "rows": rows_of(lines),
        "slots": [part for part in record.parts() if part.slot is not None],
        "n_refused": sum(bool(line.refusal) for line in lines),
    }


def meeting_done(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """The true values, and how everybody did, thing by thing."""
    record = meeting_of(meeting_id)
    kept = results_of(record)
    by_thing: dict[str, list[object]] = defaultdict(list)
    truths: dict[str, tuple[float, str]] = {}
    for place in record.places.all():
        row = kept.get(place.key)
        if row is not None:
            by_thing[row.thing].append(outcome_of(row))
            truths[row.thing] = (row.true, UNITS[Station(row.station)])
    context = {
        "title": "How the meeting went",
        "club": record.club,
        "meeting": record,
        "things": [(name, *truths[name], by_thing[name]) for name in sorted(by_thing)],
        "n_missing": record.places.exclude(thing=None).exclude(key__in=list(kept)).count(),
        "step": next_step(record.club),
    }
    return show(request, "season/meeting_done", context)


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
    paper = "us-letter" if request.GET.get("paper") == "letter" else "a4"
    return file_answer(meeting_sheet_pdf(sheet, paper=paper), "meeting.pdf")
