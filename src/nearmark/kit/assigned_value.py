"""A value one can defend: the assigned value of one item, with its budget and what it means."""

import math
from dataclasses import dataclass, field
from decimal import Decimal

from nearmark.kit.drawn_check import DrawnCheck, drawn_check
from nearmark.kit.key_advice import KeyAdvice
from nearmark.kit.key_warnings import KeyWarning, Lack
from nearmark.measurement.budget import Budget
from nearmark.measurement.rounding import decimals_for

DEFAULT_U_LIMIT = 0.01
"""Largest relative U at which a key is fit, unless the rule set says otherwise."""

TYPICAL_GOOD_SCORE = 90
"""Score of a strong answer: the effect of U is quoted for it."""


@dataclass(frozen=True, slots=True)
class AssignedValue:
    """The result of measuring one item."""

    # How it was found: ``count by weighing``, ``count by hand``, ``box volume``, ``net mass``.
    method: str
    budget: Budget  # value, unit, components, effective degrees of freedom
    # 95 % coverage interval; for a ratio of few samples it is not symmetric (Fieller) ((low, high),
    # unit of the budget).
    interval: tuple[float, float]
    # The value answers are scored against, as printed: whole pieces, whole cm3; for a net mass the
    # net mass itself.
    key: Decimal
    u_limit: float = DEFAULT_U_LIMIT  # largest relative U at which the key is fit (relative)
    # What a person should look at before trusting it.
    warnings: tuple[KeyWarning, ...] = field(default=())
    # What to do when it is not fit; empty when it is.
    advice: tuple[KeyAdvice, ...] = field(default=())
    missing: Lack | None = None  # what it lacks to be fit, however small U is

    @property
    def value(self) -> float:
        """The unrounded estimate, in ``unit``."""
        return self.budget.value

    @property
    def unit(self) -> str:
        """``pieces``, ``cm3`` or ``g``."""
        return self.budget.unit

    @property
    def u(self) -> float:
        """Standard uncertainty, in ``unit``."""
        return self.budget.standard_uncertainty

    @property
    def expanded_u(self) -> float:
        """Expanded uncertainty U at 95 %, in ``unit``."""
        return self.budget.expanded_uncertainty

    @property
    def relative_expanded_u(self) -> float:
        """U divided by the value."""
        return self.budget.relative_expanded_uncertainty

    @property
    def drawn_check(self) -> DrawnCheck:
        """What drawing every row of the budget says of the interval; worked out once."""
        return drawn_check(self.budget, self.interval)

    @property
    def fit(self) -> bool:
        """Whether nothing is missing and U is within the limit: the key may be scored against."""
        return not self.missing and self.relative_expanded_u <= self.u_limit

    @property
    def points_effect(self) -> float:
        """Points by which U can move the score of an answer that scores 90.

        The answer at 1.1 times the key is the worse case: its score moves by
        ``100 * (answer / value) * U / value`` points to first order.
        """
        answer = 2 - TYPICAL_GOOD_SCORE / 100
        return 100 * answer * self.relative_expanded_u


def percent_text(relative: float) -> str:
    """A relative uncertainty as people say it: two digits, none beyond the percent sign's need.

    >>> percent_text(0.01), percent_text(0.00834), percent_text(0.0142), percent_text(0.257)
    ('1.0 %', '0.83 %', '1.4 %', '26 %')

    Parameters
    ----------
    relative : relative
    """
    percent = 100 * relative
    if not math.isfinite(percent):
        return "unbounded"
    return f"{percent:.{max(decimals_for(percent), 0)}f} %"
