"""The rule sets, and a form to make one from another."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from django.http import HttpRequest, HttpResponse

from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import score
from nearmark.errors import InputError
from nearmark.printing.words import number_text
from nearmark.site.common.responses import done, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event, rules_of
from nearmark.site.event_day.rules.actions import keep_rules, known_rules, rules_called
from nearmark.site.event_day.rules.forms import STATION_NAMES, RuleSetForm
from nearmark.words.rules import rules_words

PERCENTS_OFF: Final = (0, 1, 2, 5, 10, 20, 50, 100)
"""For which a page shows the points."""


@dataclass(frozen=True, slots=True)
class RuleLine:
    """One rule set with what it gives."""

    name: str
    words: str  # name and version
    points: list[tuple[int, str]]  # for each of ``PERCENTS_OFF``
    is_used: bool  # by the open event


@dataclass(frozen=True, slots=True)
class RuleSetsView:
    """All rule sets side by side."""

    title: str
    percents: tuple[int, ...]
    lines: list[RuleLine]
    used: str  # name and version of the event's rule set; empty without an event


@dataclass(frozen=True, slots=True)
class RuleSetView:
    """One rule set as a form, and what it gives as typed."""

    title: str
    base: str  # name of the rule set it is made from
    form: RuleSetForm
    percents: tuple[int, ...]
    points: list[str]  # empty before it was checked


def rule_sets(request: HttpRequest) -> HttpResponse:
    """Show every rule set, newest versions only."""
    record = current_event()
    used = rules_of(record) if record else None
    lines = [
        RuleLine(
            name,
            rules_words(rules),
            list(zip(PERCENTS_OFF, _points(rules), strict=True)),
            is_used=rules == used,
        )
        for name, rules in known_rules().items()
    ]
    view = RuleSetsView("Rule sets", PERCENTS_OFF, lines, rules_words(used) if used else "")
    return show(request, "event_day/rules/rule_sets", view)


def rule_set_make(request: HttpRequest) -> HttpResponse:
    """Make the next version of a rule set, or one of a new name."""
    base_name = request.POST.get("base") or request.GET.get("from") or RuleSet().name
    base = rules_called(base_name)
    form = RuleSetForm(base, request.POST or None)
    points: list[str] = []
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            rules = _typed_rules(form)
            points = _points(rules)
            if request.POST.get("act") == "save":
                kept = keep_rules(rules, by=visitor_of(request).name)
                return done(request, f"Saved: {rules_words(kept)}.", "rule-sets")
    view = RuleSetView("Make a rule set", base_name, form, PERCENTS_OFF, points)
    return show(request, "event_day/rules/rule_set", view, status=form.http_status)


def _typed_rules(form: RuleSetForm) -> RuleSet:
    try:
        return form.rules()
    except InputError as refusal:
        # "rule set, zero_at", "rule set, stations.count.weight" or, where the weight is not above
        # zero, "rule set, stations.count".
        field = refusal.where.removeprefix("rule set, ").removeprefix("stations.").replace(".", "_")
        if field in STATION_NAMES:
            field = f"{field}_weight"
        raise InputError(
            refusal.what, where=field, value=refusal.value, mend=refusal.mend
        ) from None


def _points(rules: RuleSet) -> list[str]:
    key = Decimal(100)
    points = (score(key + off, key, rules) for off in PERCENTS_OFF)
    return [number_text(float(p), rules.decimals) for p in points]
