"""A doubt in words: where it is, what is odd, and the question what it might be."""

from functools import singledispatch
from typing import Final

from nearmark.contest.doubt import Doubt, DoubtKind
from nearmark.contest.odd_records import (
    AnswerOfAbsent,
    AnswerOutside,
    AnswerSlip,
    CountsDiffer,
    CupHandedInTwice,
    FarAnswer,
    KeyFarFromMeasured,
    Odd,
    OddGross,
    SpreadOfMaterial,
    WallTakenOffInside,
)
from nearmark.kit.odd_records import OddReading
from nearmark.words.numbers import percent
from nearmark.words.odd_readings import ask_about_reading, reading_is_odd
from nearmark.words.slips import slip_question
from nearmark.words.translation import message, say


def place_words(doubt: Doubt) -> str:
    """Where it is: pair and item, item, or cup."""
    cup = say("cup {cup}", cup=doubt.cup) if doubt.cup and not doubt.item else ""
    return ", ".join(part for part in (*doubt.place, cup) if part)


def what_is_odd(doubt: Doubt) -> str:
    """What is odd and by how much, without its place."""
    return reading_is_odd(doubt.odd) if isinstance(doubt.odd, OddReading) else _found(doubt.odd)


def doubt_words(doubt: Doubt) -> str:
    """Place, and what is odd there."""
    place = place_words(doubt)
    found = what_is_odd(doubt)
    return say("{place}: {found}", place=place, found=found) if place else found


def doubt_question(doubt: Doubt) -> str:
    """The question: what it might be."""
    if isinstance(doubt.odd, OddReading):
        return ask_about_reading(doubt.odd)
    return _question(doubt.odd)


def doubt_sentence(doubt: Doubt) -> str:
    """Place, what is odd, and the question."""
    return f"{doubt_words(doubt)}. {doubt_question(doubt)}"


def blind_sentence(doubt: Doubt) -> str:
    """The same for who types answers without seeing those of others.

    Of an answer it says neither which way it is off, nor how many others there are.
    """
    if doubt.kind is not DoubtKind.ANSWER:
        return doubt_sentence(doubt)
    return say(
        "{place}: This is far from what others wrote, or from what an answer can be. Please read "
        "the sheet again.",
        place=place_words(doubt),
    )


def doubt_json(doubt: Doubt) -> dict[str, str]:
    """The stable keys of a doubt in JSON: ``id``, ``kind``, ``place``, ``words``, ``ask``."""
    return {
        "id": doubt.id,
        "kind": doubt.kind.value,
        "place": place_words(doubt),
        "words": what_is_odd(doubt),
        "ask": doubt_question(doubt),
    }


@singledispatch
def _found(odd: Odd) -> str:
    raise TypeError(type(odd).__name__)


@singledispatch
def _question(odd: Odd) -> str:
    raise TypeError(type(odd).__name__)


@_found.register
def far_answer(odd: FarAnswer) -> str:
    """True of an answer far from those of three or more other pairs."""
    return say("{value} is far from what others wrote", value=f"{odd.value:f}")


_ANSWER_SLIPS: Final = {
    None: message("Was it read correctly?"),
    AnswerSlip.DIGIT_MISSING: message("Is a digit missing?"),
    AnswerSlip.DIGIT_TOO_MANY: message("Is there a digit too many?"),
    AnswerSlip.THOUSANDS: message("Is that thousands?"),
    AnswerSlip.THREE_TOO_MANY: message("Are three digits too many?"),
    AnswerSlip.ANOTHER_ROW: message("Is it the answer on {item}?"),
}


@_question.register
def ask_far_answer(odd: FarAnswer) -> str:
    """The slip after which the answer is near what others wrote."""
    return say(_ANSWER_SLIPS[odd.slip], item=odd.item)


@_found.register
def answer_outside(odd: AnswerOutside) -> str:
    """True of an answer outside the limits of the rule set."""
    return say(
        "{value} is outside {lowest} to {highest}",
        value=f"{odd.value:f}",
        lowest=f"{odd.lowest:g}",
        highest=f"{odd.highest:g}",
    )


