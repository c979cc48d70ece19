"""What is still open is named with what to do, and nothing else is."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    Cup,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Pair,
    PairStatus,
)
from nearmark.contest.results import results
from nearmark.contest.rules import Station
from nearmark.measurement.instruments import Instrument

CLERKS = ((1, "Ash"), (2, "Birch"))
EVENT = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(Instrument("bench scale", "g", 0.1),),
    items=(Item("C1", Station.COUNT, "jar"),),
    hand_counts=(HandCount("C1", 300, "Rowan"), HandCount("C1", 300, "Sorrel")),
    pairs=tuple(Pair(f"P{n}", "Fernhollow", ("Ada", "Bo")) for n in range(7)),
    answers=tuple(
        AnswerReading(f"P{p}", "C1", n, clerk, AnswerStatus.ANSWERED, Decimal(290 + p))
        for p in range(7)
        for n, clerk in CLERKS
    ),
)


def open_points(**changes):
    return results(replace(EVENT, **changes)).open_points


def test_a_settled_event_has_none():
    assert open_points() == ()


def test_missing_answers_are_named_together():
    assert open_points(answers=()) == (
        "C1, P0, P1, P2, P3, P4 and 2 more: nobody has read the answer",
    )


def test_the_sixth_pair_is_the_first_not_named():
    first_six = EVENT.pairs[:6]

    assert open_points(answers=(), pairs=first_six) == (
        "C1, P0, P1, P2, P3, P4 and 1 more: nobody has read the answer",
    )
    assert open_points(answers=(), pairs=first_six[:5]) == (
        "C1, P0, P1, P2, P3, P4: nobody has read the answer",
    )


def test_answers_read_once_are_named_together():
    once = tuple(a for a in EVENT.answers if a.reading == 1 or a.pair in {"P3", "P4"})

    assert open_points(answers=once) == (
        "C1, P0, P1, P2, P5, P6: read once only: a second person reads the paper",
    )


def test_a_conflict_stands_alone_with_both_readings():
    first = replace(EVENT.answers[0], value=Decimal(209))

    assert open_points(answers=(first, *EVENT.answers[1:])) == (
        "C1, P0: read as 209 and 290: a third person reads the paper",
    )


def test_an_answer_of_an_absent_pair_may_be_another_pairs():
    absent = replace(EVENT.pairs[0], status=PairStatus.ABSENT)

    assert open_points(pairs=(absent, *EVENT.pairs[1:])) == (
        "P0 is absent but has answers: were they another pair's?",
    )


def test_an_answer_of_a_withdrawn_pair_is_no_question():
    withdrawn = replace(EVENT.pairs[0], status=PairStatus.WITHDRAWN)

    assert open_points(pairs=(withdrawn, *EVENT.pairs[1:])) == ()


def test_a_key_that_its_readings_contradict_is_open_until_the_lead_decides():
    wild = (HandCount("C1", 300, "Rowan"), HandCount("C1", 700, "Sorrel"))
    decision = KeyDecision("C1", Decimal(300), "lead Juniper", "counted a third time")

    (point,) = open_points(hand_counts=wild)

    assert point.startswith("C1 has no key and is not scored: count by hand: ")
    (word,) = open_points(hand_counts=wild, key_decisions=(decision,))
    assert word.startswith("the key of C1 is lead Juniper's word: no reading bears it. It ")
    measured = (*wild[:1], wild[0])
    assert open_points(hand_counts=measured, key_decisions=(decision,)) == ()


def test_a_key_without_readings_counts_as_exact_and_is_said_to():
    decision = KeyDecision("C1", Decimal(300), "lead Juniper", "as it says on the bag")

    (point,) = open_points(hand_counts=(), key_decisions=(decision,))

    assert "counts as exact" in point
    assert "Weigh, count or measure it" in point


def test_a_decision_about_a_target_mass_is_not_passed_over_in_silence():
    scoop = Item("M1", Station.MASS, "scoop")
    decision = KeyDecision("M1", Decimal(90), "lead Juniper", "small cups")

    (point,) = open_points(items=(scoop,), pairs=(), key_decisions=(decision,))

    assert "the target mass is set by the rule set" in point


def test_a_cup_unlike_its_batch_is_weighed_again():
    tares = ("8.6", "8.7", "8.5", "8.6", "6.8")
    cups = tuple(Cup(str(n), Decimal(t), "bench scale", "thin") for n, t in enumerate(tares))

    assert open_points(cups=cups) == (
        "cup 4: 6.8 g is not like batch thin, mean 8.24 g: weigh it empty again",
    )
