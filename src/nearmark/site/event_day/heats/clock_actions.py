"""The clock of a room: start a heat, give it more time, pause it, stop it."""

from datetime import datetime, timedelta
from typing import Final

from nearmark.contest import HeatState
from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.heats.models import HeatRun
from nearmark.site.event_day.heats.state import heats_of, rooms_of, run_clock
from nearmark.words.desk import heat_in_the_way, is_not_paused, pauses_nothing
from nearmark.words.translation import ENGLISH, spoken_in

MAX_MINUTES: Final = 99
"""More would not fit the screen of the hall."""


def start_heat(heat: str, minutes: int, *, by: str, room: str = "") -> HeatRun:
    """Start a heat now, in one room; no other room's clock is touched.

    ``minutes``: min, 1 to 99. ``room``: its name; empty in an event without rooms. Raises
    InputError if there is no such room or heat, or the length is out of its range. Raises RuleError
    while another heat has time left in this room.
    """
    _check_minutes(minutes)
    with writing():
        event = open_event()
        if room not in rooms_of(event):
            raise InputError(
                "is not a room of this event",
                where="room",
                value=room[:60],
                mend="Choose the room again",
            )
        if heat not in heats_of(event, room):
            raise InputError("is not a heat of this event", where="heat", value=heat[:60])
        now = clock.steady_now()
        last = event.heat_runs.filter(stopped_at=None, room=room).first()
        if last is not None:
            state = run_clock(last, now).state
            if state is not HeatState.OVER:
                raise RuleError(
                    heat_in_the_way(last.called, state),
                    where="start",
                    mend="Stop it first, or wait",
                )
            last.stopped_at = now
            last.save()
        run = HeatRun.objects.create(
            event=event, heat=heat, room=room, started_at=now, minutes=minutes
        )
        note(event, by, f"started {_plainly(run)}", new=f"{minutes} min")
    return run


def extend_heat(run_id: int, minutes: int, *, by: str, why: str) -> HeatRun:
    """Give a running heat more time. ``minutes`` (min, >= 1): added to the length."""
    if minutes < 1:
        raise InputError("must be above zero", where="minutes more", value=minutes)
    with writing():
        event = open_event()
        run = _running(event, run_id)
        _check_minutes(run.minutes + minutes)
        old = run.minutes
        run.minutes += minutes
        run.save()
        note(
            event,
            by,
            f"gave {_plainly(run)} more time",
            old=f"{old} min",
            new=f"{run.minutes} min",
            why=why,
        )
    return run


def pause_heat(run_id: int, *, by: str, why: str) -> HeatRun:
    """Let the clock of a running heat stand: nobody loses time. RuleError if it does not run."""
    with writing():
        event = open_event()
        run, now = _running(event, run_id), clock.steady_now()
        state = run_clock(run, now).state
        if state in {HeatState.OVER, HeatState.PAUSED}:
            raise RuleError(pauses_nothing(run.called, state), where="pause", mend="Look again")
        _pause(event, run, now, by=by, why=why)
    return run


def pause_every_room(*, by: str, why: str) -> list[HeatRun]:
    """Let the clock of every room stand, as in a fire alarm; those that stand already stay so."""
    with writing():
        event, now = open_event(), clock.steady_now()
        runs = [
            run
            for run in event.heat_runs.filter(stopped_at=None, paused_at=None)
            if run_clock(run, now).state is not HeatState.OVER
        ]
        for run in runs:
            _pause(event, run, now, by=by, why=why)
    return runs


def _pause(event: EventRecord, run: HeatRun, now: datetime, *, by: str, why: str) -> None:
    run.paused_at = now
    run.save()
    note(event, by, f"paused {_plainly(run)}", why=why)


def resume_heat(run_id: int, *, by: str) -> HeatRun:
    """Let a paused heat go on where it stood, to end later by the pause. RuleError if it runs."""
    with writing():
        event = open_event()
        run = _running(event, run_id)
        if run.paused_at is None:
            raise RuleError(is_not_paused(run.called), where="clock", mend="Load the page again")
        _resume(event, run, run.paused_at, by=by)
    return run


def resume_every_room(*, by: str) -> list[HeatRun]:
    """Let every paused heat go on where it stood."""
    with writing():
        event = open_event()
        runs = list(event.heat_runs.filter(stopped_at=None).exclude(paused_at=None))
        for run in runs:
            if run.paused_at is not None:
                _resume(event, run, run.paused_at, by=by)
    return runs


def _resume(event: EventRecord, run: HeatRun, paused_at: datetime, *, by: str) -> None:
    pause = max(clock.steady_now() - paused_at, timedelta())
    run.paused_for += pause
    run.paused_at = None
    run.save()
    seconds = round(pause.total_seconds())
    note(event, by, f"let {_plainly(run)} go on", new=f"after {seconds // 60} min {seconds % 60} s")


def stop_heat(run_id: int, *, by: str, why: str, is_sure: bool) -> HeatRun:
    """End a running heat before its time, for somebody who is sure: a slip costs children time."""
    if not is_sure:
        raise InputError("was not confirmed", where="stop", mend="Tick the box, then stop it")
    with writing():
        event = open_event()
        run = _running(event, run_id)
        run.stopped_at = clock.steady_now()
        run.save()
        note(event, by, f"stopped {_plainly(run)}", why=why)
    return run


def _running(event: EventRecord, run_id: int) -> HeatRun:
    run = event.heat_runs.filter(pk=run_id, stopped_at=None).first()
    if run is None:
        raise RuleError(
            "this heat is not running any more", where="clock", mend="Load the page again"
        )
    return run


def _plainly(run: HeatRun) -> str:
    """As the history names it: its language is that of no visitor."""
    with spoken_in(ENGLISH):
        return run.called


def _check_minutes(minutes: int) -> None:
    if not 1 <= minutes <= MAX_MINUTES:
        raise InputError(
            f"must be from 1 to {MAX_MINUTES}",
            where="minutes",
            value=minutes,
            mend="30 is usual",
        )
