"""When heats start, and how far a running heat is."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from itertools import pairwise

from nearmark.contest.rules import HEAT_MINUTES
from nearmark.errors import InputError

LAST_MINUTES = 5
"""Announced in the hall (common practice, no source)."""

MAX_MINUTES = 24 * 60


@dataclass(frozen=True, slots=True)
class HeatTime:
    """When one heat is planned."""

    number: int  # heat number
    start: datetime
    end: datetime


def timetable(
    numbers: Iterable[int],
    first_start: datetime,
    *,
    minutes: int = HEAT_MINUTES,
    interval_minutes: int | None = None,
) -> tuple[HeatTime, ...]:
    """Planned times of heats, by number.

    >>> plan = timetable([1, 2], datetime(2027, 5, 8, 9), interval_minutes=40)
    >>> [f"{heat.start:%H:%M}-{heat.end:%H:%M}" for heat in plan]
    ['09:00-09:30', '09:40-10:10']

    Parameters
    ----------
    numbers : heat numbers, any number; heat 1 starts first; a number left out leaves its time free
    first_start : start of heat 1
    minutes : min, 1 to 1440; length of a heat
    interval_minutes : min, 1 to 1440, optional
        From one start to the next; ``minutes`` when left out.  Shorter than ``minutes`` lets heats
        overlap, when the next one can begin while the last one is at a later station.

    Raises
    ------
    InputError : if a number is out of its range
    """
    _check_minutes("minutes of a heat", minutes)
    step = minutes if interval_minutes is None else interval_minutes
    _check_minutes("minutes from start to start", step)
    ordered = sorted(numbers)
    for number, following in pairwise([0, *ordered]):
        if number >= following:
            raise InputError(
                "must be above zero and stand once", where="heat number", value=following
            )
    try:
        starts = [first_start + timedelta(minutes=step) * (n - 1) for n in ordered]
        ends = [start + timedelta(minutes=minutes) for start in starts]
    except OverflowError as error:
        raise InputError(
            "is beyond the calendar", where="first start", value=first_start, mend="Check the year"
        ) from error
    return tuple(map(HeatTime, ordered, starts, ends))


class HeatState(StrEnum):
    """How far a heat is."""

    NOT_STARTED = "not started"
    RUNNING = "running"
    LAST_MINUTES = "last minutes"
    PAUSED = "paused"
    OVER = "over"


@dataclass(frozen=True, slots=True)
class HeatClock:
    """A heat at one moment."""

    state: HeatState
    # Rounded up: 0 only when the time is up (s, whole, 0 to the length of the heat).
    seconds_left: int
    # Whether the clock shows a time before the start, so that it must have been set back; then the
    # full time is shown rather than more than that.
    is_set_back: bool = False


def last_minutes(minutes: int) -> int:
    """How many of a heat's last minutes are announced.

    ``LAST_MINUTES``; of a shorter heat the second half, in whole minutes, so that a heat of one
    minute announces none.

    >>> last_minutes(30), last_minutes(5), last_minutes(3), last_minutes(1)
    (5, 5, 1, 0)

    Parameters
    ----------
    minutes : min; length of the heat
    """
    return LAST_MINUTES if minutes >= LAST_MINUTES else minutes // 2


def heat_clock(
    started_at: datetime | None,
    now: datetime,
    minutes: int = HEAT_MINUTES,
    *,
    paused_at: datetime | None = None,
    paused_for: timedelta = timedelta(),
) -> HeatClock:
    """How far a heat is.

    >>> heat_clock(datetime(2027, 5, 8, 9, 0), datetime(2027, 5, 8, 9, 26))
    HeatClock(state=<HeatState.LAST_MINUTES: 'last minutes'>, seconds_left=240, is_set_back=False)

    Parameters
    ----------
    started_at : when it was started; ``None`` while it was not
    now : datetime
        Of the same clock, best in UTC: summer time begins and ends without it.  A caller that
        remembers the latest time it saw passes the later of the two: then a clock set back stops
        the count instead of giving time back.
    minutes : min, 1 to 1440; length of the heat
    paused_at : when it was paused; the count stays where it was then until this is ``None`` again
    paused_for : all earlier pauses together; the end is later by as much

    Raises
    ------
    InputError : if the length is out of its range or only one of the times has a time zone
    """
    _check_minutes("minutes of a heat", minutes)
    if started_at is None:
        return HeatClock(HeatState.NOT_STARTED, minutes * 60)
    try:
        elapsed = (now if paused_at is None else paused_at) - started_at - paused_for
    except TypeError as error:
        raise InputError(
            "has a time zone and the other time has none",
            where="start of the heat or now",
            value=f"{started_at.isoformat()}, {now.isoformat()}",
            mend="Give both with a time zone, or neither",
        ) from error
    left = timedelta(minutes=minutes) - max(elapsed, timedelta())
    seconds_left = max(0, -(-left // timedelta(seconds=1)))  # rounded up, exactly
    state = _state(seconds_left, minutes)
    if paused_at is not None and state is not HeatState.OVER:
        state = HeatState.PAUSED
    return HeatClock(state, seconds_left, is_set_back=elapsed < timedelta())


def _state(seconds_left: int, minutes: int) -> HeatState:
    if not seconds_left:
        return HeatState.OVER
    is_last = seconds_left <= last_minutes(minutes) * 60
    return HeatState.LAST_MINUTES if is_last else HeatState.RUNNING


def _check_minutes(where: str, minutes: int) -> None:
    if not 1 <= minutes <= MAX_MINUTES:
        raise InputError(
            f"must be from 1 to {MAX_MINUTES:,}",
            where=where,
            value=minutes,
            mend=f"{HEAT_MINUTES} is usual",
        )
