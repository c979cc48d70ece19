"""The forms of what comes after the answers: corrections, the paper audit, exports."""

from collections.abc import Sequence
from typing import Any

from django import forms

from nearmark.site.common.forms import BaseForm, DecimalField, choose


class CupNumber(forms.CharField):
    """Needed for what was weighed, and for nothing else."""

    when = "for what was weighed"


class AnswerCorrectionForm(BaseForm):
    """What the paper shows; the number of a cup only where an item is weighed."""

    pair = forms.ChoiceField(label="Pair")
    item = forms.ChoiceField(label="Item")
    value = forms.CharField(
        label="The paper shows",
        max_length=30,
        help_text="The number; b when nothing is written, ? when nobody can read it.",
        widget=forms.TextInput(
            attrs={"inputmode": "decimal", "autocomplete": "off", "class": "number"}
        ),
    )
    cup = CupNumber(
        label="Cup number",
        max_length=200,
        required=False,
        help_text="At the scale only; the number above is then cup and content together, in g.",
    )
    why = forms.CharField(
        label="Why it was wrong", max_length=200, help_text="Everybody can read this; no names."
    )

    def __init__(
        self,
        pairs: Sequence[tuple[str, str]],
        items: Sequence[tuple[str, str]],
        *args: Any,
        has_cups: bool,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "pair", pairs)
        choose(self, "item", items)
        if not has_cups:
            del self.fields["cup"]


class KeyCorrectionForm(BaseForm):
    """Another key. ``items`` ((value, words)): to choose from."""

    item = forms.ChoiceField(label="Item")
    value = DecimalField(label="The right key")
    why = forms.CharField(
        label="Why it was wrong", max_length=200, help_text="Everybody can read this; no names."
    )

    def __init__(self, items: Sequence[tuple[str, str]], *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("auto_id", "key_%s")  # beside the form of answers
        super().__init__(*args, **kwargs)
        choose(self, "item", items)


class RollForm(BaseForm):
    """Dice, rolled in front of everybody, and how many sheets they draw at most."""

    most = forms.IntegerField(label="Sheets at most", min_value=1, max_value=500)
    rolls = forms.CharField(
        label="What the dice show",
        max_length=40,
        help_text="6 to 12 rolls of a die, one digit each, in the order rolled.",
        widget=forms.TextInput(
            attrs={"inputmode": "numeric", "autocomplete": "off", "class": "code"}
        ),
    )


class RollAgainForm(RollForm):
    """A second draw."""

    why = forms.CharField(label="Why", max_length=200, help_text="Both draws stay in sight.")


class ReleaseForm(BaseForm):
    """Out with the results; a reason is asked for only while points are open, and is needed then.

    ``n_open``: how many are.
    """

    why = forms.CharField(
        label="Reason",
        max_length=200,
        help_text="It closes the open points that can be closed, and stays in the history.",
    )
    shows_names = forms.BooleanField(label="Show children's names beside the codes", required=False)
    shows_feedback = forms.BooleanField(
        label="Let everybody open the page of a pair by its code", required=False
    )
    public_places = forms.IntegerField(
        label="Last place that everybody sees",
        min_value=3,
        max_value=9999,
        required=False,
        help_text="10: the first ten places, a shared one whole. Empty: all.",
    )

    def __init__(self, *args: Any, n_open: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not n_open:
            del self.fields["why"]
