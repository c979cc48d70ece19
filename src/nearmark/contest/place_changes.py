"""What a correction does to the places: the standings before and after, pair by pair."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from nearmark.contest.results import Results


@dataclass(frozen=True, slots=True)
class Standing:
    """One pair as it was released; no child's name."""

    code: str
    school: str
    place: int | None  # ``None``: takes part without a place
    total: Fraction  # points
    division: str = ""  # empty: none
    division_place: int | None = None  # ``None``: no place there

    def as_json(self) -> dict[str, object]:
        """As it is kept; the total exactly, as a fraction."""
        there = {"division": self.division, "division_place": self.division_place}
        return {
            "code": self.code,
            "school": self.school,
            "place": self.place,
            "total": str(self.total),
            **(there if self.division else {}),
        }

    @classmethod
    def from_json(cls, kept: Mapping[str, object]) -> "Standing":
        """What ``as_json`` gave."""
        place, there = kept["place"], kept.get("division_place")
        return cls(
            str(kept["code"]),
            str(kept["school"]),
            None if place is None else int(str(place)),
            Fraction(str(kept["total"])),
            str(kept.get("division", "")),
            None if there is None else int(str(there)),
        )


@dataclass(frozen=True, slots=True)
class PlaceChange:
    """A pair whose place or total is another one now."""

    code: str
    # ``None``: it did not take part.
    before: Standing | None
    after: Standing | None

    @property
    def place_before(self) -> int | None:
        """``None``: without a place, or not taking part."""
        return None if self.before is None else self.before.place

    @property
    def place_after(self) -> int | None:
        """``None``: without a place, or not taking part."""
        return None if self.after is None else self.after.place

    @property
    def division(self) -> str:
        """Of the pair, now or before; empty: in none."""
        return (self.after or self.before or Standing("", "", None, Fraction(0))).division

    @property
    def there_before(self) -> int | None:
        """The place in the division; ``None``: none."""
        return None if self.before is None else self.before.division_place

    @property
    def there_after(self) -> int | None:
        """The place in the division; ``None``: none."""
        return None if self.after is None else self.after.division_place

    @property
    def is_of_place(self) -> bool:
        """Whether a place changes, over all or in the division, and not the total only."""
        return (self.place_before, self.there_before) != (self.place_after, self.there_after)

    @property
    def is_of_total(self) -> bool:
        """Whether the total changes too: nobody moves this pair but itself."""
        return self.before is None or self.after is None or self.before.total != self.after.total


def standings_of(results: Results) -> tuple[Standing, ...]:
    """The standings as they are kept of a release: best first, unplaced last.

    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> standings_of(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    ()
    """
    return tuple(
        Standing(
            line.pair.code,
            line.pair.school,
            line.place,
            line.total,
            line.pair.division,
            line.division_place,
        )
        for line in results.pairs
    )


def place_changes(before: Iterable[Standing], after: Sequence[Standing]) -> tuple[PlaceChange, ...]:
    """Who is elsewhere, or with another total.

    Those with another total first, then those who make room for them; each in the order of the new
    standings.

    >>> one, two = Fraction(90), Fraction(80)
    >>> old = [Standing("P1", "North", 1, one), Standing("P2", "South", 2, two)]
    >>> new = [Standing("P2", "South", 1, Fraction(95)), Standing("P1", "North", 2, one)]
    >>> [(c.code, c.is_of_place) for c in place_changes(old, new)]
    [('P2', True), ('P1', True)]
    """
    was = {standing.code: standing for standing in before}
    now = {standing.code: standing for standing in after}
    codes = [*now, *(code for code in was if code not in now)]
    changes = [PlaceChange(code, was.get(code), now.get(code)) for code in codes]
    moved = [c for c in changes if _shown(c.before) != _shown(c.after)]
    return tuple(sorted(moved, key=lambda c: not c.is_of_total))


def _shown(standing: Standing | None) -> tuple[int | None, int | None, Fraction] | None:
    if standing is None:
        return None
    return standing.place, standing.division_place, standing.total
