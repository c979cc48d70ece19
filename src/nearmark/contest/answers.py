"""From readings of the sheets to one accepted answer per pair and item.

Two people read each answer without seeing the other's reading.  Equal readings are accepted;
different ones wait for a third person, whose reading decides.  Nothing is overwritten.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from statistics import median

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    Event,
    Item,
    Pair,
    PairStatus,
)
from nearmark.contest.rules import Station
from nearmark.errors import NearmarkError
from nearmark.kit import net_mass
from nearmark.measurement.instruments import Instrument, Reading

UNLIKELY_RATIO = 5
"""Answers this many times above or below the field's median are asked about: thousands?"""


class AnswerState(StrEnum):
    """How an answer came to be accepted, or why it is not yet."""

    AGREED = "agreed"
    ADJUDICATED = "adjudicated"
    SINGLE = "single"
    CONFLICT = "conflict"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class AcceptedAnswer:
    """The answer that is scored.

    Attributes
    ----------
    pair, item : str
    status : AnswerStatus
        Blank while nothing can be scored yet.
    estimate : unit of the item, or None
        Pieces, cm3; the *net* mass in g at the mass station.
    u : unit of the item
        Standard uncertainty of the estimate itself: of a weighed net mass; 0 for a written answer.
    state : AnswerState
    question : str
        What a person should look at; empty when there is nothing.
    """

    pair: str
    item: str
    status: AnswerStatus
    estimate: Decimal | None
    u: float
    state: AnswerState
    question: str = ""


def accepted_answers(event: Event) -> dict[tuple[str, str], AcceptedAnswer]:
    """The accepted answer of every pair that came, on every item.

    Parameters
    ----------
    event : Event

    Returns
    -------
    dict (pair, item) -> AcceptedAnswer

    Examples
    --------
    >>> from datetime import date
    >>> accepted_answers(Event("Larkspur Valley Estimation Day", date(2027, 5, 8)))
    {}
    """
    read: dict[tuple[str, str], list[AnswerReading]] = defaultdict(list)
    for reading in event.answers:
        read[reading.pair, reading.item].append(reading)
    decided = {(a.pair, a.item): a for a in event.adjudications}
    scales = {i.name: i for i in event.instruments}
    cups = {c.number: (c.tare_g, scales.get(c.instrument)) for c in event.cups}
    answers = {
        (pair.code, item.code): _settled(
            pair, item, read[pair.code, item.code], decided.get((pair.code, item.code)), cups
        )
        for pair in event.pairs
        if pair.status in {PairStatus.ENTERED, PairStatus.GUEST}
        for item in event.items
    }
    return _with_questions(answers, event)


@dataclass(frozen=True, slots=True)
class _Reading:
    """What one reading says, whoever made it."""

    status: AnswerStatus
    value: Decimal | None
    cup: str


_NOTHING = _Reading(AnswerStatus.BLANK, None, "")
_Cups = dict[str, tuple[Decimal, Instrument | None]]


def _settled(
    pair: Pair,
    item: Item,
    readings: list[AnswerReading],
    adjudication: Adjudication | None,
    cups: _Cups,
) -> AcceptedAnswer:
    says, state, question = _settle(readings, adjudication)
    if item.station is Station.MASS and says.value is not None:
        estimate, u, trouble = _net(says, cups)
        question = question or trouble
    else:
        estimate, u = says.value, 0.0
    return AcceptedAnswer(pair.code, item.code, says.status, estimate, u, state, question)


def _settle(
    readings: list[AnswerReading], adjudication: Adjudication | None
) -> tuple[_Reading, AnswerState, str]:
    """What is accepted, how, and what is still to be asked."""
    clerks = {r.clerk for r in readings}
    if adjudication is not None:
        question = ""
        if adjudication.clerk in clerks:
            question = f"decided by {adjudication.clerk}, who also made a first or second reading"
        says = _Reading(adjudication.status, adjudication.value, adjudication.cup)
        return says, AnswerState.ADJUDICATED, question
    said = {_Reading(r.status, r.value, r.cup) for r in readings}
    if not said:
        return _NOTHING, AnswerState.MISSING, ""
    if len(said) > 1:
        words = " and ".join(sorted(_words(s) for s in said))
        return _NOTHING, AnswerState.CONFLICT, f"read as {words}: a third person reads the paper"
    if len(readings) < 2:
        return said.pop(), AnswerState.SINGLE, "read once only: a second person reads the paper"
    if len(clerks) < 2:
        question = f"both readings are by {clerks.pop()}: a second person reads the paper"
        return said.pop(), AnswerState.SINGLE, question
    return said.pop(), AnswerState.AGREED, ""


def _words(says: _Reading) -> str:
    if says.value is None:
        return says.status.value
    return f"{says.value:f}" + (f" in cup {says.cup}" if says.cup else "")


def _net(says: _Reading, cups: _Cups) -> tuple[Decimal | None, float, str]:
    """Net mass in g, its standard uncertainty, and what stands in the way."""
    gross_g = says.value
    if gross_g is None:
        return None, 0.0, ""
    if says.cup not in cups:
        return None, 0.0, f"cup {says.cup or '(none)'} has no tare: weigh it empty"
    tare_g, scale = cups[says.cup]
    if scale is None:
        return gross_g - tare_g, 0.0, ""
    try:
        net = net_mass(
            Reading((float(gross_g),), scale), Reading((float(tare_g),), scale), measurand="net"
        )
    except NearmarkError as refusal:
        return None, 0.0, f"cup {says.cup}: {refusal}"
    return gross_g - tare_g, net.u, ""


def _with_questions(
    answers: dict[tuple[str, str], AcceptedAnswer], event: Event
) -> dict[tuple[str, str], AcceptedAnswer]:
    """Ask about unlikely values; nothing is blocked."""
    by_item: dict[str, list[AcceptedAnswer]] = defaultdict(list)
    for answer in answers.values():
        by_item[answer.item].append(answer)
    asked = dict(answers)
    for item in event.items:
        for answer in _unlikely(by_item[item.code], item, event):
            asked[answer.pair, answer.item] = answer
    return asked


def _unlikely(answers: list[AcceptedAnswer], item: Item, event: Event) -> Iterable[AcceptedAnswer]:
    rule = event.rules.stations.get(item.station)
    given = [a.estimate for a in answers if a.estimate is not None and a.estimate > 0]
    middle = median(given) if len(given) > 2 else None
    for a in answers:
        if a.estimate is None or a.question:
            continue
        question = ""
        if middle and not middle / UNLIKELY_RATIO < a.estimate < middle * UNLIKELY_RATIO:
            question = f"{a.estimate:f} is far from what the others wrote: is a digit missing?"
        elif rule and not rule.lowest <= a.estimate <= rule.highest:
            question = f"{a.estimate:f} is outside {rule.lowest} to {rule.highest}: read again"
        if question:
            yield AcceptedAnswer(a.pair, a.item, a.status, a.estimate, a.u, a.state, question)
