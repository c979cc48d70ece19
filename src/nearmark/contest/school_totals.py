"""Totals of schools, by the rule of the rule set: exact, and from the pairs with a place alone."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nearmark.contest.division_results import by_division
from nearmark.contest.results import PairResult, Results, merit, places
from nearmark.contest.rules import RuleSet, SchoolRule, SchoolTotal, TieBreak


@dataclass(frozen=True, slots=True)
class SchoolResult:
    """A school and its total."""

    school: str
    place: int | None  # ``None``: the rule asks for more pairs than it has
    total: Fraction  # points
    counted: tuple[str, ...]  # codes of the pairs that count, best first
    n_pairs: int  # pairs of the school with a place


def school_totals(results: Results) -> tuple[SchoolResult, ...]:
    """Rank the schools of an event, or of one division.

    Best first, equal totals by name, without a place last; empty when the rule set ranks no
    schools, or the pairs cannot be compared.  Equal totals share the better place unless the rule
    set breaks ties: then the same figures are compared of the pairs that count, added up (or their
    mean); of ``worst item``, the worst of all.

    >>> from nearmark.contest.example import two_pairs
    >>> from nearmark.contest.results import results
    >>> rules = RuleSet(school_total=SchoolTotal(SchoolRule.BEST, pairs=1))
    >>> found = school_totals(results(replace(two_pairs(), rules=rules)))
    >>> [(one.school, one.place, one.counted) for one in found]
    [('North', 1, ('P1',)), ('South', 2, ('P2',))]

    Parameters
    ----------
    results : where divisions cannot be compared, those of one division
    """
    rules = results.event.rules
    rule = rules.school_total
    if rule is None:
        return ()
    by_school: dict[str, list[PairResult]] = defaultdict(list)
    for line in results.pairs:
        if line.place is not None and line.pair.school:
            by_school[line.pair.school].append(line)
    found = [_school(name, lines, results, rule) for name, lines in by_school.items()]
    enough = [(one, figures) for one, figures in found if not _lacks_pairs(one, rule)]
    held = places([figures for _, figures in enough])
    placed = [replace(one, place=place) for (one, _), place in zip(enough, held, strict=True)]
    placed.sort(key=lambda one: (one.place or 0, one.school))
    lacking = [one for one, _ in found if _lacks_pairs(one, rule)]
    lacking.sort(key=lambda one: (-one.total, one.school))
    return (*placed, *lacking)


def school_rankings(results: Results) -> tuple[Results, ...]:
    """The results that schools are ranked in: of all pairs, or of each division.

    One, of all pairs, where all can be compared; else one for each division.

    >>> from nearmark.contest.example import two_divisions
    >>> from nearmark.contest.results import results
    >>> [found.division for found in school_rankings(results(two_divisions()))]
    ['grade 3', 'grade 4']
    """
    return (results,) if results.is_comparable else by_division(results)


def short_schools(found: Sequence[SchoolResult], rule: SchoolTotal) -> tuple[SchoolResult, ...]:
    """Schools with fewer pairs than the rule names.

    >>> one = SchoolResult("North", 1, Fraction(90), ("P1",), 1)
    >>> [s.school for s in short_schools([one], SchoolTotal(SchoolRule.BEST, pairs=2))]
    ['North']
    """
    return tuple(one for one in found if one.n_pairs < rule.pairs)


def _lacks_pairs(one: SchoolResult, rule: SchoolTotal) -> bool:
    return rule.rule is SchoolRule.MEAN and one.n_pairs < rule.pairs


def _school(
    name: str, lines: Sequence[PairResult], results: Results, rule: SchoolTotal
) -> tuple[SchoolResult, tuple[Fraction, ...]]:
    """A school without its place, and what it is ranked by."""
    ranked = sorted(((merit(line, results.event), line.pair.code) for line in lines), key=_best)
    counted = ranked[: rule.pairs] if rule.rule is SchoolRule.BEST else ranked
    divisor = 1 if rule.rule is SchoolRule.BEST else len(counted)
    figures = _together([figures for figures, _ in counted], results.event.rules, divisor)
    codes = tuple(code for _, code in counted)
    return SchoolResult(name, None, figures[0], codes, len(lines)), figures


def _best(ranked: tuple[tuple[Fraction, ...], str]) -> tuple[tuple[Fraction, ...], str]:
    figures, code = ranked
    return tuple(-figure for figure in figures), code


def _together(
    merits: Sequence[tuple[Fraction, ...]], rules: RuleSet, divisor: int
) -> tuple[Fraction, ...]:
    """Total, then what breaks ties, of several pairs."""
    total, *others = zip(*merits, strict=True)
    return (
        sum(total, Fraction(0)) / divisor,
        *(
            min(figures) if breaker is TieBreak.WORST_ITEM else sum(figures, Fraction(0)) / divisor
            for breaker, figures in zip(rules.tie_breaks, others, strict=True)
        ),
    )
