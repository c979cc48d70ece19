"""A count by hand, repeated, and whether two results of one thing agree."""

import math
import operator
from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.errors import InputError, ReadingsDisagree
from nearmark.kit.assigned_value import DEFAULT_U_LIMIT, AssignedValue
from nearmark.kit.count_checks import MAX_COUNT
from nearmark.kit.key_advice import AnotherPersonCounts, KeyAdvice, SecondPersonCounts
from nearmark.kit.key_warnings import CountsDisagree, KeyWarning, Lack, ManyPieces
from nearmark.kit.reading_checks import MAX_RATIO
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.rounding import round_to
from nearmark.measurement.row_notes import FullCounts, Reason, RowNote
from nearmark.measurement.type_a import type_a

MISCOUNTS_PER_PIECE = 0.05 / 100
"""One count of a hundred in twenty is out by one piece: the same allowance as for a sample."""

SLIP_PROBABILITY, SLIP_PIECES = 0.05, 10
"""One full count in twenty loses a group of ten or counts it twice (common practice, no source):
only a second person's count, or a weighing, shows it."""

LARGE_COUNT = 2000


@dataclass(frozen=True, slots=True)
class Agreement:
    """Whether two results of the same thing agree within their uncertainties."""

    # Difference over the joint expanded uncertainty; up to 1 the results agree (dimensionless).
    e_n: float
    # Their difference without a sign, and its expanded uncertainty (unit of the results).
    apart: float
    joint_u: float

    @property
    def agrees(self) -> bool:
        """Whether the difference is within its uncertainty."""
        return self.e_n <= 1


def hand_count(
    counts: Sequence[int],
    *,
    counters: Sequence[str] | None = None,
    measurand: str = "number of pieces",
    u_limit: float = DEFAULT_U_LIMIT,
) -> AssignedValue:
    """Assigned value from complete counts by hand; the key is the mean in whole pieces.

    Counts of one person are never fit alone.

    The uncertainty is the scatter of the counts, but never less than an allowance for miscounts
    that nobody noticed: variance 0.0005 a piece and count, so that 400 pieces have u = 0.45.
    Counts of two people that differ by no more than this explains agree: then the scatter of so
    few is not widened by Student's factor, which would be 12.7 for two.

    >>> result = hand_count([412, 412, 413])
    >>> result.key, round(result.expanded_u, 1), result.fit
    (Decimal('412'), 0.7, True)

    Parameters
    ----------
    counts : pieces, shape (n,), n >= 1
    counters : str, shape (n,), or None; who counted; ``None``: each count is another person's
    u_limit : relative, in (0, 1)

    Raises
    ------
    InputError
        If no count is given, one is not a whole number above zero, or the limit is impossible.
    ReadingsDisagree : if two counts differ by more than a factor of 1.5
    """
    _check_limit(u_limit)
    checked = _checked_counts(counts)
    n, mean = len(checked), math.fsum(checked) / len(checked)
    seen = type_a(checked).u if n > 1 else 0.0
    hidden = math.sqrt(max(mean * MISCOUNTS_PER_PIECE / n - seen**2, 0.0))
    alone = len(set(range(n) if counters is None else counters)) == 1
    agree = n > 1 and not alone and _apart(checked) <= _explained(mean)
    rows = (
        Component(
            "repeatability of the counts",
            mean,
            "pieces",
            seen,
            1.0,
            "normal" if agree else "t",
            math.inf if agree else n - 1 or math.inf,
            notes=(_agreement_note(n, agree=agree, alone=alone),),
        ),
        Component(
            "possible miscount",
            0.0,
            "pieces",
            hidden,
            notes=() if hidden else (Reason.CONTAINED,),
        ),
        Component(
            "slip of ten, unseen",
            0.0,
            "pieces",
            min(SLIP_PIECES, mean) * math.sqrt(SLIP_PROBABILITY) if alone else 0.0,
            notes=() if alone else (Reason.SHOWN_BY_ANOTHER,),
        ),
    )
    budget = Budget(measurand, mean, "pieces", rows)
    half = budget.expanded_uncertainty
    return AssignedValue(
        method="count by hand",
        budget=budget,
        interval=(max(mean - half, 0.0), mean + half),
        key=round_to(mean, 0),
        u_limit=u_limit,
        warnings=_warnings(checked, differ=not (agree or alone)),
        advice=_advice(budget, u_limit, alone=alone),
        missing=Lack.SECOND_COUNTER if alone else None,
    )


