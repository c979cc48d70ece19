"""The clock: the full screen of the hall, and the desk that starts and stops it."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse

from nearmark.contest.heat_times import HEAT_MINUTES
from nearmark.errors import InputError
from nearmark.site.common.forms import NoteForm
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event
from nearmark.site.event_day.heats import clock_actions as heat_runs
from nearmark.site.event_day.heats.forms import HeatExtendForm, HeatStartForm, HeatStopForm
from nearmark.site.event_day.heats.models import HeatRun
from nearmark.site.event_day.heats.state import Hall, hall_now, heats_of, pairs_of_heat
from nearmark.words.public import clock_title


@dataclass(frozen=True, slots=True)
class ClockView:
    """The clock in the hall."""

    title: str
    hall: Hall


@dataclass(frozen=True, slots=True)
class ClockControlView:
    """The desk that starts and stops the clock."""

    title: str
    hall: Hall
    heats: list[str]
    runs: list[HeatRun]  # the newest first
    not_here: list[str]  # codes of the next heat's pairs that are not checked in
    n_coming: int
    form: HeatStartForm
    extend_form: HeatExtendForm
    stop_form: HeatStopForm


def clock(request: HttpRequest) -> HttpResponse:
    """The full screen of the hall; it holds no name and no answer."""
    view = ClockView(clock_title(), hall_now(current_event()))
    return show(request, "event_day/heats/clock", view)


def clock_now(request: HttpRequest) -> HttpResponse:
    """How far the heat is, for the script of the clock."""
    del request
    return JsonResponse(hall_now(current_event()).as_json())


def clock_control(request: HttpRequest) -> HttpResponse:
    """Start the next heat; while one runs, give it time or stop it."""
    return show(request, "event_day/heats/clock_control", _control(None))


def _control(form: HeatStartForm | None) -> ClockControlView:
    record = current_event()
    hall = hall_now(record)
    heats = heats_of(record) if record else []
    runs = list(record.heat_runs.order_by("-pk")) if record else []
    coming = pairs_of_heat(record, hall.next_heat) if record else []
    first = {"heat": hall.next_heat, "minutes": runs[0].minutes if runs else HEAT_MINUTES}
    return ClockControlView(
        title="Hall clock",
        hall=hall,
        heats=heats,
        runs=runs,
        not_here=[pair.code for pair in coming if pair.arrived_at is None],
        n_coming=len(coming),
        form=form or HeatStartForm(heats, initial=first),
        extend_form=HeatExtendForm(),
        stop_form=HeatStopForm(),
    )


@post_only
def clock_start(request: HttpRequest) -> HttpResponse:
    """Start a heat."""
    record = current_event()
    form = HeatStartForm(heats_of(record) if record else [], request.POST)
    if not form.is_valid():
        return show(request, "event_day/heats/clock_control", _control(form), status=422)
    given = form.cleaned_data
    run = heat_runs.start_heat(given["heat"], given["minutes"], by=visitor_of(request).name)
    return done(
        request,
        f"{run.heat} has started: {run.minutes} min.".capitalize(),
        reverse("clock-control"),
    )


@post_only
def clock_extend(request: HttpRequest, run_id: int) -> HttpResponse:
    """Give the running heat more time."""
    form = HeatExtendForm(request.POST)
    if not form.is_valid():
        raise InputError(
            "must be a whole number from 1 to 60",
            where="minutes more",
            value=request.POST.get("more", "")[:20],
        )
    given = form.cleaned_data
    run = heat_runs.extend_heat(
        run_id, given["more"], by=visitor_of(request).name, why=given["why"]
    )
    return done(
        request, f"{run.heat} now has {run.minutes} min.".capitalize(), reverse("clock-control")
    )


@post_only
def clock_pause(request: HttpRequest, run_id: int) -> HttpResponse:
    """Let the clock stand for everybody; going on undoes it."""
    form = NoteForm(request.POST)
    why = str(form.cleaned_data["why"]) if form.is_valid() else ""
    run = heat_runs.pause_heat(run_id, by=visitor_of(request).name, why=why)
    words = f"{run.heat} is paused: the time does not run.".capitalize()
    return done(request, words, reverse("clock-control"))


@post_only
def clock_resume(request: HttpRequest, run_id: int) -> HttpResponse:
    """Let the clock go on where it stood."""
    run = heat_runs.resume_heat(run_id, by=visitor_of(request).name)
    return done(request, f"{run.heat} goes on.".capitalize(), reverse("clock-control"))


@post_only
def clock_stop(request: HttpRequest, run_id: int) -> HttpResponse:
    """Stop the running heat."""
    form = HeatStopForm(request.POST)
    is_sure = form.is_valid() and form.cleaned_data["is_sure"]
    why = str(form.cleaned_data.get("why", ""))
    run = heat_runs.stop_heat(run_id, by=visitor_of(request).name, why=why, is_sure=is_sure)
    return done(request, f"{run.heat} is stopped.".capitalize(), reverse("clock-control"))
