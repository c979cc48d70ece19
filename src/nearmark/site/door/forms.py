"""Forms of the door: first account, signing in, joining, unlocking, codes."""

from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from nearmark.site.common.forms import BaseForm
from nearmark.site.door.access import Job, Role
from nearmark.site.door.models import Account


def _secret(label: Any, autocomplete: str, help_text: str = "") -> forms.CharField:
    """A password, or the PIN of a device, typed without being seen."""
    widget = forms.PasswordInput(attrs={"autocomplete": autocomplete})
    return forms.CharField(
        label=label, max_length=200, strip=False, widget=widget, help_text=help_text
    )


class FirstRunForm(BaseForm):
    """The lead's account."""

    name = forms.CharField(label="Your name", max_length=60, help_text="Shown beside what you do.")
    password = _secret(
        _("Password"),
        "new-password",
        "At least 10 characters. Four unrelated words are easy to keep.",
    )
    again = _secret("Password again", "new-password")

    def clean_again(self) -> str:
        """Both must be the same."""
        again = str(self.cleaned_data["again"])
        if again != self.cleaned_data.get("password"):
            raise ValidationError("The two passwords differ.")
        return again


class SignInForm(BaseForm):
    """Name and password."""

    name = forms.CharField(label=_("Name"), max_length=60)
    password = _secret(_("Password"), "current-password")


class JoinForm(BaseForm):
    """A one-time code, a name, a PIN."""

    code = forms.CharField(
        label=_("Code"),
        max_length=20,
        widget=forms.TextInput(
            attrs={"autocapitalize": "characters", "autocomplete": "off", "class": "code"}
        ),
        help_text=_("Eight signs, from the lead's screen."),
    )
    name = forms.CharField(
        label=_("Your name"), max_length=60, help_text=_("Shown beside every answer you enter.")
    )
    pin = forms.CharField(
        label=_("A PIN of your own"),
        max_length=8,
        widget=forms.PasswordInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        help_text=_("4 to 8 digits; opens this device when it has locked itself."),
    )


class UnlockForm(BaseForm):
    """The PIN or the password."""

    secret = _secret(_("PIN or password"), "current-password")


class CodeForm(BaseForm):
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
