"""A rule set as a form: every setting that a lead may choose."""

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final

from django import forms

from nearmark.contest.rule_files import rules_as_mapping, rules_from_mapping
from nearmark.contest.rules import (
    HEAT_MINUTES,
    MAX_DECIMALS,
    MAX_HEAT,
    PLACES,
    RuleSet,
    SchoolRule,
    TieBreak,
)
from nearmark.errors import InputError
from nearmark.site.common.forms import BaseForm
from nearmark.station import Station
from nearmark.words.rules import tie_break_words

_PERCENTS: Final = ("zero_at", "free_within")
_POINTS: Final = ("full_score", "highest_score", "blank_score")
_HEATS: Final = ("heat_minutes", "heat_places")
_SCHOOLS: Final = ("school_rule", "school_pairs")
_TIE_BREAKS: Final = tuple(f"tie_break_{n}" for n in range(1, len(TieBreak) + 1))
_PERCENT: Final = re.compile(r"\d{1,9}(\.\d{1,30})?|\d{1,9}/0*[1-9]\d{0,8}", re.ASCII)
_SCHOOL_WORDS: Final = {
    "": "not",
    SchoolRule.BEST.value: "by the total of their best pairs",
    SchoolRule.MEAN.value: "by the mean of all their pairs",
}
STATION_NAMES: Final = {
    Station.MASS: "cup",
    Station.COUNT: "container",
    Station.VOLUME: "box",
}


