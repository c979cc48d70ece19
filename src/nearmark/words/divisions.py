"""Divisions: what one has, and a place in it."""

from collections.abc import Sequence

from nearmark.contest.division_results import DivisionPlace
from nearmark.words.numbers import both, plural
from nearmark.words.standings import place_name
from nearmark.words.translation import say


def division_place_words(held: DivisionPlace) -> str:
    """A pair's place in its division, of those who have a place there.

    >>> division_place_words(DivisionPlace("grade 3", 2, 14, is_shared=False))
    'second place of 14 in grade 3'
    """
    place, n, division = place_name(held.place), held.n_placed, held.division
    if held.is_shared:
        return say("shared {place} of {n} in {division}", place=place, n=n, division=division)
    return say("{place} of {n} in {division}", place=place, n=n, division=division)


def division_facts(awarded_places: int, n_pairs: int, items: Sequence[str]) -> str:
    """What a division has; ``items``: codes of those that name it.

    >>> division_facts(3, 14, ["C2"]), division_facts(0, 1, [])
    ('14 pairs; awards: 3 places; own items: C2', '1 pair; awards: 0 places')
    """
    facts = {"pairs": plural(n_pairs, "pair"), "places": plural(awarded_places, "place")}
    if items:
        return say("{pairs}; awards: {places}; own items: {items}", items=both(items), **facts)
    return say("{pairs}; awards: {places}", **facts)


def all_pairs() -> str:
    """Names the ranking of all pairs together, beside those of the divisions."""
    return say("All pairs")


def schools_title() -> str:
    """Names the ranking of the schools."""
    return say("Schools")


def division_schools(division: str) -> str:
    """Names the ranking of the schools in one division."""
    return say("Schools, {division}", division=division)
