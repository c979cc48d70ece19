"""What ``--json`` prints, with stable keys; the exact numbers are beside the floats."""

import math
from decimal import Decimal
from typing import Any

from nearmark.contest.awards import awards
from nearmark.contest.division_results import DivisionResults, by_division
from nearmark.contest.key_check import KeyCheck
from nearmark.contest.keys import ItemKey
from nearmark.contest.paper_audit import AuditPlan
from nearmark.contest.results import PairResult, Results
from nearmark.contest.school_totals import SchoolResult, school_rankings, school_totals
from nearmark.kit.assigned_value import AssignedValue
from nearmark.kit.drawn_check import DrawnCheck
from nearmark.words.budget_notes import row_notes
from nearmark.words.key_advice import advice_words
from nearmark.words.key_check import cause_words, check_words, limit_words
from nearmark.words.key_remarks import drawn_words, lack_words, warning_words
from nearmark.words.keys import problem_words
from nearmark.words.open_points import point_json, point_sentence
from nearmark.words.paper_audit import how_to_draw, why_listed


def results_as_json(outcome: Results) -> dict[str, Any]:
    """The stable keys of ``nearmark score --json``, apart from ``confidence``.

    ``event``, ``rules``, ``pairs``, ``keys``, ``open_points`` (sentences) and
    ``open_point_records`` (the same with all they say, and those closed with a reason).  Scores
    and totals are there twice: as a number, and exactly, as a fraction in text.  Of an event with
    divisions also ``is_comparable`` and ``divisions``; under a rule for schools also ``schools``.

    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> found = results_as_json(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    >>> found["rules"]
    {'name': 'percent accuracy', 'version': 1}
    """
    event = outcome.event
    found: dict[str, Any] = {
        "event": {"name": event.name, "day": event.day.isoformat(), "venue": event.venue},
        "rules": {"name": event.rules.name, "version": event.rules.version},
        "pairs": [_pair_as_json(line) for line in outcome.pairs],
        "keys": [key_as_json(key) for key in outcome.keys.values()],
        "open_points": [point_sentence(point) for point in outcome.open_points],
        "open_point_records": [point_json(point) for point in outcome.points],
    }
    if event.divisions:
        found["is_comparable"] = outcome.is_comparable
        found["divisions"] = [_division_as_json(cut, outcome) for cut in by_division(outcome)]
        for entry, line in zip(found["pairs"], outcome.pairs, strict=True):
            entry["division"] = line.pair.division
            entry["division_place"] = line.division_place
    if event.rules.school_total is not None:
        found["schools"] = [
            _school_as_json(one, ranking.division)
            for ranking in school_rankings(outcome)
            for one in school_totals(ranking)
        ]
    return found


def _division_as_json(cut: DivisionResults, whole: Results) -> dict[str, Any]:
    of_division = next(one for one in awards(whole) if one.division.name == cut.division)
    return {
        "name": cut.division,
        "items": [item.code for item in cut.event.items],
        "highest_total": float(cut.highest_total),
        "highest_total_exact": str(cut.highest_total),
        "pairs": [line.pair.code for line in cut.pairs],
        "awarded_places": of_division.division.awarded_places,
        "awards": [
            {"place": award.place, "pairs": [pair.code for pair in award.pairs]}
            for award in of_division.awards
        ],
    }


def _school_as_json(one: SchoolResult, division: str) -> dict[str, Any]:
    return {
        "division": division,
        "school": one.school,
        "place": one.place,
        "total": float(one.total),
        "total_exact": str(one.total),
        "counted": list(one.counted),
        "n_pairs": one.n_pairs,
    }


def _pair_as_json(line: PairResult) -> dict[str, Any]:
    return {
        "code": line.pair.code,
        "school": line.pair.school,
        "status": line.pair.status.value,
        "place": line.place,
        "total": float(line.total),
        "total_exact": str(line.total),
        "items": [
            {
                "item": s.item,
                "estimate": None if s.estimate is None else float(s.estimate),
                "score": float(s.score),
                "score_exact": str(s.score),
                "status": s.status.value,
                "state": s.state.value,
            }
            for s in line.items
        ],
    }


def key_as_json(key: ItemKey) -> dict[str, object]:
    """The stable keys of one item.

    ``item``, ``station``, ``name``, ``unit``, ``key``, ``standard_uncertainty`` (``None`` when the
    key is somebody's word), ``fit``, ``decision``, ``problem``, ``assigned_value``.

    >>> from nearmark.contest.event import Item
    >>> from nearmark.station import Station
    >>> scoop = Item("M1", Station.MASS, "scoop")
    >>> found = key_as_json(ItemKey(scoop, None, Decimal(100), 0, 9, fit=True))
    >>> found["unit"], found["key"]
    ('g', 100)
    """
    decision = key.decision
    return {
        "item": key.item.code,
        "station": key.item.station.value,
        "name": key.item.name,
        "unit": key.unit,
        "key": None if key.key is None else _number(key.key),
        "standard_uncertainty": None if key.is_only_decided else key.u,
        "fit": key.fit,
        "decision": None
        if decision is None
        else {
            "value": None if decision.value is None else _number(decision.value),
            "by": decision.by,
            "reason": decision.reason,
        },
        "problem": problem_words(key),
        "assigned_value": None if key.assigned is None else assigned_as_json(key.assigned),
    }


