"""What a device remembers until it signs out: the room and the scale of whoever works on it."""

from collections.abc import Sequence
from typing import Final

from django.http import HttpRequest

from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.heats.state import ONE_ROOM, rooms_of

ROOM: Final = "room"
SCALE: Final = "scale"


def own_room(request: HttpRequest, record: EventRecord | None) -> str:
    """The room that this device works in, as the address last said; empty: every room, or none."""
    rooms = rooms_of(record)
    return "" if rooms == ONE_ROOM else _own(request, ROOM, rooms)


def own_scale(request: HttpRequest, scales: Sequence[str]) -> str:
    """The scale that this device reads, as the address last said; empty until one is chosen."""
    return scales[0] if len(scales) == 1 else _own(request, SCALE, scales)


def _own(request: HttpRequest, key: str, known: Sequence[str]) -> str:
    asked = request.GET.get(key)
    kept = str(request.session.get(key, ""))
    if asked is not None and asked in {"", *known} and asked != kept:
        request.session[key] = kept = asked
    return kept if kept in known else ""