def _apart(counts: Sequence[int]) -> int:
    return max(counts) - min(counts)


def _explained(mean: float) -> float:
    """Largest difference of two careful counts: one piece, or twice its standard deviation."""
    return max(1.0, 2 * math.sqrt(2 * mean * MISCOUNTS_PER_PIECE))


def _agreement_note(n: int, *, agree: bool, alone: bool) -> RowNote:
    if n == 1:
        return Reason.ONE_COUNT
    return Reason.ONE_PERSON if alone else FullCounts(n, agree)


def agreement(a: AssignedValue, b: AssignedValue) -> Agreement:
    """Whether two independent results of the same thing agree.

    >>> found = agreement(hand_count([412, 412, 413]), hand_count([415, 415]))
    >>> round(found.apart, 2), round(found.joint_u, 2), round(found.e_n, 2), found.agrees
    (2.67, 0.91, 2.94, False)

    Parameters
    ----------
    a, b : AssignedValue, same unit
        Found in different ways, or by different people: what they share does not show.

    Raises
    ------
    InputError : if the units differ

    References
    ----------
    ISO 13528:2015 clause 9.7 and ISO/IEC 17043 (clauses from memory):
    ``E_n = |a - b| / sqrt(U_a^2 + U_b^2)``, satisfactory up to 1.
    """
    if a.unit != b.unit:
        raise InputError(
            f"{a.unit} cannot be compared with {b.unit}",
            where="agreement",
            mend="Give two results of the same thing",
        )
    apart = abs(a.value - b.value)
    joint = math.hypot(a.expanded_u, b.expanded_u)
    e_n = apart / joint if joint else (0.0 if apart == 0 else math.inf)
    return Agreement(e_n, apart, joint)


def _check_limit(u_limit: float) -> None:
    if not 0 < u_limit < 1:
        raise InputError(
            "not a possible value",
            where="u_limit",
            value=u_limit,
            mend="Give a number between 0 and 1; 1 % is 0.01",
        )


def _checked_counts(counts: Sequence[int]) -> tuple[int, ...]:
    if not counts:
        raise InputError("no count given", where="counts by hand", mend="Give at least one count")
    checked = []
    for i, count in enumerate(counts, start=1):
        try:
            whole = operator.index(count)
        except TypeError:
            whole = 0
        if not 1 <= whole <= MAX_COUNT:
            raise InputError(
                f"must be a whole number, 1 to {MAX_COUNT:,}",
                where=f"count {i}",
                value=count,
                mend="Give the number of pieces counted",
            )
        checked.append(whole)
    if max(checked) > MAX_RATIO * min(checked) + 1:
        raise ReadingsDisagree(
            f"the counts run from {min(checked)} to {max(checked)}",
            where="counts by hand",
            mend="Count once more: look for a digit slip or a group counted twice",
        )
    return tuple(checked)


def _warnings(counts: Sequence[int], *, differ: bool) -> tuple[KeyWarning, ...]:
    found: list[KeyWarning] = []
    if differ:
        explained = _explained(sum(counts) / len(counts))
        found.append(CountsDisagree(tuple(counts), explained, _apart(counts)))
    if max(counts) > LARGE_COUNT:
        found.append(ManyPieces(LARGE_COUNT))
    return tuple(found)


def _advice(budget: Budget, u_limit: float, *, alone: bool) -> tuple[KeyAdvice, ...]:
    now = budget.relative_expanded_uncertainty
    if alone:
        return (SecondPersonCounts(),)
    return () if now <= u_limit else (AnotherPersonCounts(now, u_limit),)
