"""The what-if page: asked by the address, so that a plan can be shared and asking keeps nothing."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import time
from typing import Any

from django.http import HttpRequest, HttpResponse

from nearmark.charts.day_course import day_course_svg
from nearmark.contest.day_flow.bands import Band
from nearmark.contest.day_flow.options import MAX_ITEMS
from nearmark.contest.day_flow.summary import DayBands, RoomBands
from nearmark.contest.event import Room
from nearmark.contest.heat_records import TAKES_PART
from nearmark.errors import InputError
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.day_plan.actions import (
    gap_minutes,
    save_plan,
    saved_day,
    usual_minutes,
)
from nearmark.site.event_day.day_plan.forms import DayPlanForm, SavePlanForm
from nearmark.site.event_day.day_plan.runs import RUNS, RunStatus
from nearmark.station import Station
from nearmark.words.day_changes import change_words, changes_head
from nearmark.words.day_course import course_words
from nearmark.words.day_flow import (
    assumed_words,
    band_text,
    clock_text,
    flow_words,
    order_words,
    plan_words,
)

WIDE_PX = 720
NARROW_PX = 340


@dataclass(frozen=True, slots=True)
class HeatRow:
    """One heat of the table."""

    number: int
    pairs: int
    starts: str
    waits: str


@dataclass(frozen=True, slots=True)
class RoomView:
    """One room: its picture and its table."""

    name: str  # empty where there is one room
    wide: str  # SVG
    narrow: str  # SVG
    course: Sequence[str]
    heats: Sequence[HeatRow]
    order: Sequence[str]


@dataclass(frozen=True, slots=True)
class Answer:
    """What the simulated days say."""

    head: str
    lines: Sequence[str]
    rooms: Sequence[RoomView]
    n_days: int
    advice_head: str  # empty while changes are tried
    advice: Sequence[str]
    percent_done: int
    is_pending: bool


@dataclass(frozen=True, slots=True)
class DayPlanView:
    """The what-if page."""

    title: str
    form: DayPlanForm
    answers: Sequence[Answer]  # none where a number is refused
    rooms: Sequence[Room]  # of the event
    assumed: str
    saved: str  # the saved plan in words; empty: none
    chosen: Sequence[tuple[str, str]]  # what "save" would keep; empty: nothing can be saved


def day_plan(request: HttpRequest) -> HttpResponse:
    """How a day flows: the answer in words, the picture, the table, and what helps."""
    record = current_event()
    rooms = _rooms(record)
    form = DayPlanForm(request.GET.dict(), _usual(record), rooms)
    answers = []
    if form.is_valid() and form.options is not None:
        answers = [_answer(RUNS.ask(form.options), form.cleaned_data["start"])]
    view = DayPlanView(
        title="Plan of the day",
        form=form,
        answers=answers,
        rooms=rooms,
        assumed=assumed_words(),
        saved=_saved_words(record),
        chosen=_chosen(form) if answers and record is not None else [],
    )
    return show(request, "event_day/day_plan/day_plan", view, status=form.http_status)


@post_only
def day_plan_save(request: HttpRequest) -> HttpResponse:
    """Keep the times of the heats, and the places, as the plan of the event."""
    form = SavePlanForm(request.POST)
    if not form.is_valid():
        raise InputError("was not understood", where="plan", mend="Load the page again")
    given = form.cleaned_data
    save_plan(
        given["minutes"],
        given["gap"],
        given["start"],
        given["places"],
        by=visitor_of(request).name,
    )
    return done(request, f"Saved: {_saved_words(current_event())}.", "day-plan")


def _saved_words(record: EventRecord | None) -> str:
    day = None if record is None else saved_day(record)
    if day is None or day.first_start is None:
        return ""
    return plan_words(day.minutes, gap_minutes(day), day.first_start)


def _chosen(form: DayPlanForm) -> list[tuple[str, str]]:
    names = [name for name in SavePlanForm.base_fields if name in form.fields]
    return [(name, str(form[name].value())) for name in names]


def _rooms(record: EventRecord | None) -> list[Room]:
    if record is None:
        return []
    return [Room(room.name, room.places) for room in record.rooms.all()]


def _usual(record: EventRecord | None) -> dict[str, Any]:
    """What the event itself says; empty where it says nothing."""
    if record is None:
        return {}
    usual: dict[str, Any] = {"places": record.heat_places, "minutes": usual_minutes(record)}
    day = saved_day(record)
    if day is not None:
        usual["gap"] = gap_minutes(day)
        if day.first_start is not None:
            usual["start"] = day.first_start
    n_pairs = record.pairs.filter(status__in=TAKES_PART).count()
    if n_pairs:
        usual["pairs"] = n_pairs
    if record.items.exists():
        for name, station in (("containers", Station.COUNT), ("boxes", Station.VOLUME)):
            usual[name] = min(record.items.filter(station=station.value).count(), MAX_ITEMS)
    return usual


def _answer(status: RunStatus, start: time) -> Answer:
    head, *lines = flow_words(status.bands, start)
    changes = status.changes
    return Answer(
        head=head,
        lines=lines,
        rooms=list(_room_views(status.bands, start)),
        n_days=status.bands.n_days,
        advice_head="" if changes is None else changes_head(changes),
        advice=[change_words(change) for change in changes or ()],
        percent_done=round(100 * status.share_done),
        is_pending=status.is_pending,
    )


def _room_views(bands: DayBands, start: time) -> Iterator[RoomView]:
    is_alone = len(bands.rooms) == 1
    for room in bands.rooms:
        title = "The day" if is_alone else f"Room {room.name}"
        wide, narrow = (
            day_course_svg(room.over_time, start=start, width_px=width, title=title)
            for width in (WIDE_PX, NARROW_PX)
        )
        yield RoomView(
            name="" if is_alone else room.name,
            wide=wide,
            narrow=narrow,
            course=course_words(room.over_time, start),
            heats=list(_heats(room, start)),
            order=order_words(room.order_wait_min),
        )


def _heats(room: RoomBands, start: time) -> Iterator[HeatRow]:
    rows = zip(room.heats, room.over_time.starts_min, room.heat_wait_min, strict=True)
    for number, (n, starts, wait) in enumerate(rows, start=1):
        yield HeatRow(number, n, _clock_band(starts, start), band_text(wait))


def _clock_band(band: Band, start: time) -> str:
    ends = dict.fromkeys(clock_text(start, each) for each in (band.low, band.high))
    return " - ".join(ends)
