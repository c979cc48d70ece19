"""The season: how a pupil reads, where the points go, who decides, what to practise next."""

from nearmark.coaching.acts import guess_points, points
from nearmark.coaching.advice import pupil_advice, station_advice, would_have
from nearmark.coaching.assignment import Assignment
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.body_reference import BodyReference, calibrated, remeasure_by
from nearmark.coaching.calculator_task import (
    CalculatorTask,
    Checked,
    calculator_task,
    check_product,
)
from nearmark.coaching.deciders import Mode
from nearmark.coaching.home_tasks import HomeTask, home_tasks
from nearmark.coaching.jar_reading import KnownJar
from nearmark.coaching.joint_plan import joint_plan
from nearmark.coaching.kinds import Stratum
from nearmark.coaching.measure_plan import measuring_routine
from nearmark.coaching.meeting_plan import MeetingPlan, learners_here, plan_meeting, refills, seated
from nearmark.coaching.meeting_rota import MAX_LEARNERS, Equipment, Learner, Slot, after_slots, rota
from nearmark.coaching.pair_habits import PairReading, may_change, read_pair
from nearmark.coaching.practice_plan import club_next, kinds_of, what_next
from nearmark.coaching.progress import Progress, Verdict, best_attempts, progress_of
from nearmark.coaching.pupil_habit import PupilHabit, attempts_in, read_club
from nearmark.coaching.room import middle_of, middle_result, spread_of
from nearmark.coaching.room_games import (
    closest_at_tables,
    personal_bests,
    relays,
    team_total,
    whose_turn,
)
from nearmark.coaching.seen_truth import KnownThing, Thing, fresh_things, truths_seen, with_history
from nearmark.coaching.slips import Slip, find_slip, slips_among
from nearmark.coaching.take_home import Bag, rotation, take_home_bag
from nearmark.coaching.teaching_order import Lesson, lessons_left
from nearmark.coaching.timetable import MAX_MIN, MIN_MIN, USUAL_MIN, Part, PartKind, timetable

__all__ = [
    "MAX_LEARNERS",
    "MAX_MIN",
    "MIN_MIN",
    "USUAL_MIN",
    "Assignment",
    "Attempt",
    "Bag",
    "BodyReference",
    "CalculatorTask",
    "Checked",
    "Equipment",
    "HomeTask",
    "KnownJar",
    "KnownThing",
    "Layers",
    "Learner",
    "Lesson",
    "MeetingPlan",
    "Mode",
    "PairReading",
    "Part",
    "PartKind",
    "Progress",
    "PupilHabit",
    "Scoop",
    "Sides",
    "Slip",
    "Slot",
    "Stratum",
    "Thing",
    "Verdict",
    "after_slots",
    "attempts_in",
    "best_attempts",
    "calculator_task",
    "calibrated",
    "check_product",
    "closest_at_tables",
    "club_next",
    "find_slip",
    "fresh_things",
    "guess_points",
    "home_tasks",
    "joint_plan",
    "kinds_of",
    "learners_here",
    "lessons_left",
    "may_change",
    "measuring_routine",
    "middle_of",
    "middle_result",
    "personal_bests",
    "plan_meeting",
    "points",
    "progress_of",
    "pupil_advice",
    "read_club",
    "read_pair",
    "refills",
    "relays",
    "remeasure_by",
    "rota",
    "rotation",
    "seated",
    "slips_among",
    "spread_of",
    "station_advice",
    "take_home_bag",
    "team_total",
    "timetable",
    "truths_seen",
    "what_next",
    "whose_turn",
    "with_history",
    "would_have",
]
