"""What the paper of the day says beside its lists."""

from fractions import Fraction

from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.words import hand_scoring, score_tables
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
