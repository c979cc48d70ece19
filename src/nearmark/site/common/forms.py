"""The forms: what a person may type, checked field by field before an act is called."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any, TypeVar

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from nearmark.errors import InputError, NearmarkError
from nearmark.event_folder.numbers import NumberStyle
from nearmark.station import Station
from nearmark.words.numbers import capital
from nearmark.words.refusals import refusal_words
from nearmark.words.translation import language_in_force

_Form = TypeVar("_Form", bound=forms.Form)

STATION_WORDS = {
    Station.MASS: "mass: a cup of 100 g",
    Station.COUNT: "count: pieces in a container",
    Station.VOLUME: "volume: a box",
}


class DecimalField(forms.CharField):
    """A number exactly as written; a comma or a point as decimal mark."""

    def __init__(self, *, zero_allowed: bool = False, **kwargs: Any) -> None:
        self.zero_allowed = zero_allowed
        kwargs.setdefault("max_length", 30)
        super().__init__(**kwargs)
        self.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off", "class": "number"}

    def clean(self, value: Any) -> Any:
        """The number, or a refusal that says what to do."""
        text = super().clean(value)
        if not text:
            return None
        try:
            number = written_number(text)
        except InputError as refusal:
            raise ValidationError(words(refusal)) from refusal
        if number < 0 or (number == 0 and not self.zero_allowed):
            raise ValidationError(_("Must be above zero."))
        return number


class Pieces(DecimalField):
    """A whole number of pieces."""

    def clean(self, value: Any) -> Any:
        """The number, or a refusal."""
        number = super().clean(value)
        if number is None:
            return None
        if number != number.to_integral_value():
            raise ValidationError(_("Whole pieces only."))
        return int(number)


def written_number(text: str) -> Decimal:
    """A number as people write it, exactly.

    Raises InputError also where a mark could group thousands as well as begin the decimals: a comma
    everywhere, a point where the language in force has a decimal comma.

    >>> written_number("61,20"), written_number("1.234")
    (Decimal('61.20'), Decimal('1.234'))
    """
    if not text.strip():
        raise InputError("is empty", mend="Write a number")
    style = NumberStyle(";")
    number = style.decimal(text.strip())
    could_group = "," if language_in_force().decimal_mark == "." else ",."
    if style.doubt is not None and any(mark in text for mark in could_group):
        raise InputError(
            "could mean two numbers", value=text, mend="Write thousands without a mark: 1234"
        )
    return number


def words(refusal: NearmarkError) -> str:
    """A refusal as one line beside its field."""
    mend = f" {refusal_words(refusal.mend)}." if refusal.mend else ""
    return f"{capital(refusal_words(refusal.what))}.{mend}"


class NotValidError(Exception):
    """A field of a form is refused; the form says it when its page is shown again."""


class BaseForm(forms.Form):
    """Base class of all forms."""

    required_css_class = "required"
    use_required_attribute = True
    refused_status: int | None = None
    """Set when what was asked for was refused."""
    asked: tuple[Any, ...] = ()
    """Doubts that its typist is asked about before anything is saved."""

    def checked(self) -> dict[str, Any]:
        """What was typed, inside ``refusals_on``; NotValidError where a field is refused."""
        if not self.is_valid():
            raise NotValidError
        return self.cleaned_data

    @property
    def http_status(self) -> int:
        """HTTP status of a page that shows this form."""
        return self.refused_status or (422 if self.is_bound and self.errors else 200)


class NoteForm(BaseForm):
    """A reason that may be left out."""

    why = forms.CharField(label=_("Reason"), max_length=200, required=False)


class ReasonForm(BaseForm):
    """A reason, without which nothing is done."""

    why = forms.CharField(label=_("Reason"), max_length=200)


def day_field(label: str, help_text: str = "") -> forms.DateField:
    """A day, chosen in the browser's own calendar."""
    widget = forms.DateInput(attrs={"type": "date"})
    return forms.DateField(label=label, widget=widget, help_text=help_text)


def choose(form: _Form, name: str, choices: Iterable[tuple[str, str]]) -> _Form:
    """Give a form the (value, words) to choose from in one of its fields, if it has that field."""
    field = form.fields.get(name)
    if isinstance(field, forms.ChoiceField):
        field.choices = list(choices)
    return form
