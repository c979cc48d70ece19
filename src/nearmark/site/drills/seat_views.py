"""The pages of a seat: a pupil on a phone, without an account, and with nothing else open.

What a seat sees is its own answers.  No page of a seat holds the name of anybody else.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.forms import BoundField
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from nearmark.site.common import clock
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.responses import post_only, refusals_on, show
from nearmark.site.door import actions as doors
from nearmark.site.door.models import Account
from nearmark.site.door.visitor import visitor_of
from nearmark.site.drills import actions as drills
from nearmark.site.drills import seat_actions as drill_seats
from nearmark.site.drills.forms import AnswerForm, SeatForm
from nearmark.site.drills.jar_views import OpenedJar, asked_scene, opened_jar
from nearmark.site.drills.mock_views import MockClock, OwnResult, mock_clock, open_items, own_result
from nearmark.site.drills.models import DrillAnswer, DrillItem, DrillSeat
from nearmark.site.drills.page_data import AnswerFeedback, told_of
from nearmark.site.drills.room_actions import room_now, sit_at_table
from nearmark.site.drills.room_seat import room_seat_view
from nearmark.site.jars.views import Scene

SEAT_IN_SESSION: Final = "seat"
"""Key of the seat's token in the session."""


@dataclass(frozen=True, slots=True)
class SeatJoinView:
    """Where the code of a seat is typed."""

    title: str
    form: SeatForm
    account: Account | None  # whose device it is
    seat: None = None


@dataclass(frozen=True, slots=True)
class SeatDoneView:
    """How it went, of a drill that is answered or over."""

    title: str
    seat: DrillSeat | None = None
    told: Sequence[AnswerFeedback] = ()
    result: OwnResult | None = None  # of a mock contest


@dataclass(frozen=True, slots=True)
class MockSeatView:
    """The list of a mock contest: each thing, and what this seat wrote down so far."""

    title: str
    seat: DrillSeat
    things: list[tuple[DrillItem, str]]
    clock: MockClock | None


@dataclass(frozen=True, slots=True)
class QuestionView:
    """One thing to estimate."""

    title: str
    seat: DrillSeat
    item: DrillItem
    n_items: int
    form: AnswerForm
    parts: list[BoundField]  # of an estimate
    others: list[BoundField]  # what else is asked
    has_parts: bool  # some are filled in already
    clock: MockClock | None
    scene: Scene | None


@dataclass(frozen=True, slots=True)
class TruthView:
    """What came of an answer."""

    title: str
    seat: DrillSeat
    told: AnswerFeedback
    n_items: int
    n_left: int
    opened: OpenedJar | None


def seat_join(request: HttpRequest) -> HttpResponse:
    """Type in the code of a seat; only a post opens it."""
    form = SeatForm(request.POST or None, initial={"code": request.GET.get("code", "")[:20]})
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            return _sit(request, form.cleaned_data["code"])
    view = SeatJoinView(_("Practice"), form, visitor_of(request).account)
    return show(request, "drills/join", view, status=form.http_status)


def _sit(request: HttpRequest, code: str) -> HttpResponse:
    address = str(request.META.get("REMOTE_ADDR", ""))
    seat = drill_seats.sit_down(code, address=address, own=_seat(request))
    # Lock the coach's device, so a pupil on it cannot open the coach's pages.
    device = visitor_of(request).device
    if device is not None:
        doors.lock(device)
    request.session.cycle_key()
    request.session[SEAT_IN_SESSION] = str(seat.token)
    return redirect("seat")


def _seat(request: HttpRequest) -> DrillSeat | None:
    return drill_seats.seat_of(request.session.get(SEAT_IN_SESSION), clock.now())


def _no_seat(request: HttpRequest) -> HttpResponse:
    """Where there is no seat to answer from: how it went, or the way to the code."""
    token = request.session.get(SEAT_IN_SESSION)
    if token is None:
        return redirect("seat-join")
    past = drill_seats.seat_to_look_at(token, clock.now())
    if past is None:
        return show(request, "drills/over", SeatDoneView(_("Over")))
    if past.drill.is_room:
        return show(request, "drills/room_seat", room_seat_view(past, None))
    has_result = past.drill.is_mock and past.drill.started_at is not None
    view = SeatDoneView(_("Over"), past, _feedbacks(past), own_result(past) if has_result else None)
    return show(request, "drills/over", view)


def _feedbacks(own: DrillSeat) -> list[AnswerFeedback]:
    return [told_of(row) for row in _answers(own).values()]