def _number(value: Decimal) -> int | float:
    return int(value) if value == value.to_integral_value() else float(value)


def check_as_json(check: KeyCheck) -> dict[str, object]:
    """The stable keys of one key check.

    ``item``, ``answers``, ``robust_log_ratio``, ``standard_uncertainty``, ``expected_log_ratio``,
    ``z``, ``seen_error``, ``flagged``, ``rivals``, ``slips`` (``words``, ``probability``, ``key``),
    ``words``, ``limit``.
    """
    return {
        "item": check.item,
        "answers": check.n,
        "robust_log_ratio": check.robust_log_ratio,
        "standard_uncertainty": check.u,
        "expected_log_ratio": check.expected,
        "z": check.z,
        "seen_error": check.seen_error,
        "flagged": check.flagged,
        "rivals": list(check.rivals),
        "slips": [
            {"words": cause_words(s.cause), "probability": s.probability, "key": s.key}
            for s in check.slips
        ],
        "words": check_words(check),
        "limit": limit_words(check),
    }


def audit_as_json(plan: AuditPlan) -> dict[str, object]:
    """The stable keys of an audit plan.

    ``targeted`` (``code``, ``risk``, ``reason``), ``sample``, ``sheets``, ``others``,
    ``tolerable_wrong``, ``expected_wrong_fields``, ``risk_before``, ``risk_after``, ``seed``,
    ``draw``, ``left_out``.
    """
    return {
        "targeted": [
            {"code": sheet.code, "risk": sheet.risk, "reason": why_listed(sheet)}
            for sheet in plan.targeted
        ],
        "sample": list(plan.sample),
        "sheets": plan.n_sheets,
        "others": plan.n_others,
        "tolerable_wrong": plan.tolerable_wrong,
        "expected_wrong_fields": plan.expected_wrong_fields,
        "risk_before": plan.risk_before,
        "risk_after": plan.risk_after,
        "seed": plan.seed,
        "draw": how_to_draw(plan),
        "left_out": list(plan.left_out),
    }


def assigned_as_json(assigned: AssignedValue) -> dict[str, Any]:
    """The stable keys of an assigned value; infinite degrees of freedom become ``None``.

    ``measurand``, ``method``, ``unit``, ``value``, ``key``, ``standard_uncertainty``, ``dof``,
    ``coverage_factor``, ``expanded_uncertainty``, ``relative_expanded_uncertainty``, ``interval``,
    ``drawn_check``, ``fit``, ``u_limit``, ``points_effect``, ``budget``, ``warnings``, ``advice``,
    ``missing``.
    """
    budget = assigned.budget
    return {
        "measurand": budget.measurand,
        "method": assigned.method,
        "unit": budget.unit,
        "value": budget.value,
        "key": int(assigned.key)
        if assigned.key == assigned.key.to_integral_value()
        else float(assigned.key),
        "standard_uncertainty": assigned.u,
        "dof": finite_or_none(budget.dof),
        "coverage_factor": budget.coverage_factor,
        "expanded_uncertainty": assigned.expanded_u,
        "relative_expanded_uncertainty": finite_or_none(assigned.relative_expanded_u),
        "interval": list(assigned.interval),
        "drawn_check": drawn_as_json(assigned.drawn_check),
        "fit": assigned.fit,
        "u_limit": assigned.u_limit,
        "points_effect": finite_or_none(assigned.points_effect),
        "budget": [
            {
                "component": c.name,
                "value": c.value,
                "unit": c.unit,
                "standard_uncertainty": c.u,
                "distribution": c.distribution,
                "sensitivity": c.sensitivity,
                "contribution": c.contribution,
                "dof": finite_or_none(c.dof),
                "share": budget.share(c),
                "note": row_notes(c),
                "cause": c.cause,
            }
            for c in budget.components
        ],
        "warnings": [warning_words(warning) for warning in assigned.warnings],
        "advice": [advice_words(advice) for advice in assigned.advice],
        "missing": lack_words(assigned),
    }


def drawn_as_json(check: DrawnCheck) -> dict[str, Any]:
    """The stable keys of a check by drawing.

    ``interval``, ``draws``, ``agrees``, ``tolerance``, ``words``.
    """
    return {
        "interval": list(check.interval),
        "draws": check.n_draws,
        "agrees": check.agrees,
        "tolerance": check.tolerance,
        "words": drawn_words(check),
    }


def finite_or_none(value: float) -> float | None:
    """A number as JSON can hold it.

    >>> finite_or_none(2.5), finite_or_none(math.inf)
    (2.5, None)
    """
    return value if math.isfinite(value) else None
