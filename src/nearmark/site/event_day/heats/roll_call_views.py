"""Check-in: by code, by name, a whole school at once; taken back at once."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode

from nearmark.contest.pair_code import read_pair_code
from nearmark.errors import InputError
from nearmark.site.common.lookup import known_row
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event
from nearmark.site.event.models import PairRecord
from nearmark.site.event_day.heats import check_in_actions as acts
from nearmark.site.event_day.heats.roll_call import found
from nearmark.site.event_day.heats.state import ONE_ROOM, rooms_of
from nearmark.site.event_day.heats.views import heats_view, pair_numbers
from nearmark.words.desk import (
    lead_changes_status,
    pair_is_here,
    pair_is_not_here,
    pair_was_here,
    school_here,
    whole_school_was_here,
)
from nearmark.words.event_rooms import goes_to_room
from nearmark.words.replies import are_here, are_not_here

MAX_LETTERS: Final = 60


@post_only
def roll_call(request: HttpRequest) -> HttpResponse:
    """Check in a whole school or whoever was typed; take back what was just done."""
    by = visitor_of(request).name
    if "undo" in request.POST:
        rows = acts.check_out(pair_numbers(request.POST.getlist("undo")), by=by)
        return done(request, are_not_here([row.code for row in rows]), _address(request))
    if "school" in request.POST:
        school = request.POST["school"]
        rows = acts.check_in_school(school, by=by, room=_room(request))
        return _did(request, rows, school)
    return _typed(request, request.POST.get("who", "").strip(), by)


def _typed(request: HttpRequest, who: str, by: str) -> HttpResponse:
    """A code checks in at once; anything else shows whom it could mean."""
    record = current_event()
    rows = {row.code: row for row in record.pairs.all()} if record else {}
    try:
        code = read_pair_code(who, rows)
    except InputError:
        if record is None or not found(record, who):
            raise InputError(
                "is nobody of this event",
                where="check-in",
                value=who[:20],
                mend="Type the code, the school or a first name",
            ) from None
        # Not in an address: it may be a child's name.
        view = replace(
            heats_view(record, room=_room(request)),
            typed=who[:MAX_LETTERS],
            found=found(record, who),
        )
        return show(request, "event_day/heats/heats", view)
    return _one(request, rows[code], is_here=True, by=by)


@post_only
def heat_check_in(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Note that a pair is here, or not here after all."""
    pair = known_row(PairRecord.objects.filter(event=current_event()), "pair", pk=pair_id)
    is_here = request.POST.get("here") == "yes"
    return _one(request, pair, is_here=is_here, by=visitor_of(request).name)


def _one(request: HttpRequest, before: PairRecord, *, is_here: bool, by: str) -> HttpResponse:
    pair = acts.check_in(before.pk, is_here=is_here, by=by)
    words = (pair_is_here if is_here else pair_is_not_here)(pair.code, pair.school)
    if is_here and before.arrived_at is not None:
        words = pair_was_here(pair.code, f"{timezone.localtime(before.arrived_at):%H:%M}")
    if is_here and rooms_of(pair.event) != ONE_ROOM:
        words += f" {goes_to_room(pair.room)}"
    if not pair.takes_part:
        words += f" {lead_changes_status(pair.status)}"
    did = {"did": pair.pk} if is_here and before.arrived_at is None else {}
    return done(request, words, f"{_address(request, **did)}#pair-{pair.pk}")


def _did(request: HttpRequest, rows: Sequence[PairRecord], school: str) -> HttpResponse:
    if not rows:
        return done(request, whole_school_was_here(school), _address(request))
    did = ".".join(str(row.pk) for row in rows)
    words = school_here(school, are_here([row.code for row in rows]))
    return done(request, words, _address(request, did=did))


def _room(request: HttpRequest) -> str:
    """The room whose pairs the page shows; empty: every room."""
    return request.POST.get("room", "")


def _address(request: HttpRequest, **query: str | int) -> str:
    room = _room(request)
    if room:
        query["room"] = room
    return reverse("heats") + (f"?{urlencode(query)}" if query else "")
