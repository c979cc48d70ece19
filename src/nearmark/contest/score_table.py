"""Which answers earn how many points: a table for a day on paper, so that nobody multiplies.

A table goes down from the best score.  Answers on both sides of the key that earn the same points
as printed share a row.  The scores are those of ``scoring.score``, rounded as they are printed.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache

from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import score
from nearmark.errors import InputError

MAX_ROWS = 1400
"""Rows of one table; about four pages.  A key with more different scores gets fewer decimals."""


@dataclass(frozen=True, slots=True)
class AnswerSpan:
    """Answers that follow each other and earn the same points."""

    first: Decimal  # smallest of them (unit of the item)
    last: Decimal | None  # largest of them; ``None``: and everything above (unit of the item)


@dataclass(frozen=True, slots=True)
class ScoreRow:
    """One number of points, and the answers that earn it."""

    points: Decimal  # as printed, before the weight of the item (points)
    lower: AnswerSpan | None  # answers up to the key; ``None``: there are none
    higher: AnswerSpan | None  # answers above the key; ``None``: there are none


@dataclass(frozen=True, slots=True)
class ScoreTable:
    """Every answer to one item, and its points."""

    step: Decimal  # from one answer to the next (unit of the item)
    decimals: int  # of the points; at most those of the rule set
    rows: tuple[ScoreRow, ...]  # best first


def score_table(
    key: Fraction, rules: RuleSet, *, step: Decimal = Decimal(1), max_rows: int = MAX_ROWS
) -> ScoreTable:
    """The points of every answer, with as many decimals as the table has room for.

    >>> table = score_table(Fraction(4), RuleSet())
    >>> [(f"{row.points:f}", row.lower.first) for row in table.rows]
    [('100.00', Decimal('4')), ('75.00', Decimal('3')), ('50.00', Decimal('2')), \
('25.00', Decimal('1')), ('0.00', Decimal('0'))]

    Parameters
    ----------
    key : unit of the item, > 0
    rules : RuleSet
    step : unit of the item, > 0
        From one possible answer to the next: 1 for pieces, what a scale shows for a mass.
    max_rows : int, >= 102; rows there is room for; whole points always fit for a full score of 100

    Raises
    ------
    InputError : if the step is not above zero, or not even whole points fit
    """
    if step <= 0:
        raise InputError("must be above zero", where="step of the answers", value=step)
    for decimals in range(rules.decimals, -1, -1):
        if decimals and _is_far_too_long(key, rules, step, decimals, max_rows):
            continue
        rows = _rows(key, rules, step, decimals, max_rows)
        if rows is not None:
            return ScoreTable(step, decimals, rows)
    raise InputError(
        f"has more than {max_rows} different scores in whole points",
        where="rule set, full_score",
        value=rules.full_score,
        mend="Work out the scores by the formula of the rule set",
    )


def _is_far_too_long(
    key: Fraction, rules: RuleSet, step: Decimal, decimals: int, max_rows: int
) -> bool:
    """Whether the fall below the key alone has more than twice the rows: no need to try it."""
    fall = min(rules.zero_at, Fraction(1)) - rules.free_within
    answers = key * fall / Fraction(step)
    points = score(key, key, rules) * 10**decimals * fall / (rules.zero_at - rules.free_within)
    return bool(min(answers, points) > 2 * max_rows)


def _rows(
    key: Fraction, rules: RuleSet, step: Decimal, decimals: int, max_rows: int
) -> tuple[ScoreRow, ...] | None:
    """The rows, or ``None`` when there are too many."""

    @cache
    def points_at(n: int) -> int:
        points: Fraction = score(n * Fraction(step), key, rules) * 10**decimals
        return round(points)

    last_lower = int(key / Fraction(step))
    found: dict[int, list[AnswerSpan | None]] = {}
    n = last_lower
    while n >= 0:
        first = _edge(points_at, n, -1, 0)
        found[points_at(n)] = [AnswerSpan(first * step, n * step), None]
        if len(found) > max_rows:
            return None
        n = first - 1
    # From here on nothing more is lost: the fall ends at ``zero_at``.
    end = int(key * (1 + rules.zero_at) / Fraction(step)) + 2
    n = last_lower + 1
    while n <= end:
        points = points_at(n)
        last = _edge(points_at, n, 1, end)
        span = AnswerSpan(n * step, None if last == end else last * step)
        found.setdefault(points, [None, None])[1] = span
        if len(found) > max_rows:
            return None
        n = last + 1
    return tuple(
        ScoreRow(Decimal(points).scaleb(-decimals), *found[points])
        for points in sorted(found, reverse=True)
    )


def _edge(points_at: Callable[[int], int], start: int, direction: int, end: int) -> int:
    """The last answer from ``start`` on, in one direction, that earns the same as ``start``."""
    points, reach = points_at(start), 1
    inside = 0  # steps from the start that surely earn the same
    room = abs(end - start)
    while inside + reach <= room and points_at(start + direction * (inside + reach)) == points:
        inside += reach
        reach *= 2
    while reach > 1:
        reach //= 2
        if inside + reach <= room and points_at(start + direction * (inside + reach)) == points:
            inside += reach
    return start + direction * inside
