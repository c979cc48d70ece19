"""Small events for the examples of this package."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    Division,
    Event,
    HandCount,
    Item,
    Pair,
)
from nearmark.station import Station


def two_pairs() -> Event:
    """Two pairs, one jar with about 1004 pieces, each answer read twice.

    >>> two_pairs().answers[0].value
    Decimal('950')
    """
    return Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        items=(Item("C1", Station.COUNT, "jar"),),
        hand_counts=(HandCount("C1", 1000, "Ana"), HandCount("C1", 1008, "Ben")),
        pairs=(Pair("P1", "North", ("a", "b")), Pair("P2", "South", ("c", "d"))),
        answers=_read_twice((("P1", "C1", 950), ("P2", "C1", 1061))),
    )


def two_divisions() -> Event:
    """Two pairs of two divisions each; one jar for all of them, and one for each division.

    >>> [division.name for division in two_divisions().divisions]
    ['grade 3', 'grade 4']
    """
    day = two_pairs()
    names = ("grade 3", "grade 4")
    return replace(
        day,
        divisions=tuple(Division(name, awarded_places=1) for name in names),
        items=(
            *day.items,
            Item("C2", Station.COUNT, "small jar", divisions=("grade 3",)),
            Item("C3", Station.COUNT, "large jar", divisions=("grade 4",)),
        ),
        hand_counts=(
            *day.hand_counts,
            *(HandCount(item, n, who) for item, n in (("C2", 200), ("C3", 500)) for who in "AB"),
        ),
        pairs=(
            Pair("P1", "North", ("a", "b"), division="grade 3"),
            Pair("P2", "South", ("c", "d"), division="grade 3"),
            Pair("P3", "North", ("e", "f"), division="grade 4"),
            Pair("P4", "South", ("g", "h"), division="grade 4"),
        ),
        answers=_read_twice(
            (
                *(("P1", "C1", 950), ("P1", "C2", 190), ("P2", "C1", 1061), ("P2", "C2", 150)),
                *(("P3", "C1", 900), ("P3", "C3", 300), ("P4", "C1", 1100), ("P4", "C3", 400)),
            )
        ),
    )


def _read_twice(written: tuple[tuple[str, str, int], ...]) -> tuple[AnswerReading, ...]:
    return tuple(
        AnswerReading(pair, item, n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(pieces))
        for pair, item, pieces in written
        for n in (1, 2)
    )
