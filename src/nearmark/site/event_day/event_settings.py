"""What the page of the event's settings shows."""

from collections.abc import Mapping
from dataclasses import dataclass

from nearmark.contest.rules import RuleSet
from nearmark.site.event.load import rules_of
from nearmark.site.event.models import DivisionRecord, EventRecord, RoomRecord
from nearmark.site.event_day.division_actions import uses
from nearmark.site.event_day.forms import (
    DivisionForm,
    EventChangeForm,
    RoomForm,
    division_form,
    room_form,
)
from nearmark.words.divisions import division_facts
from nearmark.words.event_rooms import room_facts


@dataclass(frozen=True, slots=True)
class RoomLine:
    """One room with the form that changes it."""

    row: RoomRecord
    form: RoomForm
    n_pairs: int
    n_heats: int  # started there

    @property
    def words(self) -> str:
        """What it holds."""
        row = self.row
        accessible = row.places if row.accessible_places is None else row.accessible_places
        return room_facts(row.places, accessible, self.n_pairs)

    @property
    def is_used(self) -> bool:
        """Whether it must stay."""
        return self.n_pairs > 0 or self.n_heats > 0


@dataclass(frozen=True, slots=True)
class DivisionLine:
    """One division with the form that changes it."""

    row: DivisionRecord
    form: DivisionForm
    n_pairs: int
    items: list[str]  # codes of the items that name it

    @property
    def words(self) -> str:
        """What it has."""
        return division_facts(self.row.awarded_places, self.n_pairs, self.items)

    @property
    def is_used(self) -> bool:
        """Whether it must stay."""
        return self.n_pairs > 0 or bool(self.items)


@dataclass(frozen=True, slots=True)
class EventChangeView:
    """Name, day, place and rule set of the event, its divisions and its rooms."""

    title: str
    form: EventChangeForm
    rules: RuleSet
    rooms: list[RoomLine]
    room_form: RoomForm
    n_without: int  # pairs that have no room, in an event that has some
    divisions: list[DivisionLine]
    division_form: DivisionForm
    n_no_division: int  # pairs that have no division, in an event that has some


def settings_view(
    record: EventRecord,
    form: EventChangeForm | None = None,
    *,
    new_room: RoomForm | None = None,
    changed: Mapping[int, RoomForm] | None = None,
    new_division: DivisionForm | None = None,
    changed_divisions: Mapping[int, DivisionForm] | None = None,
) -> EventChangeView:
    """The page of the settings.

    ``form``, ``new_room``, ``changed`` (by number of the room), ``new_division``,
    ``changed_divisions`` (by number of the division): those that were refused.
    """
    rows, divisions = list(record.rooms.all()), list(record.divisions.all())
    given = {"name": record.name, "day": record.day, "venue": record.venue}
    return EventChangeView(
        title="Change the event",
        form=form or EventChangeForm(initial=given),
        rules=rules_of(record),
        rooms=[
            RoomLine(
                row,
                (changed or {}).get(row.pk) or room_form(row),
                record.pairs.filter(room=row.name).count(),
                record.heat_runs.filter(room=row.name).count(),
            )
            for row in rows
        ],
        room_form=new_room or RoomForm(auto_id="new-room-%s"),
        n_without=record.pairs.filter(room="").count() if rows else 0,
        divisions=[
            DivisionLine(
                row,
                (changed_divisions or {}).get(row.pk) or division_form(row),
                *uses(record, row.name),
            )
            for row in divisions
        ],
        division_form=new_division or DivisionForm(auto_id="new-division-%s"),
        n_no_division=record.pairs.filter(division="").count() if divisions else 0,
    )
