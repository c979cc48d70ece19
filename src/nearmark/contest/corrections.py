"""One answer or one key put right: the event as it would be, before anything is kept."""

from dataclasses import dataclass, replace
from decimal import Decimal

from nearmark.contest.division import items_of
from nearmark.contest.event import Adjudication, AnswerStatus, Event, KeyDecision
from nearmark.errors import InputError


@dataclass(frozen=True, slots=True)
class AnswerCorrection:
    """What the paper shows of one answer."""

    pair: str
    item: str
    status: AnswerStatus
    # At the mass station the *gross* mass in g (unit of the station, or None).
    value: Decimal | None
    cup: str
    by: str
    why: str


@dataclass(frozen=True, slots=True)
class KeyCorrection:
    """Another key for one item."""

    item: str
    value: Decimal  # unit of the station
    by: str
    why: str


Correction = AnswerCorrection | KeyCorrection


def corrected(event: Event, correction: Correction) -> Event:
    """The event with one thing put right.

    A corrected answer is a decision of whoever corrects it, beside both readings.

    >>> from datetime import date
    >>> from nearmark.contest.event import Item
    >>> from nearmark.station import Station
    >>> day = Event("Larkspur Valley", date(2027, 5, 8), items=(Item("C1", Station.COUNT, "jar"),))
    >>> new = corrected(day, KeyCorrection("C1", Decimal(900), "Ana", "counted again"))
    >>> new.key_decisions[0].value
    Decimal('900')

    Raises
    ------
    InputError : if the pair or the item is not of this event
    """
    if correction.item not in {item.code for item in event.items}:
        raise InputError("is not known", where="item", value=correction.item[:40])
    if isinstance(correction, KeyCorrection):
        others = tuple(d for d in event.key_decisions if d.item != correction.item)
        decision = KeyDecision(correction.item, correction.value, correction.by, correction.why)
        return replace(event, key_decisions=(*others, decision))
    pair = next((pair for pair in event.pairs if pair.code == correction.pair), None)
    if pair is None:
        raise InputError("is not known", where="pair", value=correction.pair[:40])
    if correction.item not in {item.code for item in items_of(pair, event)}:
        raise InputError(
            "is not estimated by the division of this pair",
            where=f"{pair.code}, item",
            value=correction.item,
            mend="Check the pair and the item",
        )
    at = correction.pair, correction.item
    decided = tuple(a for a in event.adjudications if (a.pair, a.item) != at)
    says = Adjudication(
        *at,
        clerk=correction.by,
        status=correction.status,
        value=correction.value,
        cup=correction.cup,
        reason=correction.why,
    )
    return replace(event, adjudications=(*decided, says))
