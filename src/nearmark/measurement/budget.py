"""The uncertainty budget: one row an influence, the combined result beneath.

Source: JCGM 100:2008 (GUM), clauses 5.1, 5.2, 6 and G.4.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.errors import InputError
from nearmark.measurement.acts import Act
from nearmark.measurement.coverage import LEVEL_95, coverage_factor, welch_satterthwaite
from nearmark.measurement.row_notes import RowNote


@dataclass(frozen=True, slots=True)
class Component:
    """One influence on a result.

    Raises InputError if ``u`` is negative, or ``u`` or ``sensitivity`` is not a finite number.
    """

    name: str  # the influence in plain words, for example ``repeatability of the samples``
    value: float  # best estimate of the influence, in ``unit``
    unit: str  # unit of ``value`` and ``u``
    u: float  # standard uncertainty (unit)
    # Partial derivative of the result by this influence (signed) (unit of the result per ``unit``).
    sensitivity: float = 1.0
    distribution: str = "normal"  # ``t``, ``rectangular``, ``normal``, ...
    # Degrees of freedom; ``math.inf`` for a Type B evaluation taken as exact (dimensionless).
    dof: float = math.inf
    # Components that carry the same non-empty word share one estimate of variance: their
    # uncertainties are wrong together, so their degrees of freedom must not be added.
    estimate: str = ""
    notes: tuple[RowNote, ...] = ()  # why the row is what it is (for instance that it cancels)
    # Names what the row shares with other rows, of this budget and of others, for example ``gain of
    # bench scale``: one error, the same standardised variable in all of them. Empty: the row's own,
    # drawn again when the thing is measured again.
    cause: str = ""
    act: Act | None = None  # what a person can do about it; ``None`` when nothing is known to help

    def __post_init__(self) -> None:
        if not 0 <= self.u < math.inf:  # also refuses NaN, which compares false
            raise InputError(
                "the standard uncertainty must be a finite number, zero or more",
                where=f"component {self.name}",
                value=self.u,
                mend="Leave the row out when its size is not known, and say so",
            )
        if not math.isfinite(self.sensitivity):
            raise InputError(
                "the sensitivity coefficient must be a finite number",
                where=f"component {self.name}",
                value=self.sensitivity,
            )

    @property
    def contribution(self) -> float:
        """Contribution ``|c| u`` to the standard uncertainty, in the unit of the result."""
        return abs(self.sensitivity) * self.u


@dataclass(frozen=True, slots=True)
class Budget:
    """A result with everything its uncertainty is made of.

    >>> rows = (Component("gross", 131.2, "g", 0.029), Component("tare", 24.1, "g", 0.029, -1))
    >>> budget = Budget("net mass", 107.1, "g", rows)
    >>> round(budget.standard_uncertainty, 4), budget.dof
    (0.041, inf)
    """

    measurand: str  # what the value is of, for example ``number of pieces in container B2``
    value: float  # the estimate of the measurand (unit)
    unit: str
    components: tuple[Component, ...]
    level: float = LEVEL_95  # coverage probability of the expanded uncertainty (dimensionless)

    @property
    def variance(self) -> float:
        """Combined variance, law of propagation (GUM equation 16); causes add with their signs."""
        return self.standard_uncertainty * self.standard_uncertainty

    @property
    def causes(self) -> tuple[Component, ...]:
        """One row a shared cause that says something, its contributions added with their signs.

        The name of such a row is the cause; its sensitivity is what one standard uncertainty of
        the cause moves the result by, signed.
        """
        return tuple(row for row in joined_causes(self.components) if row.sensitivity)

    @property
    def standard_uncertainty(self) -> float:
        """Combined standard uncertainty, in the unit of the result."""
        own = [row.contribution for row in self.components if not row.cause]
        return math.hypot(*own, *(row.sensitivity for row in joined_causes(self.components)))

    @property
    def dof(self) -> float:
        """Effective degrees of freedom (Welch-Satterthwaite, GUM equation G.2b).

        Components that share one cause or one estimate of variance are joined first.
        """
        return welch_satterthwaite(grouped_contributions(self.components))

    @property
    def coverage_factor(self) -> float:
        """Student t factor for ``level`` at the effective degrees of freedom."""
        return coverage_factor(self.dof, self.level)

    @property
    def expanded_uncertainty(self) -> float:
        """U = k u, in the unit of the result."""
        return self.coverage_factor * self.standard_uncertainty

    @property
    def relative_expanded_uncertainty(self) -> float:
        """U divided by the value; ``math.inf`` for a value of zero."""
        return self.expanded_uncertainty / abs(self.value) if self.value else math.inf

    def share(self, component: Component) -> float:
        """Share of the sum of squared contributions that one of the components has, 0 to 1."""
        total = math.hypot(*(row.contribution for row in self.components))
        return (component.contribution / total) ** 2 if total else 0.0


def joined_causes(components: Sequence[Component]) -> list[Component]:
    """One row for each shared cause: what all its rows together do to the result.

    ``u`` of each row is 1 and its sensitivity the signed sum, in the unit of the result.

    >>> joined_causes([
    ...     Component("full", 5.0, "g", 0.1, cause="gain of scale"),
    ...     Component("empty", 1.0, "g", 0.1, -0.2, cause="gain of scale")])[0].sensitivity
    0.08

    References
    ----------
    JCGM 100:2008, clause 5.2.2, NOTE 1: fully correlated inputs add with their signs.
    """
    shared: dict[str, list[Component]] = {}
    for component in components:
        if component.cause:
            shared.setdefault(component.cause, []).append(component)
    return [
        Component(
            cause,
            0.0,
            "",
            1.0,
            math.fsum(row.sensitivity * row.u for row in rows),
            rows[0].distribution,
            min(row.dof for row in rows),
            rows[0].estimate,
            cause=cause,
            act=rows[0].act,
        )
        for cause, rows in shared.items()
    ]


def grouped_contributions(components: Sequence[Component]) -> list[tuple[float, float]]:
    """Contributions with their degrees of freedom, those of one cause or one estimate joined.

    Ready for ``welch_satterthwaite``; contributions are in the unit of the result.

    >>> grouped_contributions([
    ...     Component("scatter", 0, "g", 3.0, dof=2, estimate="s"),
    ...     Component("spread", 0, "g", 4.0, dof=2, estimate="s")])
    [(5.0, 2)]
    """
    rows = [*(c for c in components if not c.cause), *joined_causes(components)]
    alone = [(c.contribution, c.dof) for c in rows if not c.estimate]
    shared: dict[str, list[Component]] = {}
    for component in rows:
        if component.estimate:
            shared.setdefault(component.estimate, []).append(component)
    joined = [
        (math.hypot(*(c.contribution for c in group)), min(c.dof for c in group))
        for group in shared.values()
    ]
    return alone + joined
