"""From readings to accepted answers: blind, twice, a third where they differ."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from nearmark.contest.answers import AnswerState, accepted_answers
from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    Cup,
    Event,
    Item,
    Pair,
    PairStatus,
)
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.answers import question_words

ANSWERED = AnswerStatus.ANSWERED
EVENT = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(Instrument("bench scale", "g", 0.1),),
    items=(Item("M1", Station.MASS, "scoop"), Item("C1", Station.COUNT, "jar")),
    cups=(Cup("7", Decimal("24.1"), "bench scale"),),
    pairs=(Pair("P01", "Fernhollow", ("Ada", "Bo")),),
)


def read(reading, clerk, value, *, item="C1", status=ANSWERED, cup=""):
    number = None if value is None else Decimal(value)
    return AnswerReading("P01", item, reading, clerk, status, number, cup)


def third(value, clerk="Cedar", status=ANSWERED):
    number = None if value is None else Decimal(value)
    return Adjudication("P01", "C1", clerk, status, number, "", "read again from the sheet")


def accepted(*answers, item="C1", adjudications=()):
    event = replace(EVENT, answers=answers, adjudications=adjudications)
    return accepted_answers(event)["P01", item]


def test_two_equal_blind_readings_are_accepted():
    answer = accepted(read(1, "Ash", "417"), read(2, "Birch", "417"))

    assert (answer.state, answer.estimate, answer.question) == (AnswerState.AGREED, 417, None)
    assert answer.u == 0


def test_equal_numbers_written_differently_agree():
    assert accepted(read(1, "Ash", "417"), read(2, "Birch", "417.0")).state is AnswerState.AGREED


def test_different_readings_wait_for_a_third_person():
    answer = accepted(read(1, "Ash", "417"), read(2, "Birch", "471"))

    assert (answer.state, answer.estimate) == (AnswerState.CONFLICT, None)
    assert "417 and 471" in question_words(answer.question)


def test_a_number_for_one_and_a_blank_for_the_other_is_a_conflict():
    answer = accepted(read(1, "Ash", "417"), read(2, "Birch", None, status=AnswerStatus.BLANK))

    assert (answer.state, answer.estimate) == (AnswerState.CONFLICT, None)
    assert "read as 417 and blank" in question_words(answer.question)


def test_the_third_reading_decides():
    answer = accepted(read(1, "Ash", "417"), read(2, "Birch", "471"), adjudications=(third("471"),))

    assert (answer.state, answer.estimate, answer.question) == (AnswerState.ADJUDICATED, 471, None)


def test_a_third_reading_by_one_of_the_two_is_asked_about():
    answer = accepted(
        read(1, "Ash", "417"), read(2, "Birch", "471"), adjudications=(third("471", clerk="Ash"),)
    )

    assert answer.estimate == 471
    assert "Ash" in question_words(answer.question)


def test_one_person_reading_twice_is_not_blind():
    answer = accepted(read(1, "Ash", "417"), read(2, "Ash", "417"))

    assert (answer.state, answer.estimate) == (AnswerState.SINGLE, 417)
    assert "both readings are by Ash" in question_words(answer.question)


def test_one_reading_is_scored_and_asked_about():
    answer = accepted(read(1, "Ash", "417"))

    assert (answer.state, answer.estimate) == (AnswerState.SINGLE, 417)
    assert answer.question


def test_nothing_read_is_missing_not_blank():
    answer = accepted()

    assert (answer.state, answer.status, answer.estimate) == (
        AnswerState.MISSING,
        AnswerStatus.BLANK,
        None,
    )


@pytest.mark.parametrize("status", [AnswerStatus.BLANK, AnswerStatus.ILLEGIBLE])
def test_two_people_may_agree_that_nothing_can_be_read(status):
    answer = accepted(read(1, "Ash", None, status=status), read(2, "Birch", None, status=status))

    assert (answer.state, answer.status, answer.estimate) == (AnswerState.AGREED, status, None)


def weigh_in(gross, cup="7"):
    return [read(n, clerk, gross, item="M1", cup=cup) for n, clerk in ((1, "Ash"), (2, "Birch"))]


def test_at_the_mass_station_the_cup_is_taken_off_exactly():
    answer = accepted(*weigh_in("131.2"), item="M1")

    assert answer.estimate == Decimal("107.1")
    # Two indications of a 0.1 g scale: sqrt(2) 0.1 / sqrt(12), JCGM 100 clause F.2.2.1.
    assert answer.u == pytest.approx(0.0408, abs=5e-5)


def test_a_cup_without_a_tare_cannot_be_scored_and_says_so():
    answer = accepted(*weigh_in("131.2", cup="8"), item="M1")

    assert answer.estimate is None
    assert "cup 8 has no tare" in question_words(answer.question)


def test_a_cup_lighter_than_its_tare_is_asked_about():
    answer = accepted(*weigh_in("20.0"), item="M1")

    assert answer.estimate is None
    assert "cup 7" in question_words(answer.question)


def test_the_same_gross_in_two_cups_is_a_conflict():
    readings = [
        read(1, "Ash", "131.2", item="M1", cup="7"),
        read(2, "Birch", "131.2", item="M1", cup="1"),
    ]

    assert accepted(*readings, item="M1").state is AnswerState.CONFLICT


def test_a_name_in_other_letters_is_the_same_person():
    answer = accepted(read(1, "Ash", "417"), read(2, " ash", "417"))

    assert answer.state is AnswerState.SINGLE


def test_a_decision_before_two_people_have_read_is_asked_about():
    assert "before two people" in question_words(accepted(adjudications=(third("471"),)).question)
    once = accepted(read(1, "Ash", "417"), adjudications=(third("417"),))
    assert "before two people" in question_words(once.question)


def test_a_decision_against_two_equal_readings_is_asked_about():
    answer = accepted(read(1, "Ash", "417"), read(2, "Birch", "417"), adjudications=(third("471"),))

    assert (answer.state, answer.estimate) == (AnswerState.ADJUDICATED, 471)
    assert "although both read 417" in question_words(answer.question)


def test_a_decision_that_confirms_two_equal_readings_is_no_question():
    answer = accepted(read(1, "Ash", "417"), read(2, "Birch", "417"), adjudications=(third("417"),))

    assert answer.question is None


def test_a_number_beside_blank_is_not_an_answer():
    blank = AnswerStatus.BLANK

    answer = accepted(read(1, "Ash", "417", status=blank), read(2, "Birch", None, status=blank))

    assert (answer.state, answer.estimate) == (AnswerState.AGREED, None)


@pytest.mark.parametrize("value", ["0", "0.5"])
def test_an_answer_of_nothing_is_an_answer(value):
    answer = accepted(read(1, "Ash", value), read(2, "Birch", value))

    assert answer.estimate == Decimal(value)


@pytest.mark.parametrize("value", ["-3", "Infinity", None])
def test_what_cannot_be_an_answer_waits_instead_of_stopping_the_day(value):
    answer = accepted(read(1, "Ash", value), read(2, "Birch", value))

    assert answer.estimate is None
    assert "read it again" in question_words(answer.question)


@pytest.mark.parametrize("status", [PairStatus.ABSENT, PairStatus.WITHDRAWN])
def test_nobody_waits_for_the_answers_of_a_pair_that_is_not_there(status):
    pairs = (replace(EVENT.pairs[0], status=status),)

    assert accepted_answers(replace(EVENT, pairs=pairs)) == {}