class ExactField(forms.CharField):
    """A number that may be a fraction: 1, 1.5 or 1/3."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(max_length=90, **kwargs)
        self.widget.attrs |= {"autocomplete": "off", "class": "number"}

    def clean(self, value: Any) -> Any:
        """The text with a point as decimal mark; the rule set itself refuses what is no number."""
        return super().clean(value).replace(",", ".")


class RuleSetForm(BaseForm):
    """Every setting of a rule set."""

    name = forms.CharField(label="Name", max_length=200)
    full_score = ExactField(label="Points of an exact answer")
    free_within = ExactField(label="Full points up to, % off", help_text="0: only an exact answer")
    zero_at = ExactField(label="No points from, % off", help_text="100: from double upwards")
    highest_score = ExactField(
        label="At most, points of one answer", required=False, help_text="Empty: no other limit"
    )
    blank_score = ExactField(label="Points of a blank answer")
    decimals = forms.IntegerField(
        label="Decimals that are printed", min_value=0, max_value=MAX_DECIMALS
    )
    solo_allowed = forms.BooleanField(label="A child alone gets a place", required=False)
    heat_minutes = forms.IntegerField(
        label="Minutes of a heat", required=False, min_value=1, max_value=MAX_HEAT,
        help_text=f"Empty: {HEAT_MINUTES}",
    )  # fmt: skip
    heat_places = forms.IntegerField(
        label="Pairs at a time", required=False, min_value=1, max_value=MAX_HEAT,
        help_text=f"Empty: {PLACES}",
    )  # fmt: skip
    school_rule = forms.ChoiceField(
        label="Schools are ranked", required=False, choices=list(_SCHOOL_WORDS.items())
    )
    school_pairs = forms.IntegerField(
        label="Pairs of a school that are needed", required=False, min_value=1, max_value=99,
        help_text="Of the best pairs: how many count",
    )  # fmt: skip
    run_off = forms.CharField(
        label="If pairs share the first place, they do", required=False, max_length=300,
        help_text="Such as: each scoops 100 g once more. It changes no score",
    )  # fmt: skip
    u_limit = ExactField(label="A true value is fit up to, ± %", help_text="The usual limit is 1 %")

    def __init__(self, base: RuleSet, data: Mapping[str, Any] | None = None) -> None:
        super().__init__(data, initial=first_values(base))
        self._base = base
        for station, name in STATION_NAMES.items():
            self.fields[f"{station}_weight"] = ExactField(
                label=f"Weight of a {name}", help_text="1, 1.5 or 1/3"
            )
            if station is not Station.MASS:
                self.fields[f"{station}_u_limit"] = ExactField(
                    label=f"True value of a {name} is fit up to, ± %",
                    required=False,
                    help_text="Empty: as for all",
                )
        choices = [("", "none"), *((t.value, tie_break_words(t)) for t in TieBreak)]
        for n, name in enumerate(_TIE_BREAKS, start=1):
            self.fields[name] = forms.ChoiceField(
                label="Equal totals: what decides" if n == 1 else f"If still equal, {n}",
                choices=choices,
                required=False,
            )

    def rules(self) -> RuleSet:
        """The rule set as typed, else as in the base; InputError names an impossible field."""
        mapping = rules_as_mapping(self._base)
        del mapping["version"]
        for name in self.changed_data:
            station, _, setting = name.partition("_")
            if station in STATION_NAMES:
                _put(mapping["stations"][station], setting, self._value(name))
            elif name in _SCHOOLS:
                _put(mapping, "school_total", self._schools())
            elif name in _TIE_BREAKS:
                mapping["tie_breaks"] = [t for n in _TIE_BREAKS if (t := self.cleaned_data[n])]
            else:
                _put(mapping, name, self._value(name))
        return rules_from_mapping(mapping)

    def _value(self, name: str) -> Any:
        given = self.cleaned_data[name]
        if name in _PERCENTS:
            return _share(given, name)
        if name.endswith("u_limit"):
            return _limit(given, name) if given else None
        return given

    def _schools(self) -> dict[str, object]:
        rule, pairs = self.cleaned_data["school_rule"], self.cleaned_data["school_pairs"]
        return {"rule": rule, "pairs": pairs or 1} if rule else {}


def _put(mapping: dict[str, Any], name: str, value: Any) -> None:
    """Set a setting; one left empty is left out."""
    if value is None or value in ("", {}):
        mapping.pop(name, None)
    else:
        mapping[name] = value


def first_values(rules: RuleSet) -> dict[str, object]:
    """What the form shows of a rule set before anything is typed."""
    limits = {s: r.u_limit for s, r in rules.stations.items()}
    return {
        "name": rules.name,
        **{name: _text(getattr(rules, name) * 100) for name in _PERCENTS},
        **{n: _text(v) for n in _POINTS if (v := getattr(rules, n)) is not None},
        "decimals": rules.decimals,
        "solo_allowed": rules.solo_allowed,
        **{name: getattr(rules, name) for name in _HEATS},
        "run_off": rules.run_off,
        **(
            {"school_rule": rules.school_total.rule.value, "school_pairs": rules.school_total.pairs}
            if rules.school_total
            else {}
        ),
        "u_limit": _percent(rules.u_limit),
        **{f"{s}_weight": _text(r.weight) for s, r in rules.stations.items()},
        **{f"{s}_u_limit": _percent(u) for s, u in limits.items() if u is not None},
        **{name: t.value for name, t in zip(_TIE_BREAKS, rules.tie_breaks, strict=False)},
    }


def _share(percent: str, where: str) -> str:
    """A percentage as an exact share."""
    if not _PERCENT.fullmatch(percent):
        raise InputError(
            "is not a number", where=where, value=percent, mend="Write a number such as 5"
        )
    return str(Fraction(percent) / 100)


def _limit(percent: str, where: str) -> float:
    share = float(Fraction(_share(percent, where)))
    if not 0 < share < 1:
        raise InputError(
            "must be above 0 and below 100", where=where, value=percent, mend="1 is usual"
        )
    return share


def _percent(share: float) -> str:
    """A share as the percentage that it prints as: 0.07 is 7."""
    return _text(Fraction(repr(share)) * 100)


def _text(value: Fraction) -> str:
    """As short as it can be read back: 1.5, or 1/3 where decimals do not end."""
    decimal = f"{Decimal(value.numerator) / Decimal(value.denominator):f}"
    return decimal if Fraction(decimal) == value else str(value)
