"""What is still open is named with what to do, and nothing else is."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    AuditReading,
    Closing,
    Cup,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Pair,
    PairStatus,
)
from nearmark.contest.open_points import AnswersAsked, OpenPoint, PointKind
from nearmark.contest.results import results
from nearmark.demo import larkspur_valley
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.open_points import closed_sentence, point_effect, point_sentence, point_words

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
    return tuple(point_sentence(p) for p in results(replace(EVENT, **changes)).open_points)


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
        "P0: this pair is marked absent. Is it another pair's, or did they come?",
    )


def test_an_answer_of_a_withdrawn_pair_is_no_question():
    withdrawn = replace(EVENT.pairs[0], status=PairStatus.WITHDRAWN)

    assert open_points(pairs=(withdrawn, *EVENT.pairs[1:])) == ()


def test_a_key_that_its_readings_contradict_is_open_until_the_lead_decides():
    wild = (HandCount("C1", 300, "Rowan"), HandCount("C1", 700, "Sorrel"))
    decision = KeyDecision("C1", Decimal(300), "lead Juniper", "counted a third time")

    point, doubt = open_points(hand_counts=wild)

    assert point.startswith("C1 has no key and is not scored: count by hand: ")
    assert doubt.startswith("C1: 700 pieces, Rowan has 300. ")
    word, _ = open_points(hand_counts=wild, key_decisions=(decision,))
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
        "cup 4: 6.8 g is not like batch thin, mean 8.24 g. Weigh it empty again",
    )


def test_a_cup_unlike_its_batch_that_is_doubted_anyway_is_named_once():
    tares = ("8.6", "8.7", "8.5", "8.6", "86")
    cups = tuple(Cup(str(n), Decimal(t), "bench scale", "thin") for n, t in enumerate(tares))

    assert len(open_points(cups=cups)) == 1


def points(**changes):
    return results(replace(EVENT, **changes)).points


def typed(value: int) -> tuple[AnswerReading, ...]:
    """Both readings of P0 with another value."""
    return tuple(replace(a, value=Decimal(value)) if a.pair == "P0" else a for a in EVENT.answers)


def test_a_far_off_answer_that_was_kept_is_a_point_that_can_be_closed():
    (point,) = points(answers=typed(2900))

    assert point.kind is PointKind.ANSWER_DOUBT
    assert point.can_close
    assert (point.pair, point.item) == ("P0", "C1")
    closing = Closing(point.id, "lead Juniper", "it is on the paper")
    (closed,) = points(answers=typed(2900), closings=(closing,))
    assert closed.closed == closing
    assert "Closed by lead Juniper: it is on the paper" in closed_sentence(closed)


def test_another_value_is_open_again():
    (point,) = points(answers=typed(2900))
    closing = Closing(point.id, "lead Juniper", "it is on the paper")

    (other,) = points(answers=typed(2901), closings=(closing,))

    assert other.closed is None


def test_a_correction_with_its_reason_is_closed():
    """Decided as 312 although both read 290: nothing is open any more."""
    decided = Adjudication(
        "P0", "C1", "lead Juniper", AnswerStatus.ANSWERED, Decimal(312), "", "the 3 was read as a 2"
    )

    outcome = results(replace(EVENT, adjudications=(decided,)))

    assert outcome.open_points == ()
    (point,) = outcome.closed_points
    assert "decided as 312 by lead Juniper, although both read 290" in point_words(point)
    assert point.closed.reason == "the 3 was read as a 2"
    blank = replace(decided, reason=" ")
    assert len(results(replace(EVENT, adjudications=(blank,))).open_points) == 1


def test_a_decision_does_not_close_a_cup_without_tare():
    scoop = Item("M1", Station.MASS, "scoop")
    decided = Adjudication(
        "P0", "M1", "lead Juniper", AnswerStatus.ANSWERED, Decimal(112), "99", "read again"
    )

    outcome = results(
        replace(EVENT, items=(scoop,), hand_counts=(), answers=(), adjudications=(decided,))
    )

    assert any("cup 99 has no tare" in point_words(p) for p in outcome.open_points)


def test_what_has_no_number_cannot_be_closed():
    (point,) = points(answers=())
    closing = Closing(point.id, "lead Juniper", "we go on")

    (still,) = points(answers=(), closings=(closing,))

    assert not still.can_close
    assert still.closed is None


def test_a_decision_about_an_unfit_key_is_a_closed_point():
    apart = (HandCount("C1", 300, "Rowan"), HandCount("C1", 304, "Sorrel"))
    decision = KeyDecision("C1", None, "lead Juniper", "no time for a third count")

    (still,) = results(replace(EVENT, hand_counts=apart)).open_points
    (closed,) = points(hand_counts=apart, key_decisions=(decision,))

    assert still.kind is PointKind.KEY_NOT_FIT
    assert closed.closed.reason == "no time for a third count"


def read_again(value: int, pair: str = "P0") -> AuditReading:
    return AuditReading(pair, "C1", "clerk Cedar", AnswerStatus.ANSWERED, Decimal(value))


def test_paper_that_says_what_was_typed_is_no_point():
    assert points(audit_readings=(read_again(290),)) == ()
    exact = replace(read_again(290), value=Decimal("290.0"))
    assert points(audit_readings=(exact,)) == ()


def test_paper_that_says_something_else_is_open_until_it_is_put_right():
    (point,) = points(audit_readings=(read_again(299),))

    assert point.kind is PointKind.AUDIT
    assert point_words(point) == "P0, C1: the paper shows 299, what counts is 290"
    right = Adjudication(
        "P0", "C1", "lead Juniper", AnswerStatus.ANSWERED, Decimal(299), "", "audit"
    )
    outcome = results(replace(EVENT, audit_readings=(read_again(299),), adjudications=(right,)))
    assert outcome.open_points == ()


def test_a_key_that_the_answers_speak_against_is_a_point():
    demo = results(larkspur_valley())

    (point,) = [p for p in demo.open_points if p.kind is PointKind.KEY_CHECK]

    assert point.item == "C1"
    closing = Closing(point.id, "lead Juniper", "counted by hand again")
    assert closing in [
        p.closed for p in results(replace(demo.event, closings=(closing,))).closed_points
    ]


def test_every_kind_says_what_it_does_to_the_result():
    for kind in PointKind:
        assert point_effect(OpenPoint("", kind, AnswersAsked("C1", ("P1",), None)))
