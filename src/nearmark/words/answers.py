"""What a person should look at beside an answer, in words."""

from functools import singledispatch

from nearmark.contest.event import AnswerStatus
from nearmark.contest.questions import (
    CupOnUnknownScale,
    CupWithoutTare,
    DecidedAgainstBoth,
    DecidedByReader,
    DecidedTooEarly,
    ImpossibleNumber,
    NetMassRefused,
    NoNumber,
    Question,
    ReadDifferently,
    ReadOnce,
    ReadTwiceByOne,
    SaidValue,
)
from nearmark.words.numbers import both
from nearmark.words.translation import message, say

_STATUS = {
    AnswerStatus.ANSWERED: message("answered"),
    AnswerStatus.BLANK: message("blank"),
    AnswerStatus.ILLEGIBLE: message("illegible"),
}


def status_name(status: AnswerStatus) -> str:
    """What is on a sheet instead of a number."""
    return say(_STATUS[status])


def said_words(said: SaidValue) -> str:
    """What one reading says.

    >>> from decimal import Decimal
    >>> said_words(SaidValue(AnswerStatus.ANSWERED, Decimal("104.3"), "7"))
    '104.3 in cup 7'
    """
    if said.value is None:
        return status_name(said.status)
    if said.cup:
        return say("{value} in cup {cup}", value=f"{said.value:f}", cup=said.cup)
    return f"{said.value:f}"


def question_words(question: Question) -> str:
    """The question about an answer, without a capital and a full stop: it follows its place.

    >>> question_words(ReadOnce())
    'read once only: a second person reads the paper'
    """
    return _question(question)


@singledispatch
def _question(question: Question) -> str:
    raise TypeError(type(question).__name__)


@_question.register
def no_number(_: NoNumber) -> str:
    """True of a sheet marked as answered of which no number was entered."""
    return say("answered, but no number was entered: read it again")


@_question.register
def impossible_number(question: ImpossibleNumber) -> str:
    """True of a number below zero, or of none."""
    return say("{value} cannot be an answer: read it again", value=question.value)


@_question.register
def cup_without_tare(question: CupWithoutTare) -> str:
    """True of a cup that nobody weighed empty, and that belongs to no batch."""
    if not question.cup:
        return say("no cup is named, so it has no tare: read its number")
    return say("cup {cup} has no tare: weigh it empty", cup=question.cup)


@_question.register
def cup_on_unknown_scale(question: CupOnUnknownScale) -> str:
    """True of a cup weighed on a scale that the event does not describe."""
    return say(
        "cup {cup}: {scale} is not among the instruments", cup=question.cup, scale=question.scale
    )


@_question.register
def net_mass_refused(question: NetMassRefused) -> str:
    """True of weighings that give no net mass; the refusal says why."""
    return say("cup {cup}: {refusal}", cup=question.cup, refusal=question.refusal)


@_question.register
def read_differently(question: ReadDifferently) -> str:
    """True while two readings differ and nobody has decided."""
    return say(
        "read as {values}: a third person reads the paper",
        values=both([said_words(said) for said in question.said]),
    )


@_question.register
def read_once(_: ReadOnce) -> str:
    """True of an answer with one reading."""
    return say("read once only: a second person reads the paper")


@_question.register
def read_twice_by_one(question: ReadTwiceByOne) -> str:
    """True of an answer with two readings of one person."""
    return say(
        "both readings are by {person}: a second person reads the paper", person=question.clerk
    )


@_question.register
def decided_by_reader(question: DecidedByReader) -> str:
    """True of a decision by somebody who had read the sheet before."""
    return say(
        "decided by {person}, who also made a first or second reading", person=question.clerk
    )


@_question.register
def decided_too_early(question: DecidedTooEarly) -> str:
    """True of a decision about an answer that two people have not read."""
    return say("decided by {person} before two people had read it", person=question.clerk)


@_question.register
def decided_against_both(question: DecidedAgainstBoth) -> str:
    """True of a decision that is neither of two equal readings."""
    return say(
        "decided as {decided} by {person}, although both read {both}",
        decided=said_words(question.decided),
        person=question.clerk,
        both=said_words(question.both),
    )


def nobody_has_read() -> str:
    """True of an answer without a reading."""
    return say("nobody has read the answer")