def seat(request: HttpRequest) -> HttpResponse:
    """What comes next: the first thing not answered, or how it went."""
    own = _seat(request)
    if own is None:
        return _no_seat(request)
    if own.drill.is_mock:
        view = MockSeatView(own.called, own, open_items(own), mock_clock(own.drill))
        return show(request, "drills/mock_seat", view)
    if own.drill.is_room:
        return show(request, "drills/room_seat", room_seat_view(own, None))
    rows = _answers(own)
    left = [item for item in own_order(own) if item.pk not in rows]
    if left:
        return redirect("seat-item", left[0].pk)
    return show(request, "drills/done", SeatDoneView(own.called, own, _feedbacks(own)))


def own_order(own: DrillSeat) -> list[DrillItem]:
    """The things of a drill as a seat comes to them: each begins one further than the last one.

    So six pupils do not queue at one tub.
    """
    items = list(own.drill.items.all())
    first = own.drill.seats.filter(pk__lt=own.pk).count() % max(1, len(items))
    return items[first:] + items[:first]


def _answers(own: DrillSeat) -> dict[int, DrillAnswer]:
    rows = own.answers.select_related("item__jar", "seat__pupil", "seat__pair").order_by(
        "item__place"
    )
    return {row.item_id: row for row in rows}


def seat_item(request: HttpRequest, item_id: int) -> HttpResponse:
    """One thing: the question, or what came of the answer."""
    own = _seat(request)
    if own is None:
        return _no_seat(request)
    item = own.drill.items.filter(pk=item_id).select_related("jar").first()
    if item is None:
        return redirect("seat")
    return (_room_guess if own.drill.is_room else _own_item)(request, own, item)


def _own_item(request: HttpRequest, own: DrillSeat, item: DrillItem) -> HttpResponse:
    row = _answers(own).get(item.pk)
    if row is not None and not own.drill.is_mock:
        return _feedback(request, own, row)
    if own.drill.is_mock and (own.handed_in_at or not drills.takes_answers(own.drill, item)):
        return redirect("seat")
    form = AnswerForm(item, own, request.POST or None, initial=_typed(row))
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            drills.answer(own, item, form.given)
            return redirect("seat") if own.drill.is_mock else redirect("seat-item", item.pk)
    return show(request, "drills/item", _question(own, item, form), status=form.http_status)


def _room_guess(request: HttpRequest, own: DrillSeat, item: DrillItem) -> HttpResponse:
    """A guess on a screen for the room: the page of the seat asks for it."""
    form = AnswerForm(item, own, request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            drills.answer(own, item, form.given)
    if request.method != "POST" or form.is_valid():
        return redirect("seat")
    return show(request, "drills/room_seat", room_seat_view(own, form), status=form.http_status)


@post_only
def seat_table(request: HttpRequest) -> HttpResponse:
    """Say at which table one sits."""
    own = _seat(request)
    if own is None:
        return _no_seat(request)
    sit_at_table(own, typed_number(request.POST.get("table", "").strip(), 3))
    return redirect("seat")


def seat_room_now(request: HttpRequest) -> HttpResponse:
    """What the room is at, for a seat's script: it loads the page again when that changes."""
    own = _seat(request)
    return JsonResponse({"key": room_now(own.drill).key if own and own.drill.is_room else ""})


def _typed(row: DrillAnswer | None) -> dict[str, object]:
    """What a mock contest's answer says so far, to be changed."""
    if row is None:
        return {}
    return {
        "estimate": f"{row.estimate:f}",
        "layer": row.layer,
        "layers": row.layers,
        "length": row.length_cm,
        "width": row.width_cm,
        "height": row.height_cm,
        "decided": row.decided_by_id or "both",
    }


def _question(own: DrillSeat, item: DrillItem, form: AnswerForm) -> QuestionView:
    return QuestionView(
        title=item.name,
        seat=own,
        item=item,
        n_items=own.drill.items.count(),
        form=form,
        parts=[form[name] for name in form.part_names],
        others=[form[name] for name in form.fields if name not in form.part_names],
        has_parts=any(form.initial.get(name) for name in form.part_names),
        clock=mock_clock(own.drill),
        scene=asked_scene(item),
    )


def _feedback(request: HttpRequest, own: DrillSeat, row: DrillAnswer) -> HttpResponse:
    n_items = own.drill.items.count()
    view = TruthView(
        title=row.item.name,
        seat=own,
        told=told_of(row),
        n_items=n_items,
        n_left=n_items - own.answers.count(),
        opened=opened_jar(row),
    )
    return show(request, "drills/told", view)


@post_only
def seat_hand_in(request: HttpRequest) -> HttpResponse:
    """Make a mock contest's answers final."""
    own = _seat(request)
    if own is None:
        return _no_seat(request)
    if own.drill.is_mock:
        drills.hand_in(own)
    return redirect("seat")


@post_only
def seat_leave(request: HttpRequest) -> HttpResponse:
    """Leave the seat: the next child types its own code."""
    request.session.pop(SEAT_IN_SESSION, None)
    return redirect("seat-join")
