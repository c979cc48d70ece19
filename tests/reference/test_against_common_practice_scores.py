"""What everybody at such a contest knows of its scores (common practice, no source)."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from nearmark.contest.event import AnswerReading, AnswerStatus, Event, HandCount, Item, Pair
from nearmark.contest.results import places, results
from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import percent_accuracy
from nearmark.station import Station


@pytest.mark.parametrize(
    ("net_g", "points"),
    [
        ("100", 100),
        ("90", 90),
        ("110", 90),
        ("95.5", 95.5),
        ("150", 50),
        ("199", 1),
        ("200", 0),
        ("250", 0),
        ("0", 0),
    ],
)
def test_a_cup_of_about_100_g(net_g, points):
    assert percent_accuracy(Decimal(net_g), 100) == points


def test_a_blank_scores_nothing():
    assert RuleSet().blank_score == 0


def test_two_second_places_leave_no_third():
    assert places([Fraction(300), Fraction(280), Fraction(280), Fraction(270)]) == (1, 2, 2, 4)


def test_the_total_is_the_sum_of_the_items():
    # Three jars, each 90: 270 of 300.
    day = Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        items=tuple(Item(code, Station.COUNT, "jar") for code in ("C1", "C2", "C3")),
        hand_counts=tuple(HandCount(c, 1000, who) for c in ("C1", "C2", "C3") for who in "RS"),
        pairs=(Pair("P01", "Fernhollow", ("Ada", "Bo")),),
        answers=tuple(
            AnswerReading("P01", c, n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(900))
            for c in ("C1", "C2", "C3")
            for n in (1, 2)
        ),
    )

    outcome = results(day)

    assert (outcome.pairs[0].total, outcome.highest_total) == (270, 300)
