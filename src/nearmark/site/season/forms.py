"""The forms of the season room."""

import re
from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from nearmark.coaching import MAX_MIN, MIN_MIN, Mode
from nearmark.site.common.forms import BaseForm, DecimalField, choose, day_field
from nearmark.site.season.meeting_actions import Wanted
from nearmark.site.season.models import Pupil
from nearmark.station import Station
from nearmark.words.coaching_pairs import mode_words

NAMES_HELP = "First name or code only: no surname, no birthday, nothing else of the child."


class ClubForm(BaseForm):
    """A new club."""

    name = forms.CharField(label="Name of the club", max_length=100)
    keep_until = day_field(
        "Keep until", "What is known of the pupils is kept until then; you are reminded."
    )


class KeepForm(BaseForm):
    """How long a club is kept."""

    keep_until = day_field("Keep until")


class PupilsForm(BaseForm):
    """Pupils to add."""

    names = forms.CharField(
        label="First names or codes",
        max_length=2000,
        help_text=f"{NAMES_HELP} Several with commas between.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )

    def clean_names(self) -> list[str]:
        """The names, one by one."""
        parts = re.split(r"[,;\n]", str(self.cleaned_data["names"]))
        return [name for name in (" ".join(part.split()) for part in parts) if name]


class PracticePairForm(BaseForm):
    """Two pupils. ``pupils``: to choose from."""

    first = forms.ChoiceField(label="First pupil")
    second = forms.ChoiceField(label="Second pupil")
    code = forms.CharField(
        label="Code", max_length=20, required=False, help_text="Empty: the next free one."
    )

    def __init__(self, pupils: Sequence[Pupil], *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("first", "second"):
            choose(self, name, [(str(pupil.pk), pupil.name) for pupil in pupils])


class TrainedForm(BaseForm):
    """Who of a pair decides today, station by station."""

    def __init__(self, first: str, second: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        ways = [(str(mode), mode_words(mode, first, second)) for mode in Mode]
        for station in Station:
            self.fields[station.value] = forms.ChoiceField(
                label=station.value.capitalize(),
                required=False,
                choices=[("", "not settled"), *ways],
            )


class BodyReadingForm(BaseForm):
    """Readings of one part of the hand."""

    reference = forms.CharField(
        label="What of the hand",
        max_length=40,
        help_text="Such as palm, span, index joint. Nothing is marked on a hand.",
    )
    readings = forms.CharField(
        label="Readings, cm",
        max_length=200,
        help_text="Three are usual, the hand placed again each time: 6.9 7.0 6.8",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    day = day_field("Day")

    def clean_readings(self) -> list[float]:
        """The readings; a space, semicolon or slash between."""
        one = DecimalField(label="")
        parts = [part for part in re.split(r"[\s;/]+", str(self.cleaned_data["readings"])) if part]
        if len(parts) > 20:
            raise ValidationError("At most 20 at once.")
        return [float(one.clean(part)) for part in parts]


class LengthForm(BaseForm):
    """A length to be taken with the hand."""

    length = DecimalField(label="A length, about, cm", help_text="As the eye takes it: a guess.")


class LadderForm(BaseForm):
    """One try of the scoop ladder, in one line; hidden: what was proposed, and the cups then."""

    line = forms.CharField(
        label="Try",
        max_length=60,
        help_text="Such as cup 2: 100 -> 87, or the net grams of the proposed try alone.",
        widget=forms.TextInput(
            attrs={"autocomplete": "off", "autofocus": True, "inputmode": "text"}
        ),
    )
    key = forms.UUIDField(widget=forms.HiddenInput)
    cup = forms.IntegerField(widget=forms.HiddenInput, min_value=0, max_value=999)
    target = forms.IntegerField(widget=forms.HiddenInput, min_value=1, max_value=9999)
    cups = forms.CharField(widget=forms.HiddenInput, max_length=4000)


class MeetingForm(BaseForm):
    """Who is here, how long, and what is at hand. ``pupils``: to choose from."""

    here = forms.MultipleChoiceField(
        label="Who is here",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Tick at least one child."},
    )
    minutes = forms.IntegerField(label="Minutes", min_value=MIN_MIN, max_value=MAX_MIN)
    scales = forms.IntegerField(label="Scales", min_value=0, max_value=60)
    calculators = forms.IntegerField(
        label="Calculators",
        min_value=0,
        max_value=60,
        required=False,
        help_text="Empty: one for each.",
    )

    def __init__(self, pupils: Sequence[Pupil], *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "here", [(str(pupil.pk), pupil.name) for pupil in pupils])

    @property
    def wanted(self) -> Wanted:
        """What was asked for; only after ``is_valid``."""
        given = self.cleaned_data
        return Wanted(given["minutes"], given["scales"], given["calculators"])


class RenameForm(BaseForm):
    """Another name for a pupil."""

    name = forms.CharField(
        label="First name or code",
        max_length=100,
        help_text=NAMES_HELP,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )


class SureForm(BaseForm):
    """A tick for what cannot be undone."""

    is_sure = forms.BooleanField(label="Yes, delete it for good", required=False)


def one_year_on(day: date) -> date:
    """The same day next year, proposed as the last day to keep a club.

    >>> one_year_on(date(2028, 2, 29))
    datetime.date(2029, 2, 28)
    """
    try:
        return day.replace(year=day.year + 1)
    except ValueError:  # 29 February
        return day.replace(year=day.year + 1, day=28)
