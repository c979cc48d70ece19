"""What a correction does to one pair, in words."""

from nearmark.contest.place_changes import PlaceChange, Standing
from nearmark.contest.scoring import points_text
from nearmark.words.translation import say, say_count


def change_words(change: PlaceChange, decimals: int) -> str:
    """One line for the public page: place and total before and now, each true of this pair.

    >>> from fractions import Fraction
    >>> was = Standing("P07", "North", 4, Fraction(250))
    >>> change_words(PlaceChange("P07", was, Standing("P07", "North", 2, Fraction(270))), 1)
    'P07: place 4 before, 2 now; 250.0 points before, 270.0 now'
    """
    if change.division:
        return say(
            "{pair}: {place}; in {division}: {there}; {total}",
            pair=change.code,
            place=place_words(change),
            division=change.division,
            there=there_words(change),
            total=total_words(change, decimals),
        )
    return say(
        "{pair}: {place}; {total}",
        pair=change.code,
        place=place_words(change),
        total=total_words(change, decimals),
    )


def place_words(change: PlaceChange) -> str:
    """The place before and now, or that it is the same."""
    return _before_and_now(change.place_before, change.place_after)


def there_words(change: PlaceChange) -> str:
    """The same of the place in the division."""
    return _before_and_now(change.there_before, change.there_after)


def _before_and_now(before: int | None, after: int | None) -> str:
    none = say("none")
    if before != after:
        return say("place {before} before, {after} now", before=before or none, after=after or none)
    return say("place {after} as before", after=after or none)


def total_words(change: PlaceChange, decimals: int) -> str:
    """The total before and now as printed, or that it is the same."""
    before, after = (_points(standing, decimals) for standing in (change.before, change.after))
    if before == after:
        return say("{points} points as before", points=after)
    return say("{before} points before, {after} now", before=before, after=after)


def _points(standing: Standing | None, decimals: int) -> str:
    return say("no") if standing is None else points_text(standing.total, decimals)


def places_change(n: int) -> str:
    """How many places a correction changes.

    >>> places_change(0), places_change(1), places_change(3)
    ('no place changes', '1 place changes', '3 places change')
    """
    if n == 0:
        return say("no place changes")
    return say_count("{n} place changes", "{n} places change", n)


def only_totals_change(n: int) -> str:
    """True of pairs that keep their place with another total."""
    return say_count(
        "{n} pair with another total and the same place",
        "{n} pairs with another total and the same place",
        n,
    )


def nothing_changes() -> str:
    """True of a correction after which every place and total is the same."""
    return say("no place and no total changes")
