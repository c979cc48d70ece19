"""The form of the weigh-in."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from nearmark.site.common.forms import BaseForm, DecimalField


class WeighInForm(BaseForm):
    """A cup on the scale.

    ``scales``: names of the scales of the event; with one there is nothing to choose.
    """

    pair = forms.CharField(
        label="Pair",
        max_length=200,
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "spellcheck": "false"}),
    )
    cup = forms.CharField(label="Cup number", max_length=200)
    gross_g = DecimalField(label="Scale shows, g")
    scale = forms.ChoiceField(label="Scale")
    key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(
        self, scales: Sequence[str], data: Mapping[str, Any] | None = None, **kwargs: Any
    ) -> None:
        super().__init__(data, **kwargs)
        # A cup that was kept on a device before there was a choice names no scale.
        if len(scales) < 2 or (data is not None and "scale" not in data):
            del self.fields["scale"]
            return
        field = self.fields["scale"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [("", "which one?"), *((name, name) for name in scales)]
