"""What the paper of the day says beside its lists."""

from fractions import Fraction

from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.station import Station
from nearmark.words import (
    award_papers,
    day_papers,
    day_roles,
    hand_scoring,
    labels,
    letters,
    missing_signs,
    score_tables,
)
from sentence_examples.facts import Examples


def hand_scoring_said() -> Examples:
    """Forms, merging, ties, score tables."""
    broken = RuleSet(tie_breaks=(TieBreak.WORST_ITEM,))
    return {
        hand_scoring.form_text: list(hand_scoring.FormText),
        hand_scoring.score_formula: [RuleSet(), RuleSet(free_within=Fraction(1, 50))],
        hand_scoring.exact_text: [Fraction(3, 2), Fraction(1, 3)],
        hand_scoring.missing_earns: ["0"],
        hand_scoring.invented_example: [(["400 pieces", "1200 cm³"],)],
        hand_scoring.points_times: ["1.5"],
        hand_scoring.merging_steps: [RuleSet(), broken],
        hand_scoring.divisions_apart: [()],
        hand_scoring.tie_words: [([],), (list(TieBreak),)],
        hand_scoring.tie_column: list(TieBreak),
        score_tables.how_to_read: [()],
        score_tables.weight_is_in: [("C1", "1.5")],
        score_tables.nearest_totals: ["0.33"],
        score_tables.true_value: [("2888", "pieces")],
        score_tables.no_table_yet: ["C1 and B2"],
    }


def day_papers_said() -> Examples:
    """What each paper is, the roles, the run sheet, labels."""
    return {
        day_papers.paper_title: list(day_papers.PaperKind),
        day_papers.paper_is_for: list(day_papers.PaperKind),
        day_papers.how_to_print: list(day_papers.PaperKind),
        day_papers.folder_made: [(16, 2)],
        day_papers.grid_words: [(99.05, 67.75, 4, 2)],
        day_roles.role_title: list(day_roles.Role),
        day_roles.role_short: list(day_roles.Role),
        day_roles.role_step: [
            (role, n) for role in day_roles.Role for n in range(len(day_roles.role_steps(role)))
        ],
        day_roles.day_text_of: list(day_roles.DayText),
        day_roles.moment_words: list(day_roles.Moment),
        day_roles.heat_counted: [("Heat 1", "12 sheets, 23 children")],
        day_roles.from_to: [("09:00", "09:30")],
        labels.label_text: list(labels.LabelText),
    }


def letters_said() -> Examples:
    """Letters to schools and families."""
    return {
        letters.letter_text: list(letters.LetterText),
        letters.letter_heading: list(letters.LetterPart),
        letters.letter_line: [
            (kind, part, n)
            for kind in ("school", "family")
            for part in letters.LetterPart
            for n in range(len(letters.letter_lines(kind, part)))
        ],
        letters.day_and_place: [
            ("Larkspur Valley Estimation Day", "8 May 2027", venue) for venue in ("", "the hall")
        ],
        letters.materials_in_the_room: ["Split peas, Elbow pasta"],
        letters.materials_unknown: [()],
        letters.allergens_held: ["wheat"],
        letters.raw_pulses: [()],
        letters.not_in_catalogue: ["Sea shells"],
        letters.never_taste: [()],
        letters.come_early: [()],
        letters.expected_at_school: [1, 4],
    }


def award_papers_said() -> Examples:
    """Certificates, what is read out, the press; names that do not print."""
    return {
        award_papers.award_text: list(award_papers.AwardText),
        award_papers.pair_of: ["P07"],
        award_papers.won_place: [(1, "", 0), (2, "grade 3", 1), (2, "", 2)],
        award_papers.took_part: [6],
        award_papers.draft_words: [1, 5],
        award_papers.announced_place: [
            (place, n, division) for place, n in ((3, 1), (2, 2)) for division in ("", "grade 3")
        ],
        award_papers.pair_from: [("7", "Otterbrook Mill")],
        award_papers.children_from: [("Ada and Bo", "Otterbrook Mill")],
        award_papers.points_of: [("573", "600")],
        award_papers.left_out_places: [([2],), ([2, 3],)],
        award_papers.what_was_done: [(list(Station), "100")],
        award_papers.press_lines: [
            ("Larkspur Valley Estimation Day", "8 May 2027", venue, (48, 12, 93), "counted")
            for venue in ("", "the hall")
        ],
        award_papers.best_total: [("568.71", "600")],
        award_papers.no_answers_yet: [()],
        award_papers.nearest_answer: [0, 0.0002, 0.004],
        missing_signs.name_of: list(missing_signs.NameOf),
        missing_signs.signs_missing: [()],
        missing_signs.does_not_print: [("school", "Ōta 東", "東")],
        missing_signs.what_to_do: [()],
        missing_signs.what_to_do_on_the_site: ["data/fonts"],
    }
