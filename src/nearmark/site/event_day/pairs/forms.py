"""Forms of the pairs."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from nearmark.contest.event import PairStatus
from nearmark.site.common.forms import BaseForm, NoteForm, choose


class PairForm(BaseForm):
    """A new pair."""

    school = forms.CharField(label="School", max_length=200)
    first = forms.CharField(label="First child", max_length=100)
    second = forms.CharField(
        label="Second child", max_length=100, required=False, help_text="Empty: alone."
    )
    division = forms.ChoiceField(label="Division", required=False)
    heat = forms.CharField(label="Heat", max_length=100, required=False)
    code = forms.CharField(
        label="Code", max_length=20, required=False, help_text="Empty: the next free one."
    )


def pair_form(divisions: Sequence[str], data: Mapping[str, Any] | None = None) -> PairForm:
    """The form of a new pair; an event without divisions asks for none."""
    form = PairForm(data)
    choose(form, "division", [("", "not known yet"), *((name, name) for name in divisions)])
    if not divisions:
        del form.fields["division"]
    return form


class PairStatusForm(BaseForm):
    """Whether a pair takes part."""

    status = forms.ChoiceField(choices=[(s.value, s.value) for s in PairStatus])
    why = forms.CharField(max_length=200, required=False)


class PairChangeForm(NoteForm):
    """Who is in a pair."""

    field_order = ["school", "first", "second", "why", "whole_school"]
    school = forms.CharField(label="School", max_length=200)
    first = forms.CharField(label="First child", max_length=100, help_text="First name or a code.")
    second = forms.CharField(
        label="Second child", max_length=100, required=False, help_text="Empty: alone."
    )
    whole_school = forms.BooleanField(
        label="The new school name is for every pair of this school", required=False
    )
