"""The screen for the room: what it shows, the part that changes, and the next step."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _

from nearmark.errors import InputError
from nearmark.site.common.responses import post_only, show, site_address
from nearmark.site.door.device_views import qr_svg
from nearmark.site.drills.models import Drill
from nearmark.site.drills.room_actions import go_on
from nearmark.site.drills.room_page import RoomView, room_view
from nearmark.site.drills.views import drill_of, join_address
from nearmark.words.handout import HandoutPart, part_lines, part_title

N_ROWS: Final = 8
"""Empty rows that the second page of the handout holds."""


@dataclass(frozen=True, slots=True)
class HandoutView:
    """How to coach: each part with its sentences, and on paper empty rows to write in."""

    title: str
    parts: Sequence[tuple[str, Sequence[str]]]
    rows: range = range(N_ROWS)


def _room_of(drill_id: int) -> Drill:
    drill = drill_of(drill_id)
    if not drill.is_room:
        raise InputError(
            "has no screen for the room", where="drill", value=drill_id, mend="Open one that has"
        )
    return drill


def drill_room(request: HttpRequest, drill_id: int) -> HttpResponse:
    """The screen, to be projected."""
    return show(request, "drills/room", _view(request, drill_id))


def drill_room_now(request: HttpRequest, drill_id: int) -> HttpResponse:
    """The part of the screen that changes, for its script."""
    return show(request, "drills/room_now", _view(request, drill_id))


def _view(request: HttpRequest, drill_id: int) -> RoomView:
    view = room_view(_room_of(drill_id))
    if view.state == "over":
        address = scanned = site_address(request) + reverse("handout")
    else:
        address = join_address(request)
        scanned = f"{address}?code={view.code}" if view.code else address
    is_scanned = view.state in {"join", "over"}
    return replace(view, address=address, picture=qr_svg(scanned) if is_scanned else "")


@post_only
def drill_room_go(request: HttpRequest, drill_id: int) -> HttpResponse:
    """The next step."""
    drill = _room_of(drill_id)
    is_all = request.POST.get("step") == "all"
    go_on(drill, seen=request.POST.get("seen", ""), reveals_all=is_all)
    return redirect("drill-room", drill.pk)


def handout(request: HttpRequest) -> HttpResponse:
    """How to coach, to be read on a phone or printed on two pages."""
    parts = [(part_title(part), part_lines(part)) for part in HandoutPart]
    return show(request, "drills/handout", HandoutView(_("How to coach"), parts))
