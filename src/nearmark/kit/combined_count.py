"""One count from a weighing and from hands that agree."""

import math
from dataclasses import replace

from nearmark.errors import ReadingsDisagree
from nearmark.kit.assigned_value import AssignedValue
from nearmark.kit.hand_count import agreement
from nearmark.kit.key_advice import CountByHand
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.rounding import round_to
from nearmark.measurement.row_notes import Reason, WeighingAgrees

MAX_CHECKING_U = 0.03
"""Relative U up to which a weighing checks one person's count: beyond, a slip of ten in a few
hundred pieces passes unseen (common practice, no source)."""


def combined_count(weighed: AssignedValue, counted: AssignedValue) -> AssignedValue:
    """Join a count by weighing with a count by hand of the same pieces.

    Counts by hand that are fit on their own, as two independent ones that agree are, settle the
    key; the weighing is then their check.  Otherwise the two are averaged, each weighted by its
    inverse variance.

    >>> from nearmark.kit import Sample, count_by_weighing, hand_count
    >>> from nearmark.measurement.instruments import Instrument, Reading
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> weighed = count_by_weighing(
    ...     [Sample(40, 24.4), Sample(40, 24.6), Sample(40, 24.5)],
    ...     Reading((321.7,), scale), Reading((112.1,), scale))
    >>> joined = combined_count(weighed, hand_count([342, 342]))
    >>> joined.method, joined.key, joined.fit
    ('count by hand, checked by weighing', Decimal('342'), True)
    >>> combined_count(weighed, hand_count([342])).method
    'counts by weighing and by hand'

    Raises
    ------
    ReadingsDisagree : if they do not agree within their uncertainties (E_n above 1)

    References
    ----------
    Weighted mean of independent results: least squares, JCGM 100:2008, clause 4.1.4 note and
    H.5 (from memory); E_n: see ``agreement``.
    """
    check = agreement(weighed, counted)
    if not check.agrees:
        raise ReadingsDisagree(
            f"They do not agree: {check.apart:.3g} pieces apart, only {check.joint_u:.2g} are "
            f"within their uncertainties (E_n {check.e_n:.2f})",
            where="the weighed count and the count by hand",
            mend="Count and weigh once more",
        )
    if counted.fit:
        by_hand, *rest = counted.budget.components
        note = WeighingAgrees(weighed.value, weighed.expanded_u, check.e_n)
        by_hand = replace(by_hand, notes=(*by_hand.notes, note))
        return replace(
            counted,
            method="count by hand, checked by weighing",
            budget=replace(counted.budget, components=(by_hand, *rest)),
        )
    return _averaged(weighed, counted)


def _averaged(weighed: AssignedValue, counted: AssignedValue) -> AssignedValue:
    precision = weighed.u**-2 + counted.u**-2
    rows = tuple(
        Component(
            source.method,
            source.value,
            "pieces",
            source.u,
            source.u**-2 / precision,
            "normal" if math.isinf(source.budget.dof) else "t",
            source.budget.dof,
            notes=(Reason.WEIGHTED,),
        )
        for source in (weighed, counted)
    )
    value = math.fsum(row.sensitivity * row.value for row in rows)
    budget = Budget(weighed.budget.measurand, value, "pieces", rows)
    half = budget.expanded_uncertainty
    checks = weighed.relative_expanded_u <= MAX_CHECKING_U
    missing = None if checks else counted.missing
    fit = not missing and budget.relative_expanded_uncertainty <= weighed.u_limit
    of_weighing = (one for one in weighed.advice if not isinstance(one, CountByHand))
    return AssignedValue(
        method="counts by weighing and by hand",
        budget=budget,
        interval=(max(value - half, 0.0), value + half),
        key=round_to(value, 0),
        u_limit=weighed.u_limit,
        warnings=(*weighed.warnings, *counted.warnings),
        advice=() if fit else (*counted.advice, *of_weighing),
        missing=missing,
    )
