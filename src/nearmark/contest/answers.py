"""From readings of the sheets to one accepted answer per pair and item.

Two people read each answer without seeing the other's reading.  Equal readings are accepted;
different ones wait for a third person, whose reading decides.  Nothing is overwritten, nothing is
refused: what a person should look at becomes a question beside the answer.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from nearmark.contest.cup_tares import CupTares
from nearmark.contest.division import items_of
from nearmark.contest.event import Adjudication, AnswerReading, AnswerStatus, Event, PairStatus
from nearmark.contest.questions import (
    DecidedAgainstBoth,
    DecidedByReader,
    DecidedTooEarly,
    ImpossibleNumber,
    NoNumber,
    Question,
    ReadDifferently,
    ReadOnce,
    ReadTwiceByOne,
    SaidValue,
)
from nearmark.measurement.budget import Component
from nearmark.station import Station


class AnswerState(StrEnum):
    """How an answer came to be accepted, or why it is not yet.

    ``agreed``: two people read the same.  ``adjudicated``: a third person decided.  ``single``: one
    person read it, once or twice; scored for now.  ``conflict``: two readings differ and nobody has
    decided; scored as a blank for now.  ``missing``: nobody has read it; scored as a blank for now.
    """

    AGREED = "agreed"
    ADJUDICATED = "adjudicated"
    SINGLE = "single"
    CONFLICT = "conflict"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class AcceptedAnswer:
    """The answer that is scored."""

    pair: str
    item: str
    status: AnswerStatus  # blank while nothing can be scored yet
    # Pieces, cm3; the *net* mass in g at the mass station (unit of the item, or None).
    estimate: Decimal | None
    # Standard uncertainty of the estimate itself: of a weighed net mass; 0 for a written answer
    # (unit of the item).
    u: float
    state: AnswerState
    question: Question | None = None  # what a person should look at
    # What a net mass shares with others and with keys; see ``Budget.causes``.
    causes: tuple[Component, ...] = ()


def accepted_answers(event: Event) -> dict[tuple[str, str], AcceptedAnswer]:
    """The accepted answer of every pair that came on every item that it estimates, by the two.

    In the order of the event.

    >>> from datetime import date
    >>> accepted_answers(Event("Larkspur Valley Estimation Day", date(2027, 5, 8)))
    {}
    """
    read: dict[tuple[str, str], list[AnswerReading]] = defaultdict(list)
    for reading in event.answers:
        read[reading.pair, reading.item].append(reading)
    decided = event.decided
    tares = CupTares.of(event)
    answers = {}
    for pair in event.pairs:
        if pair.status not in {PairStatus.ENTERED, PairStatus.GUEST}:
            continue
        for item in items_of(pair, event):
            at = pair.code, item.code
            is_weighed = item.station is Station.MASS
            settled = _settled(read[at], decided.get(at))
            answers[at] = _answer(at, settled, tares if is_weighed else None)
    return answers


@dataclass(frozen=True, slots=True)
class _Reading:
    """What one reading says, whoever made it."""

    status: AnswerStatus
    value: Decimal | None
    cup: str
    scale: str = field(default="", compare=False)

    @classmethod
    def of(cls, reading: AnswerReading | Adjudication) -> "_Reading":
        # A number beside "blank" or "illegible" is not an answer.
        value = reading.value if reading.status is AnswerStatus.ANSWERED else None
        scale = reading.scale if isinstance(reading, AnswerReading) else ""
        return cls(reading.status, value, reading.cup, scale)

    @property
    def said(self) -> SaidValue:
        return SaidValue(self.status, self.value, self.cup)


@dataclass(frozen=True, slots=True)
class _Settled:
    """What is accepted, how, and what is still to be asked."""

    says: _Reading
    state: AnswerState
    question: Question | None = None


_NOTHING = _Reading(AnswerStatus.BLANK, None, "")


def _answer(at: tuple[str, str], settled: _Settled, tares: CupTares | None) -> AcceptedAnswer:
    """The answer in the unit of the item: at the mass station the cup is taken off."""
    says, u = settled.says, 0.0
    causes: tuple[Component, ...] = ()
    trouble: Question | None
    if tares is not None and says.value is not None:
        net = tares.net(says.value, says.cup, says.scale)
        estimate, u, trouble, causes = net.net_g, net.u_g, net.trouble, net.causes
    else:
        estimate, trouble = _written(says)
    question = trouble or settled.question
    return AcceptedAnswer(*at, says.status, estimate, u, settled.state, question, causes)


def _written(says: _Reading) -> tuple[Decimal | None, Question | None]:
    """What can be scored of a written answer, and what is in the way."""
    value = says.value
    if value is None:
        is_lost = says.status is AnswerStatus.ANSWERED
        return None, NoNumber() if is_lost else None
    if not value.is_finite() or value < 0:
        return None, ImpossibleNumber(value)
    return value, None


def _settled(readings: Sequence[AnswerReading], adjudication: Adjudication | None) -> _Settled:
    said = {_Reading.of(reading) for reading in readings}
    clerks = {_person(reading.clerk): reading.clerk for reading in readings}
    if adjudication is not None:
        return _decided(adjudication, said, set(clerks))
    if not said:
        return _Settled(_NOTHING, AnswerState.MISSING)
    if len(said) > 1:
        different = sorted((reading.said for reading in said), key=_in_order)
        return _Settled(_NOTHING, AnswerState.CONFLICT, ReadDifferently(tuple(different)))
    (says,) = said
    if len(clerks) > 1:
        return _Settled(says, AnswerState.AGREED)
    (clerk,) = clerks.values()
    once = ReadOnce() if len(readings) == 1 else ReadTwiceByOne(clerk)
    return _Settled(says, AnswerState.SINGLE, once)


def _in_order(said: SaidValue) -> tuple[bool, str, str, str]:
    """Numbers first, so that the same readings are always said in the same order."""
    return said.value is None, f"{said.value}", said.cup, said.status.value


def _decided(adjudication: Adjudication, said: set[_Reading], clerks: set[str]) -> _Settled:
    """A third reading always decides; one that is not a third person's is asked about."""
    says = _Reading.of(adjudication)
    clerk = adjudication.clerk
    question: Question | None = None
    if _person(clerk) in clerks:
        question = DecidedByReader(clerk)
    elif len(clerks) < 2:
        question = DecidedTooEarly(clerk)
    elif said != {says} and len(said) == 1:
        (both,) = said
        question = DecidedAgainstBoth(clerk, says.said, both.said)
    return _Settled(says, AnswerState.ADJUDICATED, question)


def _person(clerk: str) -> str:
    """A name as it identifies a person: "ash " and "Ash" are one."""
    return " ".join(clerk.casefold().split())
