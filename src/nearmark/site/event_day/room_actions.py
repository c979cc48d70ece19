"""The rooms of an event: add one, change it, remove one that nothing uses."""

from typing import Final

from nearmark.contest import HeatState
from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.models import EventRecord, PairRecord, RoomRecord
from nearmark.site.event_day.heats.state import run_clock
from nearmark.words.numbers import plural

MAX_ROOMS: Final = 6
"""More clocks would not fit one screen."""


def add_room(name: str, places: int, accessible_places: int | None, *, by: str) -> RoomRecord:
    """Add a room; RuleError while a clock without a room runs, which would be of none then."""
    with writing():
        event = open_event()
        if event.rooms.count() >= MAX_ROOMS:
            raise RuleError(
                f"there are {MAX_ROOMS} rooms already", where="room", mend="Remove one first"
            )
        if not event.rooms.exists():
            _close_the_one_clock(event)
        room = RoomRecord(event=event)
        _save(event, room, name, places, accessible_places)
        note(event, by, f"added the room {room.name}", new=_facts(room))
    return room


def change_room(
    room_id: int, name: str, places: int, accessible_places: int | None, *, by: str
) -> RoomRecord:
    """Change a room; its pairs and its clock keep it under its new name."""
    with writing():
        event = open_event()
        room = known_row(event.rooms, "room", "Load the page again", pk=room_id)
        old_name, old = room.name, _facts(room)
        _save(event, room, name, places, accessible_places)
        if room.name != old_name:
            event.pairs.filter(room=old_name).update(room=room.name)
            event.heat_runs.filter(room=old_name).update(room=room.name)
        note(event, by, f"changed the room {old_name}", old=old, new=_facts(room))
    return room


def remove_room(room_id: int, *, by: str) -> str:
    """Remove a room that no pair has and in which no heat was started. Returns its name."""
    with writing():
        event = open_event()
        room = known_row(event.rooms, "room", "Load the page again", pk=room_id)
        n_pairs = event.pairs.filter(room=room.name).count()
        n_heats = event.heat_runs.filter(room=room.name).count()
        if n_pairs or n_heats:
            raise RuleError(
                f"is used by {plural(n_pairs, 'pair')} and {plural(n_heats, 'heat')}",
                where="room",
                mend="Give its pairs another room first; a room with a started heat stays",
            )
        room.delete()
        note(event, by, f"removed the room {room.name}", old=_facts(room))
    return room.name


def set_room(pair_id: int, room: str, *, by: str) -> PairRecord:
    """Give a pair its room. ``room``: name; empty: none."""
    with writing():
        event = open_event()
        pair = known_row(event.pairs, "pair", pk=pair_id)
        if room and not event.rooms.filter(name=room).exists():
            raise InputError(
                "is not a room of this event",
                where="room",
                value=room[:60],
                mend="Choose one of the list",
            )
        if room != pair.room:
            note(event, by, f"gave pair {pair.code} a room", old=pair.room, new=room)
            pair.room = room
            pair.save(update_fields=["room"])
    return pair


def _close_the_one_clock(event: EventRecord) -> None:
    run = event.heat_runs.filter(stopped_at=None, room="").first()
    if run is None:
        return
    now = clock.steady_now()
    if run_clock(run, now).state is not HeatState.OVER:
        raise RuleError(f"{run.heat} has time left", where="room", mend="Stop it first, or wait")
    run.stopped_at = now
    run.save(update_fields=["stopped_at"])


def _save(
    event: EventRecord, room: RoomRecord, name: str, places: int, accessible_places: int | None
) -> None:
    name = " ".join(name.split())
    if event.rooms.filter(name__iexact=name).exclude(pk=room.pk).exists():
        raise InputError("is the name of another room", where="name", value=name)
    if accessible_places is not None and accessible_places > places:
        raise InputError(
            "is more than the places of the room",
            where="accessible places",
            value=accessible_places,
            mend="Leave it empty if all places can be reached",
        )
    room.name, room.places, room.accessible_places = name, places, accessible_places
    room.save()


def _facts(room: RoomRecord) -> str:
    reached = "all" if room.accessible_places is None else room.accessible_places
    return f"{room.name}: {plural(room.places, 'place')}, {reached} accessible"
