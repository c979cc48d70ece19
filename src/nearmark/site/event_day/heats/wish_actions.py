"""What the day offers to the plan, and what pairs and schools ask for."""

from collections.abc import Mapping
from typing import Any

from nearmark.contest.heat_program import check_names
from nearmark.contest.heat_wish import HeatWish
from nearmark.errors import InputError
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import pairs_of
from nearmark.site.event.models import EventRecord, HeatWishRecord
from nearmark.site.event.rows import record_of, row_of
from nearmark.site.event_day.heats.plan_frame import day_of, frame_of
from nearmark.words.heat_plans import wish_words

MAX_WISHES = 500


def set_day(given: Mapping[str, Any], *, by: str) -> None:
    """Say when the heats are and how many there may be: fields of ``HeatDay``."""
    with writing():
        event = open_event()
        day = day_of(event)
        for name, value in given.items():
            setattr(day, name, value)
        day.save()
        frame_of(event).check()
        start = f"{day.first_start:%H:%M}" if day.first_start else "no time"
        note(event, by, "set the times of the heats", new=f"{start}, {day.minutes} min")


def add_wish(wish: HeatWish, *, by: str) -> None:
    """Keep a wish. Raises InputError if it asks for nothing, or is of nobody."""
    if wish == HeatWish(wish.who):
        raise InputError("asks for nothing", where="wish", mend="Fill in one more field")
    if wish.earliest and wish.latest and wish.earliest >= wish.latest:
        what = f"is not after {wish.earliest:%H:%M}"
        raise InputError(what, where="over by", value=f"{wish.latest:%H:%M}")
    with writing():
        event = open_event()
        if event.heat_wishes.count() >= MAX_WISHES:
            raise InputError(f"are more than {MAX_WISHES}", where="wishes")
        check_names(pairs_of(event), [*wishes_of(event), wish])
        row_of(HeatWishRecord, wish, event=event).save()
        note(event, by, f"added a wish of {wish.who}", new=wish_words(wish))


def remove_wish(wish_id: int, *, by: str) -> HeatWish:
    """Take a wish away; what it said stays in the history."""
    with writing():
        event = open_event()
        row = known_row(event.heat_wishes, "wish", "Load the page again", pk=wish_id)
        wish = record_of(HeatWish, row)
        row.delete()
        note(event, by, f"removed a wish of {wish.who}", old=wish_words(wish))
    return wish


def keep_by_hand(event: EventRecord, code: str, heat: int) -> None:
    """Remember that a pair was put into a heat by hand; its wish that names a heat is changed."""
    row = event.heat_wishes.filter(who=code).exclude(heat=None).first()
    row = row or HeatWishRecord(event=event, who=code)
    row.heat, row.room = heat, ""
    row.save()


def wishes_of(event: EventRecord) -> tuple[HeatWish, ...]:
    """Every wish, in the order in which they were written down."""
    return tuple(record_of(HeatWish, row) for row in event.heat_wishes.all())
