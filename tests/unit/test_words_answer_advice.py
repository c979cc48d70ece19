"""One sentence for a child: true, short, and kind."""

from fractions import Fraction

import pytest

from nearmark.contest import AnswerState, ItemScore
from nearmark.contest.event import AnswerStatus
from nearmark.station import Station
from nearmark.words.answer_advice import answer_advice

MAX_LENGTH = 90
"""Characters that fit one line of the feedback page at body size."""


def score(status=AnswerStatus.ANSWERED, state=AnswerState.AGREED) -> ItemScore:
    return ItemScore("C1", None, Fraction(0), Fraction(0), state, status)


@pytest.mark.parametrize(
    ("station", "ratio", "said"),
    [
        (Station.COUNT, 0.88, "You read 12 % low: there were more than it looked."),
        (Station.COUNT, 1.25, "You read 25 % high: there were fewer than it looked."),
        (Station.VOLUME, 0.8, "You read 20 % low: the box holds more than it looks."),
        (Station.VOLUME, 1.1, "You read 10 % high: the box holds less than it looks."),
        (Station.MASS, 1.12, "Your cup was 12 % too heavy: scoop a little less next time."),
        (Station.MASS, 0.9, "Your cup was 10 % too light: scoop a little more next time."),
        (Station.COUNT, 1.0, "Very close: within 1 %."),
        (Station.COUNT, 0.975, "Very close: 3 % low."),
    ],
)
def test_advice_says_how_far_and_which_way(station, ratio, said):
    assert answer_advice(station, score(), ratio) == said


@pytest.mark.parametrize("station", Station)
@pytest.mark.parametrize("ratio", [0.0, 0.3, 0.5, 0.97, 1.03, 2.0, 2.1, 1e6])
def test_advice_is_one_line(station, ratio):
    assert 0 < len(answer_advice(station, score(), ratio)) <= MAX_LENGTH


@pytest.mark.parametrize("station", Station)
def test_far_off_is_told_apart(station):
    low, high = answer_advice(station, score(), 0.4), answer_advice(station, score(), 2.5)

    assert low.startswith("Less than half")
    assert high.startswith("More than double")


@pytest.mark.parametrize(
    ("status", "state", "said"),
    [
        (AnswerStatus.BLANK, AnswerState.AGREED, "Left blank"),
        (AnswerStatus.ILLEGIBLE, AnswerState.AGREED, "could not read"),
        (AnswerStatus.ANSWERED, AnswerState.AGREED, "could not be weighed"),
        (AnswerStatus.BLANK, AnswerState.CONFLICT, "may still change"),
        (AnswerStatus.BLANK, AnswerState.MISSING, "not been entered"),
    ],
)
def test_without_an_estimate_the_reason_is_told(status, state, said):
    told = answer_advice(Station.COUNT, score(status, state), None)

    assert said in told
    assert len(told) <= MAX_LENGTH
