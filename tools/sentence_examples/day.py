"""What is said of a day before it happens."""

from dataclasses import replace
from datetime import time

from nearmark.contest.day_flow.bands import Band
from nearmark.contest.day_flow.changes import Change, ChangeKind
from nearmark.contest.day_flow.figures import DayFigures
from nearmark.contest.day_flow.over_time import BandLine, RoomOverTime, Spot, SpotOverTime
from nearmark.contest.day_flow.room import Overrun
from nearmark.contest.day_flow.summary import DayBands
from nearmark.words import day_changes, day_course, day_flow, day_steps
from sentence_examples.facts import Examples


def _bands(**usual: float) -> DayBands:
    """Bands whose figures are ten unless said otherwise."""
    names = [*DayFigures.__dataclass_fields__]
    figures = [Band(0.9 * k, k, 1.2 * k) for k in (usual.get(name, 10.0) for name in names)]
    return DayBands(DayFigures(*figures), (), 100)


def day_flow_said() -> Examples:
    """Waits, fairness, what is left undone, helpers, material."""
    slow = _bands(scoop_wait_min=0, unfinished=0.26, late_pairs=0.89, helper_busy=0.5, end_min=190)
    calm = _bands(
        wait_min=0, unfair_min=0, late_pairs=0, late_start_min=0, helper_busy=0.95, end_min=150
    )
    return {
        day_flow.minutes_text: [1.0, 6.7],
        day_flow.band_text: [Band(6.2, 7.1, 9.4)],
        day_flow.kilograms_text: [Band(8.11, 8.46, 8.97), Band(0.2, 0.2, 0.2)],
        day_flow.clock_text: [(time(9), 184.6)],
        day_flow.end_words: [
            (Band(190.1, 202.2, 215.4), time(9)),
            (Band(150, 150, 150), time(9)),
            (Band(190.1, 202.2, 215.4), None),
            (Band(150, 150, 150), None),
        ],
        day_flow.overrun_words: [slow, replace(slow, overrun=Overrun.LATER)],
        day_flow.done_words: [slow, calm],
        day_flow.late_start_words: [slow, calm],
        day_flow.wait_words: [slow, _bands(), calm],
        day_flow.worst_words: [slow],
        day_flow.fair_words: [slow, calm],
        day_flow.helper_words: [slow, calm],
        day_flow.material_words: [slow, replace(slow, is_returned=False)],
        day_flow.order_words: [[Band(1, 2, 3), Band(3, 4, 5), Band(7, 8, 9)]],
        day_flow.plan_words: [(30, gap, time(9)) for gap in (5, 0, -10)],
        day_flow.assumed_words: [()],
    }


def day_changes_said() -> Examples:
    """What each cheap change saves."""
    saves = Change(ChangeKind.SCALE, 2, 6.0, 0.2, 0.05, 0.01, 0.0)
    return {
        day_changes.changes_head: [[], [saves]],
        day_changes.change_words: [
            *(replace(saves, kind=kind) for kind in ChangeKind),
            replace(saves, heats=(2, 3, 4)),
            replace(saves, more_done=0.0, heats=(2,)),
            replace(saves, gain_min=0.4),
            replace(saves, kind=ChangeKind.INTERVAL, amount=35, more_done=0.0, later_min=30.0),
            replace(saves, more_done=0.0, later_min=-25.0),
            replace(saves, gain_min=0.4, more_done=0.0),
            replace(saves, gain_u_min=4.0, more_done=0.0),
        ],
    }


def day_course_said() -> Examples:
    """The picture of a day."""
    none, some = BandLine((0, 0), (0, 0), (0, 0)), BandLine((1, 4), (2, 6), (3, 9))
    queue = SpotOverTime(Spot.SCALES, 1, BandLine((1, 1), (1, 1), (1, 1)), some)
    calm = SpotOverTime(Spot.BOXES, 4, BandLine((1, 1), (2, 2), (3, 3)), none)
    times = (0.5, 30.5)
    course = RoomOverTime(times, (queue, calm), (Band(0, 0, 0),), Band(190, 202, 215))
    return {
        day_course.spot_name: [*Spot],
        day_course.at_work: [()],
        day_course.waiting: [()],
        day_course.end_label: [()],
        day_course.tick: [(90, time(9)), (90, None)],
        day_course.spot_words: [(queue, times, time(9)), (calm, times, time(9))],
        day_course.course_words: [(course, time(9))],
    }


def day_steps_said() -> Examples:
    """What is so now at each step."""
    return {
        day_steps.keys_now: [(0, 0, []), (3, 0, ["C1", "B2"]), (1, 0, []), (5, 2, [])],
        day_steps.cups_now: [0, 1, 48],
        day_steps.pairs_now: [0, 1, 48],
        day_steps.heats_planned_now: [(0, 0), (48, 3), (48, 0)],
        day_steps.paper_now: [(False, False), (False, True), (True, False)],
        day_steps.helpers_now: [(0, False), (0, True), (1, False), (4, False)],
        day_steps.heats_run_now: [
            (0, [], []),
            (4, ["heat 3"], []),
            (4, [], ["heat 1"]),
            (4, [], []),
        ],
        day_steps.weighed_in_now: [(0, 0), (0, 1), (47, 48)],
        day_steps.read_twice_now: [(0, 0, 0), (280, 0, 0), (280, 1, 0), (280, 9, 2), (280, 5, 5)],
        day_steps.differences_now: [(0, False), (0, True), (1, True), (3, True)],
        day_steps.audit_not_drawn: [()],
        day_steps.points_now: [(0, False), (0, True), (1, True), (3, True)],
        day_steps.release_now: [False, True],
    }
