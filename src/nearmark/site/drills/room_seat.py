"""What a seat sees of a room: wait, guess, how it went, and at the end how one reads."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.forms import BoundField
from django.utils.translation import gettext as _

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.coaching import whose_turn
from nearmark.site.common import clock
from nearmark.site.drills.forms import AnswerForm
from nearmark.site.drills.models import DrillAnswer, DrillItem, DrillSeat
from nearmark.site.drills.page_data import AnswerFeedback, told_of
from nearmark.site.drills.room_actions import RoomNow, relay_pairs, room_now
from nearmark.site.drills.room_reveal import with_unit
from nearmark.site.drills.seat_actions import code_of
from nearmark.station import Station
from nearmark.words.deviations import AxisCentre
from nearmark.words.room import own_words, seat_title, turn_words

STRIP_PX: Final = 340


@dataclass(frozen=True, slots=True)
class RoomSeatView:
    """The page of a seat."""

    title: str
    seat: DrillSeat
    key: str
    state: str  # wait, guess, guessed, closed, told or over
    code: str  # opens this seat again on another device
    item: DrillItem | None
    turn: str  # whose guess counts in the relay; empty without a partner
    form: AnswerForm | None
    parts: Sequence[BoundField]
    others: Sequence[BoundField]
    guess: str  # one's own, with its unit; empty before
    told: Sequence[AnswerFeedback]  # the thing that was revealed; at the end all
    # At the end: all of one's guesses on one strip, and how one reads.
    strip: str
    bias: str


def room_seat_view(seat: DrillSeat, form: AnswerForm | None) -> RoomSeatView:
    """The page of a seat as it is now, with the form that was refused or an empty one."""
    now = room_now(seat.drill)
    rows = list(seat.answers.select_related("item", "seat__pupil").order_by("item__place"))
    is_over = now.is_over or not seat.drill.is_open(clock.now())
    item = None if is_over else now.item
    own = next((row for row in rows if item is not None and row.item_id == item.pk), None)
    state = "over" if is_over else _state(now, own)
    if state != "guess" or item is None:
        form = None
    elif form is None:
        form = AnswerForm(item, seat)
    parts = form.part_names if form and seat.drill.with_calculator else []
    shown = rows if is_over else [own] if own and state == "told" else []
    return RoomSeatView(
        title=seat_title(seat.number or 0),
        seat=seat,
        key="" if is_over else now.key,
        state=state,
        code="" if is_over else code_of(seat),
        item=item,
        turn=_turn(seat, item) if item else "",
        form=form,
        parts=[form[name] for name in parts] if form else [],
        others=[form[name] for name in form.fields if name not in form.part_names] if form else [],
        guess=with_unit(float(own.estimate), Station(own.item.station)) if own else "",
        told=[told_of(row) for row in shown],
        strip=_strip(rows) if is_over and rows else "",
        bias=own_words([_ratio(row) for row in rows]) if is_over and rows else "",
    )


def _state(now: RoomNow, own: DrillAnswer | None) -> str:
    if now.is_revealed:
        return "told"
    if now.phase == "guessing":
        return "guess" if own is None else "guessed"
    return "closed" if now.phase == "closed" else "wait"


def _turn(seat: DrillSeat, item: DrillItem) -> str:
    number = seat.number or 0
    for pair in relay_pairs(seat.drill, seat.drill.seats.all()):
        if number in pair:
            partner = pair[1] if pair[0] == number else pair[0]
            return turn_words(partner, whose_turn(pair, item.place))
    return ""


def _ratio(row: DrillAnswer) -> float:
    return float(row.estimate) / row.item.true


def _strip(rows: Sequence[DrillAnswer]) -> str:
    """All of one's guesses, each named by its thing as far as there is room."""
    marks = [Mark(_ratio(row), f"{row.item.place}", MarkKind.THIS) for row in rows]
    return strip_svg(marks, width_px=STRIP_PX, title=_("Your guesses"), centre=AxisCentre.TRUE)
