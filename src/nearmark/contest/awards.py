"""Who gets an award: the first places of each division, shared places each as often as shared."""

from dataclasses import dataclass
from itertools import groupby

from nearmark.contest.division_results import by_division
from nearmark.contest.event import Division, Pair
from nearmark.contest.results import Results
from nearmark.contest.rules import TieBreak


@dataclass(frozen=True, slots=True)
class Award:
    """One place, and who holds it."""

    place: int
    pairs: tuple[Pair, ...]  # more than one: they share it, and each gets an award


@dataclass(frozen=True, slots=True)
class DivisionAwards:
    """The awards of one division."""

    division: Division  # without a name: of all pairs, of an event without divisions
    awards: tuple[Award, ...]  # best first
    tie_breaks: tuple[TieBreak, ...]  # of the rule set: what came before a place is shared
    run_off: str  # of the rule set, in words; empty: no run-off

    @property
    def n_certificates(self) -> int:
        """How many pairs get one."""
        return sum(len(award.pairs) for award in self.awards)

    @property
    def announced(self) -> tuple[Award, ...]:
        """In the order in which they are called: the first place last."""
        return self.awards[::-1]

    @property
    def shared_first(self) -> tuple[Pair, ...]:
        """Pairs who share the first place; empty when one pair holds it alone."""
        first = self.awards[0].pairs if self.awards else ()
        return first if len(first) > 1 else ()


def awards(results: Results) -> tuple[DivisionAwards, ...]:
    """The awards of an event: by division, or of all pairs where it has none.

    A pair of whom no answer is scored gets none.

    >>> from nearmark.contest.example import two_divisions
    >>> from nearmark.contest.results import results
    >>> for of_division in awards(results(two_divisions())):
    ...     print(of_division.division.name, [
    ...         (award.place, [pair.code for pair in award.pairs]) for award in of_division.awards])
    grade 3 [(1, ['P1'])]
    grade 4 [(1, ['P4'])]
    """
    if not results.event.divisions:
        return (_awards(results, Division("")),)
    return tuple(_awards(cut, cut.event.divisions[0]) for cut in by_division(results))


def _awards(results: Results, division: Division) -> DivisionAwards:
    scored = [
        line
        for line in results.pairs
        if line.place is not None
        and line.place <= division.awarded_places
        and any(score.estimate is not None for score in line.items)
    ]
    found = tuple(
        Award(place, tuple(line.pair for line in group))
        for place, group in groupby(scored, key=lambda line: line.place or 0)
    )
    rules = results.event.rules
    return DivisionAwards(division, found, rules.tie_breaks, rules.run_off)
