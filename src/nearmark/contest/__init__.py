"""Rules, scoring, standings, rank confidence, key check and paper audit of one event."""

from nearmark.contest.answers import AcceptedAnswer, AnswerState, accepted_answers
from nearmark.contest.event import Event
from nearmark.contest.key_check import KeyCheck, check_keys
from nearmark.contest.keys import ItemKey, event_keys, key_as_json
from nearmark.contest.paper_audit import AuditPlan, plan_audit
from nearmark.contest.rank_confidence import RankConfidence, rank_confidence
from nearmark.contest.ranking import places
from nearmark.contest.results import ItemScore, PairResult, Results, results, results_as_json
from nearmark.contest.rule_files import rules_as_mapping, rules_from_mapping, shipped_rules
from nearmark.contest.rules import RuleSet, Station, StationRule, TieBreak
from nearmark.contest.scoring import percent_accuracy, score

__all__ = [
    "AcceptedAnswer",
    "AnswerState",
    "AuditPlan",
    "Event",
    "ItemKey",
    "ItemScore",
    "KeyCheck",
    "PairResult",
    "RankConfidence",
    "Results",
    "RuleSet",
    "Station",
    "StationRule",
    "TieBreak",
    "accepted_answers",
    "check_keys",
    "event_keys",
    "key_as_json",
    "percent_accuracy",
    "places",
    "plan_audit",
    "rank_confidence",
    "results",
    "results_as_json",
    "rules_as_mapping",
    "rules_from_mapping",
    "score",
    "shipped_rules",
]
