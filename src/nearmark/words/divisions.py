"""A place in a division."""

from nearmark.contest.division_results import DivisionPlace
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
