"""What the plan of the heats starts from: the day, the rooms, the wishes, and who has to stay."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from nearmark.contest import scheduled
from nearmark.contest.event import Pair, Room
from nearmark.contest.heat_program import DivisionRule, Field, HeatFrame, Place, make_field
from nearmark.contest.heat_wish import HeatWish
from nearmark.printing.wishes import Wishes
from nearmark.site.event.load import pairs_of, rules_of
from nearmark.site.event.models import EventRecord
from nearmark.site.event.rows import record_of
from nearmark.site.event_day.heats.models import HeatDay


@dataclass(frozen=True, slots=True)
class PlanStart:
    """Everything a plan is made of."""

    day: date  # of the event
    pairs: tuple[Pair, ...]
    frame: HeatFrame
    wishes: tuple[HeatWish, ...]
    started: dict[str, Place]  # pairs whose heat has started: they stay

    @property
    def has_coaches(self) -> bool:
        """Whether a wish names a coach."""
        return any(wish.coach for wish in self.wishes)

    @property
    def now(self) -> dict[str, Place]:
        """Where every pair with a heat is; InputError if a heat is written without a number."""
        return places_of(self.pairs)

    @property
    def field(self) -> Field:
        """Who is placed, and what they ask for."""
        return make_field(self.pairs, self.wishes, kept=self.started, before={})

    def chosen(self) -> dict[str, Place]:
        """Where pairs were put by hand, or have to be: the plan made at once keeps that too."""
        codes = {pair.code for pair in self.pairs}
        by_hand = {
            wish.who: (wish.heat, wish.room)
            for wish in self.wishes
            if wish.heat is not None and wish.who in codes
        }
        return by_hand | self.started


def plan_start(event: EventRecord) -> PlanStart:
    """The event as the plan needs it; InputError if a heat that has started has no number."""
    pairs = pairs_of(event)
    begun = set(event.heat_runs.values_list("heat", flat=True))
    stay = places_of(pair for pair in pairs if pair.heat in begun)
    closed = frozenset(heat for heat, _ in stay.values())
    return PlanStart(
        day=event.day,
        pairs=pairs,
        frame=replace(frame_of(event), closed=closed),
        wishes=tuple(record_of(HeatWish, row) for row in event.heat_wishes.all()),
        started=stay,
    )


def places_of(pairs: Iterable[Pair]) -> dict[str, Place]:
    """Heat and room of every pair that has a heat."""
    pairs = tuple(pairs)
    rooms = {pair.code: pair.room for pair in pairs}
    return {code: (heat, rooms[code]) for code, heat in scheduled(pairs).items()}


def day_of(event: EventRecord) -> HeatDay:
    """What the day offers; not saved where nobody has said so yet."""
    usual = rules_of(event).usual_minutes
    return HeatDay.objects.filter(event=event).first() or HeatDay(event=event, minutes=usual)


def frame_of(event: EventRecord) -> HeatFrame:
    """The day as the plan needs it."""
    day = day_of(event)
    return HeatFrame(
        rooms=rooms_of_plan(event),
        first_start=day.first_start,
        minutes=day.minutes,
        interval_minutes=day.interval_minutes,
        max_heats=day.max_heats,
        divisions=DivisionRule(day.divisions),
    )


def planned_wishes(event: EventRecord, wishes: Wishes) -> Wishes:
    """Wishes for paper, with the times and places of the plan; a first start asked for counts."""
    frame = frame_of(event)
    return replace(
        wishes,
        start=frame.first_start if wishes.start is None else wishes.start,
        minutes=frame.minutes,
        interval=frame.interval_minutes,
        places=event.heat_places,
    )


def rooms_of_plan(event: EventRecord) -> tuple[Room, ...]:
    """The rooms; one without a name where the event has none."""
    rooms: Sequence[Room] = [record_of(Room, row) for row in event.rooms.all()]
    return tuple(rooms) or (Room("", event.heat_places),)
