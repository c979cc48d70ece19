"""Saving what the lead decides on: the times of the heats, and their places."""

from datetime import time

from nearmark.contest.day_flow.room import MAX_AT_ONCE, check_whole
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.heats.models import HeatDay
from nearmark.site.event_day.heats.plan_frame import day_of
from nearmark.site.event_day.heats.wish_actions import set_day


def saved_day(event: EventRecord) -> HeatDay | None:
    """The times of the heats; ``None`` while nobody has said them."""
    return HeatDay.objects.filter(event=event).first()


def usual_minutes(event: EventRecord) -> int:
    """How long a heat is: as planned, else as the rule set says, else as is usual (min)."""
    return day_of(event).minutes


def gap_minutes(day: HeatDay) -> int:
    """From the end of a heat to the next start; below 0 they overlap (min)."""
    return 0 if day.interval_minutes is None else day.interval_minutes - day.minutes


def save_plan(
    minutes: int, gap: int, first_start: time, places: int | None, *, by: str
) -> HeatDay | None:
    """Keep the times of the heats, and how many pairs go together.

    ``minutes``, ``gap`` (min): length of a heat, and from its end to the next start; below 0 they
    overlap. ``places``: pairs in a heat; ``None``: the rooms of the event say it.
    """
    with writing():
        event = open_event()
        check_whole("minutes from start to start", minutes + gap, 1, 24 * 60)
        times = {"first_start": first_start, "minutes": minutes}
        set_day(times | {"interval_minutes": minutes + gap if gap else None}, by=by)
        if places is not None and places != event.heat_places:
            check_whole("places", places, 1, MAX_AT_ONCE)
            before, event.heat_places = event.heat_places, places
            event.save(update_fields=["heat_places"])
            note(event, by, "changed the places of a heat", old=str(before), new=str(places))
        return saved_day(event)
