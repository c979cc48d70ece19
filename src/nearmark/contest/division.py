"""Divisions: which items a pair estimates, and whether all pairs can be ranked together.

Everything that goes through items and pairs asks here which of them belong together.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol

from nearmark.contest.event import Event, Item, Pair, PairStatus
from nearmark.contest.rules import RuleSet


class OfDivisions(Protocol):
    """An item, or its row in a database."""

    @property
    def divisions(self) -> Sequence[str]:
        """Names of the divisions whose pairs estimate it; empty: every pair."""
        ...


def is_asked(item: OfDivisions, division: str) -> bool:
    """Whether the pairs of a division estimate an item; without a name, those in none.

    >>> from nearmark.station import Station
    >>> jar = Item("C1", Station.COUNT, "jar", divisions=("grade 3",))
    >>> is_asked(jar, "grade 3"), is_asked(jar, "grade 4"), is_asked(jar, "")
    (True, False, False)
    """
    return not item.divisions or division in item.divisions


def items_of(pair: Pair, event: Event) -> tuple[Item, ...]:
    """The items that a pair estimates, in the order of the event.

    >>> from nearmark.contest.example import two_divisions
    >>> day = two_divisions()
    >>> [[item.code for item in items_of(pair, day)] for pair in day.pairs]
    [['C1', 'C2'], ['C1', 'C2'], ['C1', 'C3'], ['C1', 'C3']]
    """
    return items_of_division(pair.division, event)


def items_of_division(division: str, event: Event) -> tuple[Item, ...]:
    """The items that the pairs of a division estimate; without a name, those in none.

    >>> from nearmark.contest.example import two_divisions
    >>> [item.code for item in items_of_division("", two_divisions())]
    ['C1']
    """
    return tuple(item for item in event.items if is_asked(item, division))


def is_ranked(pair: Pair, rules: RuleSet) -> bool:
    """Whether a pair competes: guests, absent and withdrawn pairs do not.

    >>> is_ranked(Pair("P1", "North", ("a",)), RuleSet(solo_allowed=False))
    False
    """
    return pair.status is PairStatus.ENTERED and (rules.solo_allowed or not pair.is_solo)


def shared_items(event: Event) -> tuple[Item, ...] | None:
    """The items that all pairs estimate who are ranked together.

    ``None``: two divisions with ranked pairs have different items, so that their totals cannot be
    compared.  Pairs in no division do not count here: somebody forgot to say it.

    >>> from nearmark.contest.example import two_divisions, two_pairs
    >>> [item.code for item in shared_items(two_pairs())], shared_items(two_divisions())
    (['C1'], None)
    """
    ranked = {pair.division for pair in event.pairs if is_ranked(pair, event.rules)}
    names = [division.name for division in event.divisions]
    # Before anybody is in one, all of them are compared.
    first, *others = [name for name in names if name in ranked] or names or [""]
    items = items_of_division(first, event)
    return items if all(items_of_division(d, event) == items for d in others) else None


def has_division(pair: Pair, event: Event) -> bool:
    """Whether a pair is in a division, or the event has none.

    >>> from nearmark.contest.example import two_pairs
    >>> day = two_pairs()
    >>> has_division(day.pairs[0], day)
    True
    """
    return bool(pair.division) or not event.divisions


def cut_to(event: Event, division: str) -> Event:
    """The event as if only the pairs of one division had come.

    >>> from nearmark.contest.example import two_divisions
    >>> cut = cut_to(two_divisions(), "grade 4")
    >>> [pair.code for pair in cut.pairs], [item.code for item in cut.items]
    (['P3', 'P4'], ['C1', 'C3'])
    """
    return replace(
        event,
        divisions=tuple(d for d in event.divisions if d.name == division),
        pairs=tuple(pair for pair in event.pairs if pair.division == division),
        items=items_of_division(division, event),
    )
