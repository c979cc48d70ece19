"""The rooms of an event, edited in its settings; and the room of a pair."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import open_event
from nearmark.site.event_day import room_actions as rooms
from nearmark.site.event_day.event_settings import settings_view
from nearmark.site.event_day.forms import RoomForm, room_form


@post_only
def room_add(request: HttpRequest) -> HttpResponse:
    """Add a room."""
    record = open_event()
    form = RoomForm(request.POST, auto_id="new-room-%s")
    with refusals_on(form):
        room = rooms.add_room(**form.checked(), by=visitor_of(request).name)
        return _done(request, f"{room.name} was added.")
    view = settings_view(record, new_room=form)
    return show(request, "event_day/event_change", view, status=form.http_status)


@post_only
def room_change(request: HttpRequest, room_id: int) -> HttpResponse:
    """Change a room."""
    record = open_event()
    row = record.rooms.filter(pk=room_id).first()
    form = room_form(row, request.POST)
    with refusals_on(form):
        room = rooms.change_room(room_id, **form.checked(), by=visitor_of(request).name)
        return _done(request, f"{room.name} was changed.")
    view = settings_view(record, changed={room_id: form})
    return show(request, "event_day/event_change", view, status=form.http_status)


@post_only
def room_remove(request: HttpRequest, room_id: int) -> HttpResponse:
    """Remove a room that nothing uses."""
    name = rooms.remove_room(room_id, by=visitor_of(request).name)
    return _done(request, f"{name} was removed.")


def _done(request: HttpRequest, words: str) -> HttpResponse:
    return done(request, words, f"{reverse('event-change')}#rooms")


@post_only
def pair_room(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Give a pair its room."""
    pair = rooms.set_room(pair_id, request.POST.get("room", ""), by=visitor_of(request).name)
    words = f"{pair.code} is in {pair.room}." if pair.room else f"{pair.code} has no room."
    return done(request, words, "pair", pair_id)
