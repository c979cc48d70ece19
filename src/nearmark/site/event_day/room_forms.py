"""Forms of the rooms."""

from collections.abc import Mapping
from typing import Any

from django import forms

from nearmark.site.common.forms import BaseForm
from nearmark.site.event.models import RoomRecord
from nearmark.site.event_day.heats.plan_actions import MAX_PLACES


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
