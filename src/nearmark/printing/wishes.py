"""How the paper of a day is wanted: its size, names, large print, planned times, labels."""

from dataclasses import dataclass
from datetime import datetime, time, timedelta

from nearmark.contest.event import Event, Pair
from nearmark.contest.heat_records import TAKES_PART, scheduled
from nearmark.contest.heat_times import timetable
from nearmark.errors import InputError
from nearmark.printing.label_grids import CUT_MARKS, LabelGrid
from nearmark.words.day_roles import from_to


@dataclass(frozen=True, slots=True)
class Wishes:
    """What somebody chose before printing."""

    paper: str = "a4"  # or ``us-letter``
    language: str = "en"  # of what children, families and helpers read
    names: bool = False  # children's names too, where they can be
    large: bool = False  # large print, where a page is read by children or hangs on a wall
    seal: str = ""  # when the keys were sealed, and their hash; empty: not sealed
    start: time | None = None  # of heat 1; ``None``: times are left open
    minutes: int | None = None  # length of a heat (min); ``None``: as the rule set says
    interval: int | None = None  # from start to start; ``None``: the length (min)
    labels: LabelGrid = CUT_MARKS
    places: int | None = None  # to scoop at; ``None``: those of the rooms, or of the rule set


def minutes_of(event: Event, wishes: Wishes) -> int:
    """How long a heat is, on every paper (min)."""
    return event.rules.usual_minutes if wishes.minutes is None else wishes.minutes


def planned_times(event: Event, wishes: Wishes) -> dict[str, str]:
    """When each heat is planned, from start to end, by the heat of its pairs.

    Empty without a start; a heat that is not numbered has no time.
    """
    length = timedelta(minutes=minutes_of(event, wishes))
    return {
        heat: from_to(f"{start:%H:%M}", f"{start + length:%H:%M}")
        for heat, start in planned_starts(event, wishes).items()
    }


def planned_starts(event: Event, wishes: Wishes) -> dict[str, datetime]:
    """When each heat starts as planned, by the heat of its pairs.

    Empty without a start; a heat that is not numbered has no time.
    """
    if wishes.start is None:
        return {}
    numbers = {
        pair.heat: number
        for pair in event.pairs
        if pair.status in TAKES_PART and (number := _number(pair)) is not None
    }
    plan = timetable(
        set(numbers.values()),
        datetime.combine(event.day, wishes.start),
        minutes=minutes_of(event, wishes),
        interval_minutes=wishes.interval,
    )
    starts = {time.number: time.start for time in plan}
    return {heat: starts[number] for heat, number in numbers.items()}


def _number(pair: Pair) -> int | None:
    try:
        return scheduled([pair]).get(pair.code)
    except InputError:  # a heat with a name of its own
        return None
