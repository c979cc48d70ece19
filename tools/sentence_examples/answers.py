"""Answers, doubts about them, and what numbers say."""

from decimal import Decimal
from typing import get_args

from nearmark.contest.doubt import DoubtKind
from nearmark.contest.event import (
    AnswerStatus,
)
from nearmark.contest.odd_records import (
    AnswerOfAbsent,
    AnswerOutside,
    AnswerSlip,
    CountsDiffer,
    CupHandedInTwice,
    FarAnswer,
    KeyFarFromMeasured,
    OddGross,
    SpreadOfMaterial,
    WallTakenOffInside,
)
from nearmark.contest.questions import (
    CupOnUnknownScale,
    CupWithoutTare,
    DecidedAgainstBoth,
    DecidedByReader,
    DecidedTooEarly,
    ImpossibleNumber,
    NetMassRefused,
    NoNumber,
    ReadDifferently,
    ReadOnce,
    ReadTwiceByOne,
    SaidValue,
)
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.kit.odd_records import OddSpread
from nearmark.measurement.slips import Meant, SlipKind
from nearmark.words import (
    answers,
    doubts,
    numbers,
    slips,
)
from sentence_examples.facts import OTHER, SAID, Examples, doubt


def numbers_said() -> Examples:
    """Numbers."""
    nouns = get_args(numbers.Noun)
    return {
        numbers.plural: [(n, noun) for noun in nouns for n in (1, 3)],
        numbers.percent: [(0.184,)],
        numbers.signed_percent: [(-0.18,)],
        numbers.give_or_take: [("-18 %", "4 %")],
        numbers.both: [(["C1", "C2", "B1"],)],
        numbers.either: [(["C1", "C2"],)],
        numbers.capital: ["first place"],
        numbers.ordinal: [1, 2, 3, 4, 11],
    }


def answers_said() -> Examples:
    """Questions about answers."""
    return {
        answers.status_name: list(AnswerStatus),
        answers.said_words: [SAID, SaidValue(AnswerStatus.ANSWERED, Decimal("104.3"), "7")],
        answers.no_number: [NoNumber()],
        answers.impossible_number: [ImpossibleNumber(Decimal(-4))],
        answers.cup_without_tare: [CupWithoutTare("7"), CupWithoutTare("")],
        answers.cup_on_unknown_scale: [CupOnUnknownScale("7", "bench scale")],
        answers.net_mass_refused: [NetMassRefused("7", "gross is not above tare")],
        answers.read_differently: [ReadDifferently((SAID, OTHER))],
        answers.read_once: [ReadOnce()],
        answers.read_twice_by_one: [ReadTwiceByOne("Ash")],
        answers.decided_by_reader: [DecidedByReader("Ash")],
        answers.decided_too_early: [DecidedTooEarly("Ash")],
        answers.decided_against_both: [DecidedAgainstBoth("Ash", OTHER, SAID)],
        answers.nobody_has_read: [()],
    }


def slips_said() -> Examples:
    """What may have been meant."""
    return {slips.slip_question: [(Meant(kind, Decimal("8.6")), "g") for kind in SlipKind]}


def doubts_said() -> Examples:
    """Doubts."""
    far = [FarAnswer(Decimal(17), slip, "C2") for slip in (None, *AnswerSlip)]
    outside = AnswerOutside(Decimal(17), 20.0, 100000.0)
    light = OddGross(Decimal("8.1"), Decimal("8.6"), None)
    heavy = OddGross(Decimal(1043), Decimal("8.6"), None)
    counts = [CountsDiffer(421, 412, name, None) for name in ("Rowan", "")]
    decided = [KeyFarFromMeasured(Decimal(n), Decimal(412), None) for n in (421, 124)]
    wall = WallTakenOffInside(BoxFaces(Faces.INSIDE, Decimal("0.4")))
    twice = CupHandedInTwice("7", "P02")
    spread = SpreadOfMaterial("dry peas", OddSpread(0.0015, 0.1, is_of_catalogue=True, meant=0.15))
    return {
        doubts.doubt_sentence: [doubt(far[1]), doubt(light, DoubtKind.CUP, "7")],
        doubts.blind_sentence: [doubt(far[1], DoubtKind.ANSWER)],
        doubts.far_answer: far[:1],
        doubts.ask_far_answer: far,
        doubts.answer_outside: [outside],
        doubts.ask_answer_outside: [outside],
        doubts.odd_gross: [light, heavy],
        doubts.ask_odd_gross: [light, heavy],
        doubts.cup_handed_in_twice: [twice],
        doubts.ask_cup_handed_in_twice: [twice],
        doubts.answer_of_absent: [AnswerOfAbsent()],
        doubts.ask_answer_of_absent: [AnswerOfAbsent()],
        doubts.counts_differ: counts,
        doubts.ask_counts_differ: counts[:1],
        doubts.wall_taken_off_inside: [wall],
        doubts.ask_wall_taken_off_inside: [wall],
        doubts.key_far_from_measured: decided,
        doubts.ask_key_far_from_measured: decided[:1],
        doubts.spread_of_material: [spread],
        doubts.ask_spread_of_material: [spread],
    }