@_question.register
def ask_answer_outside(_: AnswerOutside) -> str:
    """Asked of an answer outside the limits of the rule set."""
    return say("Is that what is on the paper?")


@_found.register
def odd_gross(odd: OddGross) -> str:
    """True of a cup whose contents cannot be near the target; does not say what is in it."""
    if odd.gross_g <= odd.tare_g:
        return say(
            "{gross} g with what is in it is not more than the cup alone ({tare} g)",
            gross=f"{odd.gross_g:f}",
            tare=f"{odd.tare_g.normalize():f}",
        )
    return say("{gross} g is unusual for a cup here", gross=f"{odd.gross_g:f}")


@_question.register
def ask_odd_gross(odd: OddGross) -> str:
    """The slip after which the mass is usual, else what else to look at."""
    if odd.meant is not None:
        return slip_question(odd.meant, "g")
    if odd.gross_g <= odd.tare_g:
        return say("Is the number of the cup right? Was the scale at zero?")
    return say("Look at the display and the cup once more?")


@_found.register
def cup_handed_in_twice(odd: CupHandedInTwice) -> str:
    """True of a numbered cup that two pairs handed in for one item."""
    return say("cup {cup} was handed in by {pair} too", cup=odd.cup, pair=odd.first)


@_question.register
def ask_cup_handed_in_twice(_: CupHandedInTwice) -> str:
    """Asked of a numbered cup that two pairs handed in."""
    return say("Is its number right?")


@_found.register
def answer_of_absent(_: AnswerOfAbsent) -> str:
    """True of a pair that is marked absent and has an answer."""
    return say("this pair is marked absent")


@_question.register
def ask_answer_of_absent(_: AnswerOfAbsent) -> str:
    """Asked of an answer of a pair that is marked absent."""
    return say("Is it another pair's, or did they come?")


@_found.register
def counts_differ(odd: CountsDiffer) -> str:
    """True of two counts by hand that differ by more than careful counts do."""
    if odd.first_counter:
        return say(
            "{pieces} pieces, {person} has {first}",
            pieces=odd.pieces,
            person=odd.first_counter,
            first=odd.first_pieces,
        )
    return say(
        "{pieces} pieces, another person has {first}", pieces=odd.pieces, first=odd.first_pieces
    )


@_question.register
def ask_counts_differ(odd: CountsDiffer) -> str:
    """The slip that makes one count of the other, else to count again."""
    return slip_question(odd.meant) if odd.meant else say("Does one of you count again?")


@_found.register
def wall_taken_off_inside(odd: WallTakenOffInside) -> str:
    """True of a box read inside of which a wall is typed too."""
    return say("read inside, yet two walls of {wall} cm are taken off", wall=odd.box.wall_text)


@_question.register
def ask_wall_taken_off_inside(_: WallTakenOffInside) -> str:
    """Asked of a box read inside of which a wall is typed too."""
    return say("Was it read outside? If not, take the wall away.")


@_found.register
def key_far_from_measured(odd: KeyFarFromMeasured) -> str:
    """True of a decided key that differs from the measured one by more than twice U."""
    facts = {
        "decided": f"{odd.decided:f}",
        "percent": percent(abs(float(odd.decided / odd.measured) - 1)),
        "measured": f"{odd.measured:f}",
    }
    if odd.decided > odd.measured:
        return say("{decided} is {percent} more than the {measured} that was measured", **facts)
    return say("{decided} is {percent} less than the {measured} that was measured", **facts)


@_question.register
def ask_key_far_from_measured(odd: KeyFarFromMeasured) -> str:
    """The slip that makes one key of the other, else which is right."""
    return slip_question(odd.meant) if odd.meant else say("Which of the two is right?")


@_found.register
def spread_of_material(odd: SpreadOfMaterial) -> str:
    """True of a typed spread that the catalogue contradicts."""
    return say("{material}: {found}", material=odd.material, found=reading_is_odd(odd.spread))


@_question.register
def ask_spread_of_material(odd: SpreadOfMaterial) -> str:
    """Asked of a typed spread that the catalogue contradicts."""
    return ask_about_reading(odd.spread)
