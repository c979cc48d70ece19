"""Rules, scoring, standings, rank confidence, key check and paper audit of one event."""

from nearmark.contest.answers import AcceptedAnswer, AnswerState, accepted_answers
from nearmark.contest.audit_sampling import (
    AuditOutcome,
    audit_outcome,
    drawn_sheets,
    sample_size,
    wrong_rate_limit,
    wrong_sheets_limit,
)
from nearmark.contest.event import Event
from nearmark.contest.field_offset import FieldBias
from nearmark.contest.heat_moves import move_pair, swap_pairs
from nearmark.contest.heat_records import Heat, n_cuts, scheduled, split_schools, with_heats
from nearmark.contest.heat_times import HeatClock, HeatState, HeatTime, heat_clock, timetable
from nearmark.contest.heats import fill_heats
from nearmark.contest.key_check import KeyCheck, SuspectedSlip, check_keys
from nearmark.contest.keying_errors import KeyingRates
from nearmark.contest.keys import ItemKey, event_keys
from nearmark.contest.pair_code import pair_spellings, read_pair_code, with_check
from nearmark.contest.paper_audit import AuditPlan, SheetRisk, plan_audit
from nearmark.contest.rank_confidence import RankConfidence, RemeasureGain, rank_confidence
from nearmark.contest.rank_margin import Margin, MarginShare, explain_margin
from nearmark.contest.ranking import places
from nearmark.contest.results import ItemScore, PairResult, Results, results
from nearmark.contest.rule_files import rules_as_mapping, rules_from_mapping, shipped_rules
from nearmark.contest.rules import RuleSet, StationRule, TieBreak
from nearmark.contest.scoring import percent_accuracy, score
from nearmark.station import Station

__all__ = [
    "AcceptedAnswer",
    "AnswerState",
    "AuditOutcome",
    "AuditPlan",
    "Event",
    "FieldBias",
    "Heat",
    "HeatClock",
    "HeatState",
    "HeatTime",
    "ItemKey",
    "ItemScore",
    "KeyCheck",
    "KeyingRates",
    "Margin",
    "MarginShare",
    "PairResult",
    "RankConfidence",
    "RemeasureGain",
    "Results",
    "RuleSet",
    "SheetRisk",
    "Station",
    "StationRule",
    "SuspectedSlip",
    "TieBreak",
    "accepted_answers",
    "audit_outcome",
    "check_keys",
    "drawn_sheets",
    "event_keys",
    "explain_margin",
    "fill_heats",
    "heat_clock",
    "move_pair",
    "n_cuts",
    "pair_spellings",
    "percent_accuracy",
    "places",
    "plan_audit",
    "rank_confidence",
    "read_pair_code",
    "results",
    "rules_as_mapping",
    "rules_from_mapping",
    "sample_size",
    "scheduled",
    "score",
    "shipped_rules",
    "split_schools",
    "swap_pairs",
    "timetable",
    "with_check",
    "with_heats",
    "wrong_rate_limit",
    "wrong_sheets_limit",
]
