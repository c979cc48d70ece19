"""The forms: what a person may type, checked field by field before an act is called."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError

from nearmark.contest.event import PairStatus
from nearmark.contest.rule_files import shipped_rules
from nearmark.contest.rules import Station
from nearmark.errors import InputError, NearmarkError
from nearmark.event_folder.numbers import NumberStyle
from nearmark.site.models import Account
from nearmark.site.roles import Job, Role

STATION_WORDS = {
    Station.MASS: "mass: a cup of 100 g",
    Station.COUNT: "count: pieces in a container",
    Station.VOLUME: "volume: a box",
}


class Written(forms.CharField):
    """A number exactly as written; a comma or a point as decimal mark.

    Parameters
    ----------
    zero_allowed : bool
    """

    def __init__(self, *, zero_allowed: bool = False, **kwargs: Any) -> None:
        self.zero_allowed = zero_allowed
        kwargs.setdefault("max_length", 30)
        super().__init__(**kwargs)
        self.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off", "class": "number"}

    def clean(self, value: Any) -> Any:
        """The number, or a refusal that says the mend."""
        text = super().clean(value)
        if not text:
            return None
        try:
            number = written_number(text)
        except InputError as refusal:
            raise ValidationError(words(refusal)) from refusal
        if number < 0 or (number == 0 and not self.zero_allowed):
            raise ValidationError("Must be above zero.")
        return number


class Pieces(Written):
    """A whole number of pieces."""

    def clean(self, value: Any) -> Any:
        """The number, or a refusal."""
        number = super().clean(value)
        if number is None:
            return None
        if number != number.to_integral_value():
            raise ValidationError("Whole pieces only.")
        return int(number)


def written_number(text: str) -> Decimal:
    """A number as people write it, exactly.

    Parameters
    ----------
    text : str

    Raises
    ------
    InputError
        Also where a mark could group thousands as well as begin the decimals.

    Examples
    --------
    >>> written_number("61,20")
    Decimal('61.20')
    """
    if not text.strip():
        raise InputError("is empty", mend="Write a number")
    style = NumberStyle(";")
    number = style.decimal(text.strip())
    if style.doubt is not None and "," in text:
        raise InputError(
            "could mean two numbers", value=text, mend="Write thousands without a mark: 1234"
        )
    return number


def words(refusal: NearmarkError) -> str:
    """A refusal as one line beside its field.

    Parameters
    ----------
    refusal : NearmarkError
    """
    mend = f" {refusal.mend}." if refusal.mend else ""
    return f"{refusal.what[:1].upper()}{refusal.what[1:]}.{mend}"


class Plain(forms.Form):
    """A form in the site's own clothes."""

    required_css_class = "required"
    use_required_attribute = True


class FirstRunForm(Plain):
    """The lead's account."""

    name = forms.CharField(label="Your name", max_length=60, help_text="Stands beside what you do.")
    password = forms.CharField(
        label="Password",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least 10 characters. Four unrelated words are easy to keep.",
    )
    again = forms.CharField(
        label="Password again",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def clean_again(self) -> str:
        """Both must be the same."""
        again = str(self.cleaned_data["again"])
        if again != self.cleaned_data.get("password"):
            raise ValidationError("The two passwords differ.")
        return again


class SignInForm(Plain):
    """Name and password."""

    name = forms.CharField(label="Name", max_length=60)
    password = forms.CharField(
        label="Password",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )


class JoinForm(Plain):
    """A one-time code, a name, a PIN."""

    code = forms.CharField(
        label="Code",
        max_length=20,
        widget=forms.TextInput(
            attrs={"autocapitalize": "characters", "autocomplete": "off", "class": "code"}
        ),
        help_text="Eight signs, from the lead's screen.",
    )
    name = forms.CharField(
        label="Your name", max_length=60, help_text="Stands beside every answer you enter."
    )
    pin = forms.CharField(
        label="A PIN of your own",
        max_length=8,
        widget=forms.PasswordInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        help_text="4 to 8 digits; opens this device when it has locked itself.",
    )


class UnlockForm(Plain):
    """The PIN or the password."""

    secret = forms.CharField(
        label="PIN or password",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )


class EventForm(Plain):
    """A new event."""

    name = forms.CharField(label="Name of the event", max_length=200)
    day = forms.DateField(label="Day", widget=forms.DateInput(attrs={"type": "date"}))
    venue = forms.CharField(label="Place", max_length=200, required=False)
    rules = forms.ChoiceField(label="Rule set")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["rules"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [(name, name) for name in shipped_rules()]


class EventChangeForm(EventForm):
    """What an event is called, when and where it is, and its rules."""

    field_order = ["name", "day", "venue", "rules", "why"]
    why = forms.CharField(label="Reason", max_length=200, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["rules"]
        field.required = False
        if isinstance(field, forms.ChoiceField):
            field.choices = [("", "as it is now"), *((name, name) for name in shipped_rules())]


class PairForm(Plain):
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


class PairStatusForm(Plain):
    """Whether a pair takes part."""

    status = forms.ChoiceField(choices=[(s.value, s.value) for s in PairStatus])
    why = forms.CharField(max_length=200, required=False)


class WeighInForm(Plain):
    """A cup on the scale.

    Parameters
    ----------
    scales : sequence of str
        Names of the scales of the event; with one there is nothing to choose.
    """

    pair = forms.CharField(
        label="Pair",
        max_length=200,
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "spellcheck": "false"}),
    )
    cup = forms.CharField(label="Cup number", max_length=200)
    gross_g = Written(label="Scale shows, g")
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


class NoteForm(Plain):
    """A reason that may be left out."""

    why = forms.CharField(label="Reason", max_length=200, required=False)


class ReasonForm(Plain):
    """A reason, without which nothing is done."""

    why = forms.CharField(label="Reason", max_length=200)


class ReleaseForm(Plain):
    """Out with the results; a reason is asked for only while points are open, and is needed then.

    Parameters
    ----------
    n_open : int
        How many are.
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


class CodeForm(Plain):
    """Role of a one-time code."""

    ROLES: ClassVar = [(r.value, r.value) for r in (Role.SCORER, Role.COACH, Role.LEAD)]
    role = forms.ChoiceField(label="The device is for a", choices=ROLES)
    job = forms.ChoiceField(
        label="Job of a scorer",
        choices=[("", "any"), *((job.value, job.value) for job in Job)],
        required=False,
        help_text="The menu of the device shows the pages of this job only.",
    )
    again = forms.ModelChoiceField(
        Account.objects.filter(role=Role.COACH.value, joined_by_code=True, is_active=True).order_by(
            "name"
        ),
        label="A coach who was here before",
        required=False,
        empty_label="somebody new",
        help_text="Opens the same clubs again, with a new PIN. The old device is out then.",
    )
