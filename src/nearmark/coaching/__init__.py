"""The season: how a pupil reads, where the points go, who decides, what to practise next."""

from nearmark.coaching.acts import Act, Step, points
from nearmark.coaching.advice import Certainty, Trial, pupil_advice, station_advice, would_have
from nearmark.coaching.assignment import Assignment, StationOption, assign
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.belief import SEASON_START, Belief
from nearmark.coaching.body_reference import BodyReference, calibrated, remeasure_by
from nearmark.coaching.calculator_task import (
    CalculatorTask,
    Checked,
    calculator_task,
    check_product,
)
from nearmark.coaching.club import club_belief
from nearmark.coaching.deciders import Mode, Pupils, pair_answer
from nearmark.coaching.expected_score import ExpectedScore, expected_net_score, expected_score
from nearmark.coaching.home_tasks import HomeTask, home_tasks
from nearmark.coaching.jar_reading import KnownJar, jar_attempt
from nearmark.coaching.joint_plan import joint_plan
from nearmark.coaching.kinds import Stratum, items_of
from nearmark.coaching.layer_trims import usual_trim
from nearmark.coaching.lean import Aim, Lean, lean
from nearmark.coaching.measure_plan import (
    MeasurePlan,
    MeasuringRoutine,
    best_set,
    measure_plan,
    measuring_routine,
    plans,
)
from nearmark.coaching.meeting_plan import (
    MeetingPlan,
    Partners,
    Refill,
    learners_here,
    plan_meeting,
    refills,
    seated,
)
from nearmark.coaching.meeting_rota import MAX_LEARNERS, Equipment, Learner, Slot, after_slots, rota
from nearmark.coaching.pair_advice import Advice, Question, advise
from nearmark.coaching.pair_habits import (
    PairReading,
    joint_correlation,
    may_change,
    read_pair,
)
from nearmark.coaching.posterior import Habits, Posterior, posterior
from nearmark.coaching.practice_plan import (
    ClubNext,
    Need,
    PlannedItem,
    club_next,
    kinds_of,
    needs,
    plan_session,
    what_next,
)
from nearmark.coaching.prediction import predicted_score, predictive_band
from nearmark.coaching.progress import Best, Month, Progress, Verdict, best_attempts, progress_of
from nearmark.coaching.pupil_habit import PupilHabit, attempts_in, read_club
from nearmark.coaching.room import (
    MiddleResult,
    Relay,
    Spread,
    closest_at_tables,
    guess_points,
    middle_of,
    middle_result,
    personal_bests,
    relays,
    spread_of,
    team_total,
    whose_turn,
)
from nearmark.coaching.scoop_habit import CupReading, ScoopHabit, scoop_habit, scoop_habit_if_known
from nearmark.coaching.seen_truth import (
    KnownThing,
    Thing,
    fresh_things,
    truths_seen,
    with_history,
)
from nearmark.coaching.slips import FoundSlip, Slip, find_slip, slips_among
from nearmark.coaching.take_home import Bag, rotation, take_home_bag
from nearmark.coaching.teaching_order import Lesson, lessons_left
from nearmark.coaching.timetable import MAX_MIN, MIN_MIN, USUAL_MIN, Part, PartKind, timetable
from nearmark.station import Station

__all__ = [
    "MAX_LEARNERS",
    "MAX_MIN",
    "MIN_MIN",
    "SEASON_START",
    "USUAL_MIN",
    "Act",
    "Advice",
    "Aim",
    "Assignment",
    "Attempt",
    "Bag",
    "Belief",
    "Best",
    "BodyReference",
    "CalculatorTask",
    "Certainty",
    "Checked",
    "ClubNext",
    "CupReading",
    "Equipment",
    "ExpectedScore",
    "FoundSlip",
    "Habits",
    "HomeTask",
    "KnownJar",
    "KnownThing",
    "Layers",
    "Lean",
    "Learner",
    "Lesson",
    "MeasurePlan",
    "MeasuringRoutine",
    "MeetingPlan",
    "MiddleResult",
    "Mode",
    "Month",
    "Need",
    "PairReading",
    "Part",
    "PartKind",
    "Partners",
    "PlannedItem",
    "Posterior",
    "Progress",
    "PupilHabit",
    "Pupils",
    "Question",
    "Refill",
    "Relay",
    "Scoop",
    "ScoopHabit",
    "Sides",
    "Slip",
    "Slot",
    "Spread",
    "Station",
    "StationOption",
    "Step",
    "Stratum",
    "Thing",
    "Trial",
    "Verdict",
    "advise",
    "after_slots",
    "assign",
    "attempts_in",
    "best_attempts",
    "best_set",
    "calculator_task",
    "calibrated",
    "check_product",
    "closest_at_tables",
    "club_belief",
    "club_next",
    "expected_net_score",
    "expected_score",
    "find_slip",
    "fresh_things",
    "guess_points",
    "home_tasks",
    "items_of",
    "jar_attempt",
    "joint_correlation",
    "joint_plan",
    "kinds_of",
    "lean",
    "learners_here",
    "lessons_left",
    "may_change",
    "measure_plan",
    "measuring_routine",
    "middle_of",
    "middle_result",
    "needs",
    "pair_answer",
    "personal_bests",
    "plan_meeting",
    "plan_session",
    "plans",
    "points",
    "posterior",
    "predicted_score",
    "predictive_band",
    "progress_of",
    "pupil_advice",
    "read_club",
    "read_pair",
    "refills",
    "relays",
    "remeasure_by",
    "rota",
    "rotation",
    "scoop_habit",
    "scoop_habit_if_known",
    "seated",
    "slips_among",
    "spread_of",
    "station_advice",
    "take_home_bag",
    "team_total",
    "timetable",
    "truths_seen",
    "usual_trim",
    "what_next",
    "whose_turn",
    "with_history",
    "would_have",
]
