"""A mock contest as an event of the core: scored and placed by what scores and places the day."""

from decimal import Decimal

from nearmark.contest import Event, Results, results, shipped_rules
from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    Cup,
    Item,
    KeyDecision,
    Pair,
    PairStatus,
)
from nearmark.measurement.instruments import Instrument
from nearmark.site.common.local_time import local_day
from nearmark.site.drills.models import Drill, DrillAnswer, DrillItem, DrillSeat
from nearmark.station import Station

_NO_CUP = "net"
_SCALE = "scale"


def seat_label(seat: DrillSeat) -> str:
    """Under which code a seat is in the event."""
    return f"S{seat.pk}"


def mock_results(drill: Drill) -> Results:
    """Scores of a mock contest by the default rules, for ``seat_label``s and places of items."""
    items = list(drill.items.all())
    seats = list(drill.seats.prefetch_related("answers").select_related("pupil", "pair"))
    return results(
        Event(
            drill.title,
            local_day(drill.opened_at),
            rules=next(iter(shipped_rules().values())),
            instruments=(Instrument(_SCALE, "g", 0.1),),
            items=tuple(Item(str(i.place), Station(i.station), i.name) for i in items),
            cups=(Cup(_NO_CUP, Decimal(0), _SCALE),),
            pairs=tuple(_pair(seat, drill.club.name) for seat in seats),
            answers=tuple(
                reading
                for seat in seats
                if seat.joined_at is not None
                for item in items
                for reading in _readings(seat, item, _answer(seat, item))
            ),
            key_decisions=tuple(
                KeyDecision(
                    str(i.place), Decimal(repr(i.true)), drill.made_by, "the thing's known value"
                )
                for i in items
                if i.station != Station.MASS
            ),
        )
    )


def _pair(seat: DrillSeat, club: str) -> Pair:
    members = ("one", "two") if seat.pair else ("one",)
    status = PairStatus.ABSENT if seat.joined_at is None else PairStatus.ENTERED
    return Pair(seat_label(seat), club, members, status)


def _answer(seat: DrillSeat, item: DrillItem) -> DrillAnswer | None:
    return next((row for row in seat.answers.all() if row.item_id == item.pk), None)


def _readings(seat: DrillSeat, item: DrillItem, row: DrillAnswer | None) -> list[AnswerReading]:
    """Typed in by who answered: both readings are the same by nature."""
    value = None if row is None else row.estimate
    status = AnswerStatus.BLANK if value is None else AnswerStatus.ANSWERED
    cup = _NO_CUP if item.station == Station.MASS and value is not None else ""
    return [
        AnswerReading(seat_label(seat), str(item.place), reading, clerk, status, value, cup)
        for reading, clerk in ((1, "seat"), (2, "seat again"))
    ]
