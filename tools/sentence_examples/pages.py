"""How far answers are off, advice to a pair, and what a page replies."""

from fractions import Fraction

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import AnswerStatus
from nearmark.contest.results import ItemScore
from nearmark.contest.rules import RuleSet
from nearmark.station import Station
from nearmark.words import answer_advice, deviations, replies, rules
from sentence_examples.facts import Examples


def deviations_said() -> Examples:
    """How far an estimate is off."""
    return {
        deviations.error_words: [0.31, 0.88, 1.002, 1.07, 2.6],
        deviations.of_whom: [("P07", 0.88)],
        deviations.others_words: [([1.2],), ([0.7, 1.2],)],
        deviations.n_others_words: [1, 5],
        deviations.true_value_known: [0.83],
        deviations.key_known: [0.83],
        deviations.no_estimates: [()],
        deviations.sessions_words: [(1, []), (1, [0.8]), (3, [0.8, 0.9])],
        deviations.trend_error: [2.2],
        deviations.likely_slips: [1, 2],
        deviations.next_expected: [(0.8, 1.1)],
        deviations.no_session: [()],
        deviations.axis_centre: list(deviations.AxisCentre),
        deviations.axis_ends: [()],
        deviations.estimates_title: [()],
        deviations.months_words: [("count", 62.1, 80.9)],
    }


def score(
    state: AnswerState = AnswerState.AGREED, status: AnswerStatus = AnswerStatus.ANSWERED
) -> ItemScore:
    """An answer without an estimate."""
    return ItemScore("C1", None, Fraction(0), Fraction(0), state, status)


def answer_advice_said() -> Examples:
    """Advice to a pair."""
    ratios = (0.3, 0.88, 1.2, 2.6)
    return {
        answer_advice.answer_advice: [
            *((station, score(), ratio) for station in Station for ratio in ratios),
            (Station.COUNT, score(), 1.02),
        ],
        answer_advice.why_no_estimate: [
            score(AnswerState.CONFLICT),
            score(AnswerState.MISSING),
            *(score(status=status) for status in AnswerStatus),
        ],
    }


RULE_SETS = ("balanced stations", "beginners")


def rules_said() -> Examples:
    """What a rule set is called, and what is asked."""
    sets = [RuleSet(), *(RuleSet(name=name) for name in RULE_SETS)]
    return {rules.rules_words: sets, rules.question: list(Station)}


def replies_said() -> Examples:
    """Replies of a page."""
    counted = (
        replies.answers_saved,
        replies.pairs_imported,
        replies.jars_imported,
        replies.attempts_saved,
        replies.attempts_imported,
        replies.pupils_added,
        replies.clubs_deleted,
    )
    return {
        **{reply: [1, 3] for reply in counted},
        replies.pupil_deleted: [12],
        replies.are_here: [(["P01"],), (["P01", "P02"],)],
        replies.are_not_here: [(["P01"],), (["P01", "P02"],)],
        replies.sheets_and_children: [(12, 23)],
        replies.release_status: [(2, 0), (2, 1), (2, 3), (0, 0), (0, 1), (0, 3)],
    }
