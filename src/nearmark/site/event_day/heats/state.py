"""What the clock of the hall shows now."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.db.models import QuerySet
from django.utils import timezone

from nearmark.contest import HeatClock, HeatState, heat_clock
from nearmark.contest.heat_records import TAKES_PART, in_order
from nearmark.contest.heat_times import last_minutes
from nearmark.site.common import clock
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event_day.heats.models import HeatRun
from nearmark.words.event_rooms import heat_in_room, room_now
from nearmark.words.heats import heat_text
from nearmark.words.numbers import capital
from nearmark.words.public import last_minutes_words, not_started

EVERYBODY: Final = "everybody"
"""The one heat of an event whose pairs have none."""

ONE_ROOM: Final = ("",)
"""The rooms of an event that names none."""


@dataclass(frozen=True, slots=True)
class Hall:
    """A room at one moment."""

    room: str  # empty: the event has no rooms
    run: HeatRun | None  # the newest of this room; ``None`` before the first one
    now: HeatClock
    elapsed_ms: int  # since the start, without the pauses (ms)
    next_heat: str  # empty when every heat has had its turn
    next_codes: tuple[str, ...]  # of the pairs that come next

    @property
    def heat(self) -> str:
        """The newest heat; empty before the first one."""
        return self.run.heat if self.run else ""

    @property
    def state(self) -> str:
        """Where the heat is, as the clock of the hall says it."""
        return "set back" if self.now.is_set_back else self.now.state.value

    @property
    def is_running(self) -> bool:
        """Whether a heat has time left."""
        return self.now.state not in {HeatState.NOT_STARTED, HeatState.OVER}

    @property
    def is_paused(self) -> bool:
        """Whether the clock of a heat is stopped."""
        return self.now.state is HeatState.PAUSED

    @property
    def last_minutes(self) -> int:
        """How many last minutes of this heat are announced."""
        return last_minutes(self.run.minutes) if self.run else 0

    @property
    def heat_text(self) -> str:
        """The newest heat as a headline."""
        return capital(heat_text(self.heat) or not_started())

    @property
    def last_text(self) -> str:
        """What the hall says in the last minutes."""
        return last_minutes_words(self.last_minutes)

    @property
    def ends(self) -> str:
        """Time of day at which the running heat ends; empty while none does."""
        ends_at = self.run.ends_at if self.run and self.is_running else None
        return f"{timezone.localtime(ends_at):%H:%M}" if ends_at else ""

    @property
    def left(self) -> str:
        """Time left, as a clock shows it."""
        return clock.countdown_text(1000 * self.now.seconds_left)

    @property
    def words(self) -> str:
        """What goes on in the room."""
        return room_now(
            self.room,
            heat_text(self.heat),
            self.now.state,
            self.ends,
            heat_text(self.next_heat),
        )

    @property
    def json_text(self) -> str:
        """What the script of a clock begins with."""
        return json.dumps(self.as_json())

    def as_json(self) -> dict[str, object]:
        """What the page of the hall asks for again and again."""
        return {
            "heat": self.heat,
            "heat_text": self.heat_text,
            "state": self.now.state.value,
            "minutes": self.run.minutes if self.run else 0,
            "elapsed_ms": self.elapsed_ms,
            "is_stopped": self.run is not None and self.run.stopped_at is not None,
            "is_set_back": self.now.is_set_back,
            "is_paused": self.is_paused,
            "last_minutes": self.last_minutes,
            "last_text": self.last_text,
            "ends": self.ends,
            "next_heat": heat_text(self.next_heat),
            "next_codes": list(self.next_codes),
        }


def rooms_of(record: EventRecord | None) -> tuple[str, ...]:
    """Names of the rooms; one empty name for an event without rooms."""
    names = record.rooms.values_list("name", flat=True) if record else ()
    return tuple(names) or ONE_ROOM


def room_of(record: EventRecord | None, asked: str) -> str:
    """The room that was asked for by its name, else the first one."""
    rooms = rooms_of(record)
    return asked if asked in rooms else rooms[0]


def hall_now(record: EventRecord | None, room: str = "") -> Hall:
    """A room at this moment. ``room``: its name; empty or not known: the first one."""
    if record is None:
        return Hall("", None, heat_clock(None, clock.steady_now()), 0, "", ())
    return _hall(record, room_of(record, room), list(record.heat_runs.all()))


def halls_now(record: EventRecord | None) -> tuple[Hall, ...]:
    """Every room at this moment; one without a name in an event without rooms."""
    if record is None:
        return (hall_now(None),)
    runs = list(record.heat_runs.all())
    return tuple(_hall(record, room, runs) for room in rooms_of(record))


def _hall(record: EventRecord, room: str, runs: Sequence[HeatRun]) -> Hall:
    run = next((run for run in reversed(runs) if run.room == room), None)
    to_come = heats_to_come(record, room, runs)
    following = to_come[0] if to_come else ""
    codes = tuple(pair.code for pair in pairs_of_heat(record, following, room))
    now, elapsed_ms = _run_now(run)
    return Hall(room, run, now, elapsed_ms, following, codes)


def heats_to_come(record: EventRecord, room: str, runs: Iterable[HeatRun]) -> list[str]:
    """The heats not started in a room; one of which no pair has a room may begin in any."""
    started = {(run.heat, run.room) for run in runs}
    begun = {heat for heat, _ in started}
    here = _heats_in(record, room) if room else frozenset[str]()

    def is_done(heat: str) -> bool:
        if room and heat not in here:
            return heat in begun
        return (heat, room) in started or (heat, "") in started

    return [heat for heat in heats_of(record, room) if not is_done(heat)]


def _heats_in(record: EventRecord, room: str) -> frozenset[str]:
    """Heats with pairs that have this very room."""
    pairs = record.pairs.filter(status__in=TAKES_PART, room=room)
    return frozenset(heat or EVERYBODY for heat in pairs.values_list("heat", flat=True))


def waiting_heats(record: EventRecord) -> list[str]:
    """Every heat that was not started yet, with its room where a pair of it has one."""
    runs = list(record.heat_runs.all())
    taking_part = record.pairs.filter(status__in=TAKES_PART).values_list("heat", "room")
    placed = {(heat or EVERYBODY, room) for heat, room in taking_part}
    named = [
        heat_in_room(heat, room if (heat, room) in placed else "")
        for room in rooms_of(record)
        for heat in heats_to_come(record, room, runs)
    ]
    return in_order(dict.fromkeys(named))


def _run_now(run: HeatRun | None) -> tuple[HeatClock, int]:
    present = clock.steady_now()
    if run is None:
        return heat_clock(None, present), 0
    elapsed = (run.paused_at or present) - run.started_at - run.paused_for
    return run_clock(run, present), elapsed // timedelta(milliseconds=1)


def run_clock(run: HeatRun, present: datetime) -> HeatClock:
    """How far a heat that was started is. ``present``: by ``clock.steady_now``."""
    if run.stopped_at is not None:
        return HeatClock(HeatState.OVER, 0)
    return heat_clock(
        run.started_at,
        present,
        run.minutes,
        paused_at=run.paused_at,
        paused_for=run.paused_for,
    )


def heats_of(record: EventRecord, room: str = "") -> list[str]:
    """The heats of those who take part, in their order; ``everybody`` when no pair has one.

    ``room``: only heats of this room, and those of pairs that have no room yet; empty: all heats.
    """
    taking_part = _of_room(record.pairs.filter(status__in=TAKES_PART), room)
    heats = set(taking_part.exclude(heat="").values_list("heat", flat=True))
    if not heats and taking_part.exists():
        return [EVERYBODY]
    return in_order(heats)


def _of_room(rows: QuerySet[PairRecord], room: str) -> QuerySet[PairRecord]:
    """The pairs of a room; who has none yet may be sent to any."""
    return rows.filter(room__in=(room, "")) if room else rows


def pairs_of_heat(record: EventRecord, heat: str, room: str = "") -> list[PairRecord]:
    """Those who take part in a heat, in one room or in all."""
    if not heat:
        return []
    rows = _of_room(record.pairs.filter(status__in=TAKES_PART), room)
    return list(rows if heat == EVERYBODY else rows.filter(heat=heat))
