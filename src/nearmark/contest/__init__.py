"""Rules, scoring, standings, rank confidence, key check and paper audit of one event."""

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import Event
from nearmark.contest.heat_moves import move_pair, swap_pairs
from nearmark.contest.heat_records import Heat, n_cuts, scheduled, split_schools, with_heats
from nearmark.contest.heat_times import HeatClock, HeatState, HeatTime, heat_clock, timetable
from nearmark.contest.heats import fill_heats
from nearmark.contest.key_check import KeyCheck, check_keys
from nearmark.contest.keys import ItemKey, event_keys
from nearmark.contest.paper_audit import AuditPlan, plan_audit
from nearmark.contest.rank_confidence import RankConfidence, rank_confidence
from nearmark.contest.results import ItemScore, PairResult, Results, results
from nearmark.contest.rule_files import shipped_rules
from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import score

__all__ = [
    "AnswerState",
    "AuditPlan",
    "Event",
    "Heat",
    "HeatClock",
    "HeatState",
    "HeatTime",
    "ItemKey",
    "ItemScore",
    "KeyCheck",
    "PairResult",
    "RankConfidence",
    "Results",
    "RuleSet",
    "check_keys",
    "event_keys",
    "fill_heats",
    "heat_clock",
    "move_pair",
    "n_cuts",
    "plan_audit",
    "rank_confidence",
    "results",
    "scheduled",
    "score",
    "shipped_rules",
    "split_schools",
    "swap_pairs",
    "timetable",
    "with_heats",
]
