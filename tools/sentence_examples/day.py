"""What is said of a day before it happens."""

from dataclasses import replace

from nearmark.contest.day_flow import Band, Change, ChangeKind, DayBands
from nearmark.contest.day_flow.summary import DayFigures
from nearmark.words import day_flow
from sentence_examples.facts import Examples


def day_flow_said() -> Examples:
    """Waits, fairness, what is left undone, changes."""
    usual = (4, 5, 9, 13, 3, 0.26, 0.89, 10, 0.5, 150)
    slow = DayBands(DayFigures(*[Band(0.9 * k, k, 1.2 * k) for k in usual]), (), 100)
    none = Band(0.0, 0.0, 0.0)
    calm = replace(slow, figures=replace(slow.figures, unfair_min=none, late_pairs=none))
    saves = Change(ChangeKind.SCALE, 2, 6.0, 0.2, 0.05, 0.0)
    return {
        day_flow.minutes_text: [1.0, 6.7],
        day_flow.band_text: [Band(6.2, 7.1, 9.4)],
        day_flow.wait_words: [slow],
        day_flow.worst_words: [slow],
        day_flow.done_words: [slow, calm],
        day_flow.fair_words: [slow, calm],
        day_flow.change_words: [
            *(replace(saves, kind=kind) for kind in ChangeKind),
            replace(saves, kind=ChangeKind.INTERVAL, amount=25, more_done=0.0, later_min=30.0),
            replace(saves, gain_min=0.4),
            replace(saves, gain_u_min=4.0),
        ],
        day_flow.assumed_words: [()],
    }
