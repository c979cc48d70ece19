"""The forms of the heats: the clock, check-in, who goes when, and the plan of the day."""

from collections.abc import Sequence
from typing import Any, Final

from django import forms
from django.utils.translation import gettext_lazy as _

from nearmark.contest.heat_program import MAX_HEATS, DivisionRule
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


MAX_MINUTES: Final = 240

ALL_AGAIN: Final = 0
FEW_MOVES: Final = 1

DIVISION_WORDS: Final = {
    DivisionRule.MIXED: "may go together",
    DivisionRule.OWN_HEATS: "each in heats of its own",
    DivisionRule.OWN_ROOM: "each in one room all day",
}


def _time(label: str, help_text: str = "") -> forms.TimeField:
    widget = forms.TimeInput(format="%H:%M", attrs={"type": "time"})
    return forms.TimeField(label=label, required=False, help_text=help_text, widget=widget)


class HeatDayForm(BaseForm):
    """When the heats are, and how many there may be."""

    first_start = _time("Start of heat 1")
    minutes = forms.IntegerField(label="Minutes of a heat", min_value=1, max_value=MAX_MINUTES)
    interval_minutes = forms.IntegerField(
        label="Minutes from start to start",
        min_value=1,
        max_value=MAX_MINUTES,
        required=False,
        help_text="Empty: the minutes of a heat. More leaves a gap between heats.",
    )
    max_heats = forms.IntegerField(
        label="Heats at most",
        min_value=1,
        max_value=MAX_HEATS,
        required=False,
        help_text="Empty: as many as it takes.",
    )
    divisions = forms.ChoiceField(
        label="Pairs of two divisions",
        choices=[(rule.value, words) for rule, words in DIVISION_WORDS.items()],
    )

    def __init__(self, *args: Any, has_divisions: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not has_divisions:
            del self.fields["divisions"]


class HeatWishForm(BaseForm):
    """What a pair or a school asks for; without rooms to choose from, nothing of rooms."""

    who = forms.CharField(
        label="Pair or school",
        max_length=200,
        help_text="The code of a pair, or the name of a school.",
        widget=forms.TextInput(attrs={"list": "who-of-wish", "autocomplete": "off"}),
    )
    earliest = _time("Not before", "Their heat starts then or later.")
    latest = _time("Over by", "Their heat is over by then.")
    heat = forms.IntegerField(label="In heat", min_value=1, max_value=MAX_HEATS, required=False)
    room = forms.ChoiceField(label="In room", required=False)
    needs_accessible = forms.BooleanField(label="Needs an accessible place", required=False)
    together = forms.CharField(
        label="Together",
        max_length=60,
        required=False,
        help_text="Name a group: all who name it go in one heat.",
    )
    apart = forms.CharField(
        label="Apart",
        max_length=60,
        required=False,
        help_text="Name a group: no two who name it go in one heat.",
    )
    coach = forms.CharField(
        label="Coach of the school",
        max_length=60,
        required=False,
        help_text="Schools of one coach go in heats that follow.",
    )

    def __init__(self, *args: Any, rooms: Sequence[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if rooms:
            choose(self, "room", [("", "any"), *((room, room) for room in rooms)])
        else:
            del self.fields["room"]
            del self.fields["needs_accessible"]


class PlanAskForm(BaseForm):
    """How to look for a plan."""

    how = forms.TypedChoiceField(
        label="How",
        coerce=int,
        choices=[(ALL_AGAIN, "plan all again"), (FEW_MOVES, "move as few pairs as possible")],
        initial=ALL_AGAIN,
    )
