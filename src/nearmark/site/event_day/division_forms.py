"""Forms of the divisions."""

from collections.abc import Mapping
from typing import Any

from django import forms

from nearmark.site.common.forms import BaseForm
from nearmark.site.event.models import DivisionRecord

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
