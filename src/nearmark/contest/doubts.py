"""Doubts: readings, cups, keys and answers that look like a slip, each with its question.

A doubt never changes and never blocks anything.  The list is a pure function of the event: what is
asked while somebody types is what a reading adds to it (``new_doubts``); what is kept all the same
stays in it until the reading is changed, or the doubt is closed with a reason.
"""

from collections.abc import Iterable

from nearmark.contest.doubt import Doubt, DoubtKind
from nearmark.contest.event import AnswerReading, Event
from nearmark.contest.kit_doubts import kit_doubts
from nearmark.contest.pair_doubts import WrittenField, pair_doubts

__all__ = ["Doubt", "DoubtKind", "answer_doubts", "doubts", "new_doubts", "not_closed"]


def doubts(event: Event) -> tuple[Doubt, ...]:
    """Everything in an event that looks like a slip.

    Each id once: items first, then cups, then pairs.

    >>> from datetime import date
    >>> from decimal import Decimal
    >>> from nearmark.contest.event import CountedSample, Item
    >>> from nearmark.station import Station
    >>> jar = Item("J2", Station.COUNT, "jar of peas", "green-pea")
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8), items=(jar,),
    ...             samples=(CountedSample("J2", 75, Decimal("18.91"), "scale"),))
    >>> [doubt.id for doubt in doubts(day)]
    ['sample:J2:75:18.91']
    """
    found = [*kit_doubts(event), *pair_doubts(event)]
    return tuple({doubt.id: doubt for doubt in found}.values())


def new_doubts(before: Event, after: Event) -> tuple[Doubt, ...]:
    """What a change of the event adds: to ask before the change is kept.

    >>> from datetime import date
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8))
    >>> new_doubts(day, day)
    ()
    """
    known = {doubt.id for doubt in doubts(before)}
    return tuple(doubt for doubt in doubts(after) if doubt.id not in known)


def not_closed(event: Event, found: Iterable[Doubt]) -> tuple[Doubt, ...]:
    """The doubts that nobody has closed with a reason.

    >>> from datetime import date
    >>> not_closed(Event("Larkspur Valley Estimation Day", date(2027, 5, 8)), ())
    ()
    """
    closed = {closing.point for closing in event.closings}
    return tuple(doubt for doubt in found if doubt.id not in closed)


def answer_doubts(event: Event, readings: Iterable[AnswerReading]) -> tuple[Doubt, ...]:
    """What is odd about answers that somebody is typing.

    Only the answers of *other* pairs are looked at: what another person read off the same sheet
    has no say, so that the question cannot tell it.

    >>> from datetime import date
    >>> from nearmark.contest.event import AnswerStatus, Item
    >>> from nearmark.station import Station
    >>> from decimal import Decimal
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8),
    ...             items=(Item("C1", Station.COUNT, "jar"),))
    >>> typed = AnswerReading("P02", "C1", 1, "Rowan", AnswerStatus.ANSWERED, Decimal(17))
    >>> answer_doubts(day, [typed])[0].odd
    AnswerOutside(value=Decimal('17'), lowest=20.0, highest=100000.0)

    Parameters
    ----------
    event : with or without these readings
    readings : a second reader is asked again, whatever the first one kept
    """
    field = WrittenField.of(event)
    found = [doubt for reading in readings for doubt in field.doubts_of(reading)]
    return tuple({doubt.id: doubt for doubt in found}.values())
