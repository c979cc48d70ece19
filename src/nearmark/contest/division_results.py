"""The results of one division, with the same functions as those of the whole event."""

from dataclasses import dataclass, replace
from functools import cached_property

from nearmark.contest.division import cut_to
from nearmark.contest.open_points import OpenPoint
from nearmark.contest.results import PairResult, Results


@dataclass(frozen=True)
class DivisionResults(Results):
    """The pairs of one division, each with its place in it; cut out of the whole."""

    whole: Results

    @property
    def division(self) -> str:
        """Name of the division."""
        return self.event.divisions[0].name

    @cached_property
    def points(self) -> tuple[OpenPoint, ...]:
        """Those of the whole event, without what is of another division alone."""
        pairs = {pair.code for pair in self.event.pairs}
        return tuple(
            point
            for point in self.whole.points
            if (not point.item or point.item in self.keys)
            and (not point.pair or point.pair in pairs)
        )


def division_results(results: Results, division: str) -> DivisionResults:
    """The results of one division; each line has the place in the division for its place.

    >>> from nearmark.contest.example import two_divisions
    >>> from nearmark.contest.results import results
    >>> cut = division_results(results(two_divisions()), "grade 4")
    >>> [(line.pair.code, line.place) for line in cut.pairs], sorted(cut.keys)
    ([('P4', 1), ('P3', 2)], ['C1', 'C3'])
    """
    event = cut_to(results.event, division)
    codes = {pair.code for pair in event.pairs}
    items = {item.code for item in event.items}
    lines = [
        replace(line, place=line.division_place)
        for line in results.pairs
        if line.pair.division == division
    ]
    # Places over all are in the same order, but for pairs that are equal there: those go by code.
    lines.sort(key=lambda line: (line.place is None, line.place or -line.total, line.pair.code))
    return DivisionResults(
        event,
        {code: key for code, key in results.keys.items() if code in items},
        {at: answer for at, answer in results.answers.items() if at[0] in codes},
        tuple(lines),
        results,
    )


def rankings(results: Results) -> tuple[Results, ...]:
    """Every ranking of an event: of all pairs together where they can be compared, then apart.

    >>> from nearmark.contest.example import two_divisions, two_pairs
    >>> from nearmark.contest.results import results
    >>> [len(rankings(results(day))) for day in (two_pairs(), two_divisions())]
    [1, 2]
    """
    together = (results,) if results.is_comparable else ()
    return (*together, *by_division(results))


def by_division(results: Results) -> tuple[DivisionResults, ...]:
    """The results of each division that has pairs, in the order of the event.

    >>> from nearmark.contest.example import two_divisions
    >>> from nearmark.contest.results import results
    >>> [cut.division for cut in by_division(results(two_divisions()))]
    ['grade 3', 'grade 4']
    """
    used = {pair.division for pair in results.event.pairs}
    names = [division.name for division in results.event.divisions]
    return tuple(division_results(results, name) for name in names if name in used)


@dataclass(frozen=True, slots=True)
class DivisionPlace:
    """A pair's place in its division."""

    division: str
    place: int
    n_placed: int  # pairs of the division with a place
    is_shared: bool


def division_place(line: PairResult, results: Results) -> DivisionPlace | None:
    """The place of a pair in its division; ``None`` where it has none.

    >>> from nearmark.contest.example import two_divisions
    >>> from nearmark.contest.results import results
    >>> found = results(two_divisions())
    >>> division_place(found.pairs[0], found)
    DivisionPlace(division='grade 3', place=1, n_placed=2, is_shared=False)
    """
    if line.division_place is None:
        return None
    name = line.pair.division
    held = [x.division_place for x in results.pairs if x.pair.division == name]
    return DivisionPlace(
        name,
        line.division_place,
        sum(place is not None for place in held),
        is_shared=held.count(line.division_place) > 1,
    )
