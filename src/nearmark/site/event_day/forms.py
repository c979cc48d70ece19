"""Forms of the event itself, of its rooms and of its divisions."""

from collections.abc import Mapping
from typing import Any

from django import forms

from nearmark.site.common.forms import BaseForm, choose, day_field
from nearmark.site.event.models import DivisionRecord, RoomRecord
from nearmark.site.event_day.heats.plan_actions import MAX_PLACES
from nearmark.site.event_day.rules.actions import known_rules
from nearmark.words.rules import rules_words


class EventForm(BaseForm):
    """A new event."""

    name = forms.CharField(label="Name of the event", max_length=200)
    day = day_field("Day")
    venue = forms.CharField(label="Place", max_length=200, required=False)
    rules = forms.ChoiceField(label="Rule set")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "rules", _rule_choices())


class EventChangeForm(EventForm):
    """What an event is called, when and where it is, and its rules."""

    field_order = ["name", "day", "venue", "rules", "why"]
    why = forms.CharField(label="Reason", max_length=200, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["rules"].required = False
        choose(self, "rules", [("", "as it is now"), *_rule_choices()])


def _rule_choices() -> list[tuple[str, str]]:
    return [(name, rules_words(rules)) for name, rules in known_rules().items()]


class RoomForm(BaseForm):
    """A room."""

    name = forms.CharField(label="Name of the room", max_length=40)
    places = forms.IntegerField(
        label="Places",
        min_value=1,
        max_value=MAX_PLACES,
        help_text="How many pairs can work there at the same time.",
    )
    accessible_places = forms.IntegerField(
        label="Accessible places",
        min_value=0,
        max_value=MAX_PLACES,
        required=False,
        help_text="Places that somebody in a wheelchair can reach. Empty: all.",
    )


def room_form(row: RoomRecord | None, data: Mapping[str, Any] | None = None) -> RoomForm:
    """The form of a room as it is; fields of several rooms are on one page."""
    initial = {name: getattr(row, name) for name in RoomForm.base_fields} if row else {}
    return RoomForm(data, initial=initial, auto_id=f"room-{row.pk if row else 0}-%s")


MAX_AWARDED = 100


class DivisionForm(BaseForm):
    """A division."""

    name = forms.CharField(
        label="Name of the division", max_length=40, help_text="Such as Grade 3."
    )
    awarded_places = forms.IntegerField(
        label="Places with an award",
        min_value=0,
        max_value=MAX_AWARDED,
        initial=3,
        help_text="Pairs who share one of these places get an award each.",
    )


def division_form(
    row: DivisionRecord | None, data: Mapping[str, Any] | None = None
) -> DivisionForm:
    """The form of a division as it is; fields of several divisions are on one page."""
    initial = {name: getattr(row, name) for name in DivisionForm.base_fields} if row else {}
    return DivisionForm(data, initial=initial, auto_id=f"division-{row.pk if row else 0}-%s")
