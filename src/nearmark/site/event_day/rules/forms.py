"""A rule set as a form: every setting that a lead may choose."""

import re
from fractions import Fraction
from typing import Any, Final

from django import forms

from nearmark.contest.rule_files import rules_from_mapping
from nearmark.contest.rules import MAX_DECIMALS, MAX_HEAT, RuleSet, SchoolRule, TieBreak
from nearmark.errors import InputError
from nearmark.site.common.forms import BaseForm
from nearmark.station import Station

_PERCENTS: Final = ("zero_at", "free_within")
_POINTS: Final = ("full_score", "highest_score", "blank_score")
_HEATS: Final = ("heat_minutes", "heat_places")
N_TIE_BREAKS: Final = 3
_PERCENT: Final = re.compile(r"\d{1,9}(\.\d{1,9})?|\d{1,9}/0*[1-9]\d{0,8}", re.ASCII)
TIE_BREAK_WORDS: Final = {
    TieBreak.MASS_TOTAL: "the better total of the cups",
    TieBreak.COUNT_TOTAL: "the better total of the containers",
    TieBreak.VOLUME_TOTAL: "the better total of the boxes",
    TieBreak.WORST_ITEM: "the better worst item",
    TieBreak.ITEMS_AT_90: "more items with 90 points or more",
}
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
        super().__init__(max_length=30, **kwargs)
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
        help_text="Empty: 30",
    )  # fmt: skip
    heat_places = forms.IntegerField(
        label="Pairs at a time", required=False, min_value=1, max_value=MAX_HEAT,
        help_text="Empty: 12",
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

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
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
        choices = [("", "none"), *((t.value, words) for t, words in TIE_BREAK_WORDS.items())]
        for n in range(1, N_TIE_BREAKS + 1):
            self.fields[f"tie_break_{n}"] = forms.ChoiceField(
                label="Equal totals: what decides" if n == 1 else f"If still equal, {n}",
                choices=choices,
                required=False,
            )

    def rules(self, base: RuleSet) -> RuleSet:
        """The rule set as typed; what the form does not ask is as in ``base``.

        Raises InputError if a setting is impossible; it names the field.
        """
        given = self.cleaned_data
        breaks = [given[f"tie_break_{n}"] for n in range(1, N_TIE_BREAKS + 1)]
        mapping = {
            "name": given["name"],
            **{name: _share(given[name], name) for name in _PERCENTS},
            **{name: given[name] for name in _POINTS if given[name]},
            "target_mass_g": str(base.target_mass_g),
            "tie_breaks": [name for name in breaks if name],
            "decimals": given["decimals"],
            "solo_allowed": given["solo_allowed"],
            **{name: given[name] for name in _HEATS if given[name]},
            **({"run_off": given["run_off"]} if given["run_off"] else {}),
            **self._schools(),
            "u_limit": _limit(given["u_limit"], "u_limit"),
            "stations": {station.value: self._station(station, base) for station in STATION_NAMES},
        }
        return rules_from_mapping(mapping)

    def _schools(self) -> dict[str, object]:
        rule, pairs = self.cleaned_data["school_rule"], self.cleaned_data["school_pairs"]
        return {"school_total": {"rule": rule, "pairs": pairs or 1}} if rule else {}

    def _station(self, station: Station, base: RuleSet) -> dict[str, object]:
        given, rule = self.cleaned_data, base.stations[station]
        limit = given.get(f"{station}_u_limit")
        stated = {"u_limit": _limit(limit, f"{station}_u_limit")} if limit else {}
        return {
            "weight": given[f"{station}_weight"],
            "lowest": str(rule.lowest),
            "highest": str(rule.highest),
            **stated,
        }


def first_values(rules: RuleSet) -> dict[str, object]:
    """What the form shows of a rule set before anything is typed."""
    breaks = dict(enumerate(rules.tie_breaks, start=1))
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
        "u_limit": f"{rules.u_limit * 100:g}",
        **{f"{s}_weight": _text(r.weight) for s, r in rules.stations.items()},
        **{f"{s}_u_limit": f"{u * 100:g}" for s, u in limits.items() if u is not None},
        **{f"tie_break_{n}": t.value for n, t in breaks.items()},
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


def _text(value: Fraction) -> str:
    """As short as it can be read back: 1.5, or 1/3 where decimals do not end."""
    decimal = f"{float(value):g}"
    return decimal if Fraction(decimal) == value else str(value)
