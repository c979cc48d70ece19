"""What the paper of the day says beside its lists."""

from fractions import Fraction

from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.words import day_papers, day_roles, hand_scoring, labels, letters, score_tables
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
        letters.expected_at_school: [1, 4],
    }
