"""Forms of the pairs."""

from django import forms

from nearmark.contest.event import PairStatus
from nearmark.site.common.forms import BaseForm, NoteForm


class PairForm(BaseForm):
    """A new pair."""

    school = forms.CharField(label="School", max_length=200)
    first = forms.CharField(label="First child", max_length=100)
    second = forms.CharField(
        label="Second child", max_length=100, required=False, help_text="Empty: alone."
    )
    heat = forms.CharField(label="Heat", max_length=100, required=False)
    code = forms.CharField(
        label="Code", max_length=20, required=False, help_text="Empty: the next free one."
    )


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
