"""Advice to a pair: no advice on noise, caution before a change, words, and bad input."""

from datetime import date, timedelta

import numpy as np
import pytest

from nearmark.coaching.assignment import StationOption, assign
from nearmark.coaching.attempt import Attempt, Station
from nearmark.coaching.deciders import (
    Mode,
    Pupils,
    pair_answer,
    shared_correlation,
    weight_of_first,
)
from nearmark.coaching.pair_advice import Question, advise, joint_correlation, may_change
from nearmark.coaching.pupil_habit import read_club
from nearmark.errors import InputError

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


def test_two_newcomers_alike_get_no_advice_but_a_start():
    advice = advice_on(habit([0.9]), habit([0.92]), modes=SOLO)

    assert not advice.is_clear
    assert advice.words("Ada", "Bo").startswith("Too early to tell")


def test_a_clear_case_is_clear():
    advice = advice_on(STEADY, LOW, modes=SOLO)

    assert advice.mode is Mode.FIRST
    assert advice.p_right > 0.95
    assert advice.words("Ada", "Bo").startswith("Ada decides (right with probability")


def test_a_name_is_written_as_it_is():
    advice = advice_on(STEADY, LOW, modes=SOLO)

    assert advice.words("ada", "Bo").startswith("ada decides")


def test_an_average_begins_with_a_capital():
    advice = advice_on(STEADY, LOW, modes=(Mode.AVERAGE,))

    assert advice.words("ada", "Bo").startswith(
        "Take the average of both (right with probability 1"
    )


def test_the_probabilities_add_up_to_one():
    advice = advice_on(STEADY, LOW)

    assert sum(option.p_best for option in advice.options) == pytest.approx(1)
    assert [o.score for o in advice.options] == sorted(
        (o.score for o in advice.options), reverse=True
    )


def test_taking_out_the_own_bias_makes_the_other_useful():
    raw, corrected = advice_on(STEADY, LOW), advice_on(STEADY, LOW, corrected=True)

    assert corrected.options[0].score > raw.options[0].score
    assert corrected.mode in (Mode.AVERAGE, Mode.WEIGHTED)


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


def test_two_quite_alike_may_share_as_they_like():
    assert 0 <= weight_of_first(0.1, 0.1, 1.0) <= 1


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
