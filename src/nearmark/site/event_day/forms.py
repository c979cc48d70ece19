"""Forms of the event itself."""

from typing import Any

from django import forms

from nearmark.site.common.forms import BaseForm, choose
from nearmark.site.event_day.rules.actions import known_rules
from nearmark.words.rules import rules_words


class EventForm(BaseForm):
    """A new event."""

    name = forms.CharField(label="Name of the event", max_length=200)
    day = forms.DateField(label="Day", widget=forms.DateInput(attrs={"type": "date"}))
    venue = forms.CharField(label="Place", max_length=200, required=False)
    rules = forms.ChoiceField(label="Rule set")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "rules", _rule_choices())


class EventChangeForm(EventForm):
    """What an event is called, when and where it is, and its rules."""

    field_order = ["name", "day", "venue", "rules", "why"]
    why = forms.CharField(label="Reason", max_length=200, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["rules"].required = False
        choose(self, "rules", [("", "as it is now"), *_rule_choices()])


def _rule_choices() -> list[tuple[str, str]]:
    return [(name, rules_words(rules)) for name, rules in known_rules().items()]
