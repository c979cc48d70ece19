"""Advice to a pair: no advice on noise, caution before a change, words, and bad input."""

import re
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from nearmark.coaching.assignment import StationOption, assign
from nearmark.coaching.attempt import Attempt
from nearmark.coaching.deciders import (
    Mode,
    Pupils,
    pair_answer,
    shared_correlation,
)
from nearmark.coaching.pair_advice import Question, advise
from nearmark.coaching.pair_habits import joint_correlation, may_change, read_pair
from nearmark.coaching.pupil_habit import read_club
from nearmark.errors import InputError
from nearmark.station import Station
from nearmark.words.coaching_pairs import pair_words

SOLO = (Mode.FIRST, Mode.SECOND)


def habit(ratios, *, pupil="Ada", per_day=3):
    day = date(2027, 2, 3)
    log = [
        Attempt(day + timedelta(days=7 * (i // per_day)), pupil, Station.COUNT, f"jar {i}", r, 1.0)
        for i, r in enumerate(ratios)
    ]
    return read_club(log)[pupil][0]


def advice_on(first, second, **options):
    question = Question(**options)
    return advise(first.posterior, second.posterior, np.random.default_rng(2), question=question)


STEADY, LOW = habit([1.0, 0.98, 1.03, 1.0, 1.02, 0.97]), habit([0.6, 0.55, 0.62, 0.58, 0.6, 0.57])


RIGHT, FAR_LOW = [1.0, 0.98, 1.03, 1.0, 1.02, 0.97], [0.6, 0.55, 0.62, 0.58, 0.6, 0.57]


def words_on(first, second):
    """What is said of two pupils' attempts at the same jars, estimate over truth."""
    log = [each for who, ratios in (("Ada", first), ("Bo", second)) for each in paired(who, ratios)]
    own = read_club(log)
    (reading,) = read_pair(own["Ada"], own["Bo"], np.random.default_rng(2))
    return reading, pair_words(reading)


def paired(pupil, ratios):
    return [
        Attempt(date(2027, 2, 3) + timedelta(days=7 * i), pupil, Station.COUNT, f"jar {i}",
                round(1000 * ratio), 1000, pair="P1")
        for i, ratio in enumerate(ratios)
    ]  # fmt: skip


def test_two_newcomers_alike_get_a_start_and_no_more():
    reading, words = words_on([0.9], [0.92])

    assert reading.advice.p_right > 0  # a start there is
    assert "On the 1 thing both did: Ada 90 points, Bo 92" in words


def test_a_clear_case_is_clear_and_its_cause_is_named():
    reading, words = words_on(
        [1.0, 0.98, 1.03, 1.0, 1.02, 0.97], [0.6, 0.55, 0.62, 0.58, 0.6, 0.57]
    )

    assert reading.is_clear
    assert reading.advice.mode is Mode.FIRST
    assert reading.advice.p_right > 0.85
    assert re.match(
        r"Ada decides: \d\d % sure that no other way is a point better; about \d\d", words
    )
    assert "Ada 98 points, Bo 59." in words  # means of the ratios, worked by hand: 98.3, 58.7


def test_where_two_are_off_to_either_side_the_middle_is_advised():
    reading, words = words_on(
        [0.8, 0.82, 0.79, 0.81, 0.8, 0.78], [1.2, 1.19, 1.21, 1.18, 1.22, 1.2]
    )

    assert reading.advice.mode is Mode.AVERAGE
    assert words.startswith("The middle of both")
    assert "this way 99" in words or "this way 100" in words


def test_a_habit_that_costs_more_is_to_be_taught_first():
    reading, words = words_on([1.0, 1.02, 0.98] * 3, [1.32, 1.34, 1.33] * 3)

    assert reading.advice.mode is Mode.FIRST
    assert reading.advice.teach_first is None  # Ada alone is good enough already
    low, words = words_on([0.7, 0.72, 0.69] * 3, [0.68, 0.7, 0.72] * 3)
    assert low.advice.teach_first is not None
    assert "Teach Ada first: guesses about 29 % low." in words  # 0.7033 on the mean


def test_nothing_finer_than_thirds_is_said():
    rng = np.random.default_rng(4)
    for _ in range(5):
        first, second = np.exp(rng.normal(0, 0.2, (2, 6)))
        _, words = words_on(first.tolist(), second.tolist())
        assert not re.search(r"\d+ % of", words)


def test_a_common_log_that_speaks_against_it_makes_it_unclear():
    reading, _ = words_on(RIGHT, FAR_LOW)
    against = replace(reading, replayed={Mode.FIRST: 60.0, Mode.SECOND: 90.0})

    assert not against.is_clear


def test_a_name_is_written_as_it_is():
    reading, _ = words_on(RIGHT, FAR_LOW)
    named = replace(reading, first=replace(reading.first, pupil="ada"))

    assert pair_words(named).startswith("ada decides")


def test_the_options_come_best_first_but_for_the_easier_one():
    advice = advice_on(STEADY, LOW)
    scores = [option.score for option in advice.options]

    assert max(option.p_near for option in advice.options) <= 1
    assert scores[1:] == sorted(scores[1:], reverse=True)
    assert scores[0] >= max(scores) - 0.5


def test_taking_out_the_own_bias_makes_the_other_useful():
    raw, corrected = advice_on(STEADY, LOW), advice_on(STEADY, LOW, corrected=True)

    assert corrected.options[0].score > raw.options[0].score
    assert corrected.mode not in (Mode.FIRST, Mode.SECOND)


def test_the_same_seed_gives_the_same_advice():
    assert advice_on(STEADY, LOW).options == advice_on(STEADY, LOW).options


def test_a_trained_pair_changes_for_a_clear_gain():
    assert may_change(advice_on(STEADY, LOW, modes=SOLO), Mode.SECOND, STEADY, LOW)


def test_a_trained_pair_does_not_change_to_what_it_does():
    assert not may_change(advice_on(STEADY, LOW, modes=SOLO), Mode.FIRST, STEADY, LOW)


def test_a_trained_pair_does_not_change_after_few_attempts():
    few = habit([1.0, 0.98, 1.03, 1.0])

    assert not may_change(advice_on(few, LOW, modes=SOLO), Mode.SECOND, few, LOW)


def test_a_trained_pair_does_not_change_after_one_day():
    one_day = habit([1.0, 0.98, 1.03, 1.0, 1.02, 0.97], per_day=6)

    assert not may_change(advice_on(one_day, LOW, modes=SOLO), Mode.SECOND, one_day, LOW)


def test_joint_errors_raise_the_correlation():
    together = habit([0.6, 1.4, 0.7, 1.3, 0.6, 1.4])
    against = habit([1.4, 0.6, 1.3, 0.7, 1.4, 0.6])

    assert joint_correlation(together, together) > 0.5
    assert joint_correlation(together, against) < 0


def test_a_correlation_stays_within_bounds():
    assert shared_correlation([9.0] * 50, [9.0] * 50) == 0.9


def test_an_impossible_correlation_is_refused():
    with pytest.raises(InputError, match="correlation"):
        pair_answer(Mode.AVERAGE, Pupils((0, 0), (0.1, 0.1)), 2.0)


def test_an_assignment_without_time_says_what_it_takes():
    slow = StationOption(Mode.FIRST, 90, 0.5, minutes=20)

    with pytest.raises(InputError, match="quickest takes 40 min"):
        assign({Station.COUNT: [slow]}, {Station.COUNT: 2}, most_minutes=10)


@pytest.mark.parametrize(
    ("options", "items"),
    [({}, {}), ({Station.COUNT: []}, {Station.COUNT: 1}), ({Station.COUNT: []}, {})],
)
def test_an_assignment_of_nothing_is_refused(options, items):
    with pytest.raises(InputError):
        assign(options, items)
