"""The forms of the contest day: the clock, the heats, check-in."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from nearmark.site.common.forms import BaseForm, NoteForm, choose
from nearmark.words.heats import heat_text


class HeatStartForm(BaseForm):
    """A heat to start, in a room if the event has rooms."""

    heat = forms.ChoiceField(label=_("Heat"))
    minutes = forms.IntegerField(label=_("Minutes"), min_value=1, max_value=99)
    room = forms.CharField(widget=forms.HiddenInput)

    def __init__(self, heats: Sequence[str], room: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "heat", [(heat, heat_text(heat)) for heat in heats])
        if not room:
            del self.fields["room"]


class HeatExtendForm(NoteForm):
    """More time for a running heat."""

    field_order = ["more", "why"]
    more = forms.IntegerField(label=_("Minutes more"), min_value=1, max_value=60, initial=5)


class HeatStopForm(NoteForm):
    """The end of a running heat."""

    is_sure = forms.BooleanField(label=_("Yes, end it for everybody now"))


class HeatFillForm(BaseForm):
    """Who goes when, school by school."""

    places = forms.IntegerField(
        label=_("Places in a heat"),
        min_value=1,
        max_value=60,
        help_text=_("How many pairs can work at the same time."),
    )
    anew = forms.BooleanField(
        label=_("Plan all again"),
        required=False,
        help_text=_(
            "Without it, pairs that have a heat stay there. "
            "Heats that have started stay, and pairs moved by hand."
        ),
    )


class LatePairForm(BaseForm):
    """A pair that comes unannounced. ``heats`` ((value, words)): to choose from."""

    school = forms.CharField(
        label=_("School"), max_length=200, widget=forms.TextInput(attrs={"list": "schools"})
    )
    first = forms.CharField(
        label=_("First child"), max_length=100, help_text=_("First name or a code.")
    )
    second = forms.CharField(
        label=_("Second child"), max_length=100, required=False, help_text=_("Empty: alone.")
    )
    code = forms.CharField(
        label=_("Code"),
        max_length=20,
        required=False,
        help_text=_("Of the spare sheet they were given; empty: the next free one."),
    )
    to = forms.ChoiceField(
        label=_("Heat"), required=False, help_text=_("Where its school is, if there is room.")
    )

    def __init__(self, heats: Sequence[tuple[str, str]], *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "to", heats)
