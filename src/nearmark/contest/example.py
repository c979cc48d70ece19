"""One small event for the examples of this package."""

from datetime import date
from decimal import Decimal

from nearmark.contest.event import AnswerReading, AnswerStatus, Event, HandCount, Item, Pair
from nearmark.station import Station


def two_pairs() -> Event:
    """Two pairs, one jar with about 1004 pieces, each answer read twice.

    Examples
    --------
    >>> two_pairs().answers[0].value
    Decimal('950')
    """
    return Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        items=(Item("C1", Station.COUNT, "jar"),),
        hand_counts=(HandCount("C1", 1000, "Ana"), HandCount("C1", 1008, "Ben")),
        pairs=(Pair("P1", "North", ("a", "b")), Pair("P2", "South", ("c", "d"))),
        answers=tuple(
            AnswerReading(pair, "C1", n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(pieces))
            for pair, pieces in (("P1", 950), ("P2", 1061))
            for n in (1, 2)
        ),
    )
