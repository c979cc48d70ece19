"""What is said at the desks of the day."""

import re

from nearmark.contest.event import AnswerStatus, PairStatus
from nearmark.contest.heat_times import HeatState
from nearmark.words import desk, kept_lines
from nearmark.words.desk import DeskText
from sentence_examples.facts import Examples


def filled(text: str) -> str:
    """A message with the name of each fact in its place."""
    return re.sub(r"\{(\w+)\}", r"\1", text)


PROGRESS = ("without a room", "paused", "over", "next")


def desk_said() -> Examples:
    """Check-in, scale, answers, and the clock of a room."""
    return {
        desk.desk_text: list(DeskText),
        desk.pair_status: list(PairStatus),
        desk.marked_as: [PairStatus.ABSENT],
        desk.role_name: ["lead", "scorer", "coach", "public"],
        desk.written_answer: [
            (AnswerStatus.ANSWERED, "104.3", "7"),
            (AnswerStatus.ANSWERED, "380", ""),
            (AnswerStatus.BLANK, "", ""),
        ],
        desk.cup_saved: [("P07-9, Quillbank, heat 2", "151.2", "7")],
        desk.net_mass: ["102.5"],
        desk.cup_of_pair: [("P07", "7")],
        desk.is_taken_back: ["P07, C1"],
        desk.can_be_weighed_again: ["P07"],
        desk.is_decided: [("P07", "C1")],
        desk.read_in_two_ways: [0, 1, 3],
        desk.cups_handed_in: [(12, 48)],
        desk.no_such_cell: [()],
        desk.load_again: [()],
        desk.has_handed_in: [("P07", "7")],
        desk.takes_no_part: ["P07"],
        desk.is_for_divisions: [("C1", "grade 3")],
        desk.pair_is_here: [("P07", "Quillbank")],
        desk.pair_is_not_here: [("P07", "Quillbank")],
        desk.pair_was_here: [("P07", "08:50")],
        desk.lead_changes_status: [PairStatus.WITHDRAWN],
        desk.whole_school_was_here: ["Quillbank"],
        desk.school_here: [("Quillbank", "P07, P08 are here.")],
        desk.pairs_here: [(0, 0, 0), (1, 3, 12), (4, 20, 48)],
        desk.pairs_missing: [1, 9],
        desk.without_heat: [1, 9],
        desk.runs_until: ["10:30"],
        desk.progress_words: list(PROGRESS),
        desk.new_heat: ["heat 5"],
        desk.heat_so_far: [("heat 2", 11, 12), ("heat 5", 0, 12)],
        desk.is_in_heat: [("P07", "heat 2")],
        desk.changed_places: [("P07", "P12")],
        desk.has_new_heat: [0, 1, 9],
        desk.taken_in: [
            ("P49", "heat 2", ""),
            ("P49", "heat 2", "its school has 3 there"),
        ],
        desk.heat_has_started: [("heat 2", 30)],
        desk.heat_has_minutes: [("heat 2", 35)],
        desk.heat_is_paused: ["heat 2"],
        desk.heat_goes_on: ["heat 2"],
        desk.heat_is_stopped: ["heat 2"],
        desk.heat_in_the_way: [("heat 1", HeatState.PAUSED), ("heat 1", HeatState.OVER)],
        desk.pauses_nothing: [("heat 1", HeatState.PAUSED), ("heat 1", HeatState.OVER)],
        desk.is_not_paused: ["heat 1"],
        desk.paper_is_alike: ["P07"],
        desk.paper_differs: [("P07", "C2")],
        kept_lines.said_again: list(map(filled, kept_lines.KEPT)),
        kept_lines.said_as: [("The key of C1", kept_lines.KEPT)],
    }
