"""The clock: the full screen of the hall, and the desk that starts and stops it."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from nearmark.contest.rules import HEAT_MINUTES
from nearmark.errors import InputError
from nearmark.site.common.lookup import typed_reason
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event
from nearmark.site.event_day.heats import clock_actions as heat_runs
from nearmark.site.event_day.heats.forms import HeatExtendForm, HeatStartForm, HeatStopForm
from nearmark.site.event_day.heats.models import HeatRun
from nearmark.site.event_day.heats.own_choice import own_room
from nearmark.site.event_day.heats.plan_frame import day_of
from nearmark.site.event_day.heats.state import Hall, hall_now, halls_now, heats_of, pairs_of_heat
from nearmark.words.desk import (
    heat_goes_on,
    heat_has_minutes,
    heat_has_started,
    heat_is_paused,
    heat_is_stopped,
)
from nearmark.words.event_rooms import clocks_go_on, clocks_paused
from nearmark.words.numbers import capital
from nearmark.words.public import clock_title


@dataclass(frozen=True, slots=True)
class ClockView:
    """The clock in the hall: of one room, or of every room side by side."""

    title: str
    halls: tuple[Hall, ...]


@dataclass(frozen=True, slots=True)
class ClockControlView:
    """The desk that starts and stops the clock of a room."""

    title: str
    hall: Hall
    others: tuple[Hall, ...]  # the other rooms
    heats: list[str]
    runs: list[HeatRun]  # the newest first
    not_here: list[str]  # codes of the next heat's pairs that are not checked in
    n_coming: int
    form: HeatStartForm
    extend_form: HeatExtendForm
    stop_form: HeatStopForm


def clock(request: HttpRequest) -> HttpResponse:
    """The full screen of the hall, or of each room; it holds no name and no answer."""
    halls = halls_now(current_event())
    asked = tuple(hall for hall in halls if hall.room == request.GET.get("room"))
    return show(request, "event_day/heats/clock", ClockView(clock_title(), asked or halls))


def clock_now(request: HttpRequest) -> HttpResponse:
    """How far the heat of a room is, for the script of the clock."""
    return JsonResponse(hall_now(current_event(), request.GET.get("room", "")).as_json())


def clock_control(request: HttpRequest) -> HttpResponse:
    """Start the next heat of a room; while one runs, give it time or stop it."""
    view = _control(own_room(request, current_event()), None)
    return show(request, "event_day/heats/clock_control", view)


def _control(room: str, form: HeatStartForm | None) -> ClockControlView:
    record = current_event()
    halls = halls_now(record)
    hall = next((hall for hall in halls if hall.room == room), halls[0])
    heats = heats_of(record, hall.room) if record else []
    runs = list(record.heat_runs.filter(room=hall.room).order_by("-pk")) if record else []
    coming = pairs_of_heat(record, hall.next_heat, hall.room) if record else []
    minutes = day_of(record).minutes if record else HEAT_MINUTES
    first = {"heat": hall.next_heat, "minutes": minutes, "room": hall.room}
    return ClockControlView(
        title=_("Hall clock"),
        hall=hall,
        others=tuple(other for other in halls if other is not hall),
        heats=heats,
        runs=runs,
        not_here=[pair.code for pair in coming if pair.arrived_at is None],
        n_coming=len(coming),
        form=form or HeatStartForm(heats, hall.room, initial=first),
        extend_form=HeatExtendForm(),
        stop_form=HeatStopForm(),
    )


def _desk_of(room: str) -> str:
    """Address of the desk of a room."""
    query = f"?{urlencode({'room': room})}" if room else ""
    return f"{reverse('clock-control')}{query}"


@post_only
def clock_start(request: HttpRequest) -> HttpResponse:
    """Start a heat in its room."""
    record, room = current_event(), request.POST.get("room", "")
    form = HeatStartForm(heats_of(record, room) if record else [], room, request.POST)
    if not form.is_valid():
        view = _control(room, form)
        return show(request, "event_day/heats/clock_control", view, status=422)
    given, by = form.cleaned_data, visitor_of(request).name
    run = heat_runs.start_heat(given["heat"], given["minutes"], by=by, room=room)
    return _done(request, run, heat_has_started(run.called, run.minutes))


def _done(request: HttpRequest, run: HeatRun, words: str) -> HttpResponse:
    return done(request, capital(words), _desk_of(run.room))


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
    return _done(request, run, heat_has_minutes(run.called, run.minutes))


@post_only
def clock_pause(request: HttpRequest, run_id: int) -> HttpResponse:
    """Let the clock stand for everybody; going on undoes it."""
    why = typed_reason(request)
    run = heat_runs.pause_heat(run_id, by=visitor_of(request).name, why=why)
    return _done(request, run, heat_is_paused(run.called))


@post_only
def clock_resume(request: HttpRequest, run_id: int) -> HttpResponse:
    """Let the clock go on where it stood."""
    run = heat_runs.resume_heat(run_id, by=visitor_of(request).name)
    return _done(request, run, heat_goes_on(run.called))


@post_only
def clock_pause_all(request: HttpRequest) -> HttpResponse:
    """Let the clock of every room stand."""
    why = typed_reason(request)
    runs = heat_runs.pause_every_room(by=visitor_of(request).name, why=why)
    return done(request, clocks_paused(len(runs)), _desk_of(request.POST.get("room", "")))


@post_only
def clock_resume_all(request: HttpRequest) -> HttpResponse:
    """Let every paused clock go on where it stood."""
    runs = heat_runs.resume_every_room(by=visitor_of(request).name)
    return done(request, clocks_go_on(len(runs)), _desk_of(request.POST.get("room", "")))


@post_only
def clock_stop(request: HttpRequest, run_id: int) -> HttpResponse:
    """Stop the running heat."""
    form = HeatStopForm(request.POST)
    is_sure = form.is_valid() and form.cleaned_data["is_sure"]
    why = str(form.cleaned_data.get("why", ""))
    run = heat_runs.stop_heat(run_id, by=visitor_of(request).name, why=why, is_sure=is_sure)
    return _done(request, run, heat_is_stopped(run.called))
