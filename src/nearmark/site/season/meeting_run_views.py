"""A meeting that runs: a countdown, who is where, a number each, and on to the next part."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect

from nearmark.site.common import clock
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.refusals import asks_json
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.forms import MeetingForm
from nearmark.site.season.meeting_actions import go_to, keep_results
from nearmark.site.season.meeting_page import PartLine, left_ms, lines_of, meeting_of, part_lines
from nearmark.site.season.meeting_sheet import PlaceLine, read_places
from nearmark.site.season.meeting_views import form_of, type_view
from nearmark.site.season.models import Meeting, MeetingPlace


@dataclass(frozen=True, slots=True)
class MeetingRunView:
    """The part of a meeting that runs."""

    title: str
    meeting: Meeting
    now: PartLine
    number: int  # of the part, from 0
    n_parts: int
    coming: PartLine | None
    coming_places: list[MeetingPlace]
    left_ms: int
    left: str  # the same as a clock shows it
    lines: tuple[PlaceLine, ...]
    missing: list[PlaceLine]  # of the parts before, still without a number
    n_refused: int
    form: MeetingForm


@post_only
def meeting_start(_request: HttpRequest, meeting_id: int) -> HttpResponse:
    """Begin the first part."""
    record = go_to(meeting_of(meeting_id).pk, 0)
    return redirect("season-meeting-run", record.pk)


def run(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """The part that runs."""
    record = meeting_of(meeting_id)
    if record.part is None:
        return redirect("season-meeting", record.pk)
    if record.is_over:
        return redirect("season-meeting-done", record.pk)
    return show(request, "season/meeting_run", _view(record, lines_of(record)))


def _view(record: Meeting, lines: list[PlaceLine]) -> MeetingRunView:
    parts = part_lines(record, lines)
    number = record.part or 0
    now = parts[number]
    coming = parts[number + 1] if number + 1 < len(parts) else None
    left = left_ms(record)
    return MeetingRunView(
        title=now.title,
        meeting=record,
        now=now,
        number=number,
        n_parts=len(parts),
        coming=coming,
        coming_places=[line.place for line in coming.places] if coming else [],
        left_ms=left,
        left=clock.countdown_text(left),
        lines=now.places,
        missing=[
            line
            for part in parts[:number]
            for line in part.places
            if line.place.thing and (line.kept is None or line.refusal)
        ],
        n_refused=sum(bool(line.refusal) for line in lines),
        form=form_of(record),
    )


def now(_request: HttpRequest, meeting_id: int) -> HttpResponse:
    """Which part runs and what is left of it, for screens that show it."""
    record = meeting_of(meeting_id)
    return JsonResponse({"part": record.part, "left_ms": left_ms(record)})


@post_only
def save(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """Keep the numbers that were typed, all or none; go on when that was asked for."""
    record = meeting_of(meeting_id)
    lines = lines_of(record)
    results = read_places(request.POST, record, lines)
    is_refused = any(line.refusal for line in lines)
    if not is_refused:
        keep_results(results, club=record.club, by=visitor_of(request).name)
    if asks_json(request):
        refused = {line.place.pk: line.refusal for line in lines if line.refusal}
        return JsonResponse({"refusals": refused}, status=422 if is_refused else 200)
    is_typed_in = request.POST.get("page") == "type"
    if is_refused:
        if is_typed_in or record.part is None or record.is_over:
            return show(request, "season/meeting_type", type_view(record, lines), status=422)
        return show(request, "season/meeting_run", _view(record, lines), status=422)
    if is_typed_in:
        go_to(record.pk, len(record.parts()))
        return done(request, "Saved.", "season-meeting-done", record.pk)
    go = typed_number(request.POST.get("go", ""), 3)
    if go is not None:
        go_to(record.pk, go)
    return redirect("season-meeting-run", record.pk)


@post_only
def finish(request: HttpRequest, meeting_id: int) -> HttpResponse:
    """Say that a meeting was held, with paper or without any number."""
    record = meeting_of(meeting_id)
    go_to(record.pk, len(record.parts()))
    return done(request, "Saved.", "season-meeting-done", record.pk)
