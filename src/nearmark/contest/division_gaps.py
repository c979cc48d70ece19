"""What does not fit the divisions: pairs in none, and answers that count for nothing."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from nearmark.contest.division import has_division, is_asked, is_ranked
from nearmark.contest.event import Event


@dataclass(frozen=True, slots=True)
class PairsWithoutDivision:
    """Pairs that compete and are in no division, of an event with divisions."""

    pairs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AnswersNotAsked:
    """Answers on an item that the division of these pairs does not estimate."""

    item: str
    division: str  # of the pairs; empty: none
    pairs: tuple[str, ...]


def division_gaps(event: Event) -> Iterator[PairsWithoutDivision | AnswersNotAsked]:
    """Pairs whose division nobody gave, and answers that their division does not estimate.

    >>> from nearmark.contest.example import two_divisions
    >>> list(division_gaps(two_divisions()))
    []
    """
    lost = [p.code for p in event.pairs if is_ranked(p, event.rules) and not has_division(p, event)]
    if lost:
        yield PairsWithoutDivision(tuple(lost))
    divisions = {pair.code: pair.division for pair in event.pairs}
    items = {item.code: item for item in event.items}
    useless: dict[tuple[str, str], list[str]] = defaultdict(list)
    for pair, code in dict.fromkeys((a.pair, a.item) for a in event.answers):
        division, item = divisions.get(pair, ""), items.get(code)
        if item is not None and not is_asked(item, division):
            useless[code, division].append(pair)
    for (code, division), pairs in useless.items():
        yield AnswersNotAsked(code, division, tuple(pairs))
