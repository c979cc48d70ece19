"""The season: how a pupil reads, where the points go, who decides, what to practise next."""

from nearmark.coaching.assignment import Assignment, StationOption, assign
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides, Station
from nearmark.coaching.attempt_advice import attempt_advice
from nearmark.coaching.belief import SEASON_START, Belief
from nearmark.coaching.body_reference import BodyReference, calibrated, remeasure_by
from nearmark.coaching.calculator_task import (
    CalculatorTask,
    Checked,
    calculator_task,
    check_product,
)
from nearmark.coaching.club import club_belief
from nearmark.coaching.deciders import Mode, Pupils, pair_answer, widest_ratio_to_average
from nearmark.coaching.expected_score import ExpectedScore, expected_net_score, expected_score
from nearmark.coaching.home_tasks import HomeTask, home_tasks
from nearmark.coaching.joint_plan import joint_plan
from nearmark.coaching.layer_slips import LayersSlip, find_layers_slip
from nearmark.coaching.lean import Aim, Lean, lean
from nearmark.coaching.lost_points import (
    LostPoints,
    log_parts,
    lost_points,
    split_attempt,
    split_expected,
)
from nearmark.coaching.measure_plan import MeasurePlan, best_set, measure_plan, plans
from nearmark.coaching.pair_advice import Advice, Question, advise, joint_correlation, may_change
from nearmark.coaching.posterior import Habits, Posterior, posterior
from nearmark.coaching.practice_plan import Need, PlannedItem, needs, plan_session
from nearmark.coaching.prediction import predicted_score, predictive_band
from nearmark.coaching.pupil_habit import PupilHabit, read_club
from nearmark.coaching.scoop_habit import ScoopHabit, scoop_habit, scoop_habit_if_known
from nearmark.coaching.take_home import Bag, rotation, take_home_bag
from nearmark.coaching.volume_slips import FoundSlip, Slip, find_slip, slips_among

__all__ = [
    "SEASON_START",
    "Advice",
    "Aim",
    "Assignment",
    "Attempt",
    "Bag",
    "Belief",
    "BodyReference",
    "CalculatorTask",
    "Checked",
    "ExpectedScore",
    "FoundSlip",
    "Habits",
    "HomeTask",
    "Layers",
    "LayersSlip",
    "Lean",
    "LostPoints",
    "MeasurePlan",
    "Mode",
    "Need",
    "PlannedItem",
    "Posterior",
    "PupilHabit",
    "Pupils",
    "Question",
    "Scoop",
    "ScoopHabit",
    "Sides",
    "Slip",
    "Station",
    "StationOption",
    "advise",
    "assign",
    "attempt_advice",
    "best_set",
    "calculator_task",
    "calibrated",
    "check_product",
    "club_belief",
    "expected_net_score",
    "expected_score",
    "find_layers_slip",
    "find_slip",
    "home_tasks",
    "joint_correlation",
    "joint_plan",
    "lean",
    "log_parts",
    "lost_points",
    "may_change",
    "measure_plan",
    "needs",
    "pair_answer",
    "plan_session",
    "plans",
    "posterior",
    "predicted_score",
    "predictive_band",
    "read_club",
    "remeasure_by",
    "rotation",
    "scoop_habit",
    "scoop_habit_if_known",
    "slips_among",
    "split_attempt",
    "split_expected",
    "take_home_bag",
    "widest_ratio_to_average",
]
