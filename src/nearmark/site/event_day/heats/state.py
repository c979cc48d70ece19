"""What the clock of the hall shows now."""

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.utils import timezone

from nearmark.contest import HeatClock, HeatState, heat_clock
from nearmark.contest.heat_records import TAKES_PART
from nearmark.contest.heat_times import last_minutes
from nearmark.site.common import clock
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event_day.heats.models import HeatRun
from nearmark.words.heats import heat_text
from nearmark.words.numbers import capital
from nearmark.words.public import last_minutes_words, not_started

EVERYBODY: Final = "everybody"
"""The one heat of an event whose pairs have none."""

_NUMBER = re.compile(r"\d{1,6}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Hall:
    """The hall at one moment."""

    run: HeatRun | None  # the newest; ``None`` before the first one
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
        minutes, seconds = divmod(self.now.seconds_left, 60)
        return f"{minutes}:{seconds:02}"

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


def hall_now(record: EventRecord | None) -> Hall:
    """The hall at this moment."""
    if record is None:
        return Hall(None, heat_clock(None, clock.steady_now()), 0, "", ())
    run = record.heat_runs.last()
    done = set(record.heat_runs.values_list("heat", flat=True))
    following = next((heat for heat in heats_of(record) if heat not in done), "")
    codes = tuple(pair.code for pair in pairs_of_heat(record, following))
    now, elapsed_ms = _run_now(run)
    return Hall(run, now, elapsed_ms, following, codes)


def _run_now(run: HeatRun | None) -> tuple[HeatClock, int]:
    present = clock.steady_now()
    if run is None:
        return heat_clock(None, present), 0
    elapsed = (run.paused_at or present) - run.started_at - run.paused_for
    return run_clock(run, present), elapsed // timedelta(milliseconds=1)


def run_clock(run: HeatRun, present: datetime) -> HeatClock:
    """How far a heat that was started is.

    ``present``: by ``clock.steady_now``.
    """
    if run.stopped_at is not None:
        return HeatClock(HeatState.OVER, 0)
    return heat_clock(
        run.started_at,
        present,
        run.minutes,
        paused_at=run.paused_at,
        paused_for=run.paused_for,
    )


def heats_of(record: EventRecord) -> list[str]:
    """The heats of those who take part, in their order; ``everybody`` when no pair has one."""
    taking_part = record.pairs.filter(status__in=TAKES_PART)
    heats = set(taking_part.exclude(heat="").values_list("heat", flat=True))
    if not heats and taking_part.exists():
        return [EVERYBODY]
    return in_order(heats)


def in_order(heats: Iterable[str]) -> list[str]:
    """Heats as people count: heat 2 before heat 10, those without a number last.

    ``heats``: any number of str.

    >>> in_order(["late", "heat 10", "heat 2"])
    ['heat 2', 'heat 10', 'late']
    """

    def place(heat: str) -> tuple[bool, int, str]:
        number = _NUMBER.search(heat)
        return (number is None, int(number[0]) if number else 0, heat)

    return sorted(heats, key=place)


def pairs_of_heat(record: EventRecord, heat: str) -> list[PairRecord]:
    """Those who take part in a heat."""
    rows = record.pairs.filter(status__in=TAKES_PART)
    return list(rows if heat == EVERYBODY else rows.filter(heat=heat)) if heat else []
