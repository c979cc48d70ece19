"""A small linear program in whole numbers, built column by column and row by row.

It knows nothing of Nearmark; `contest` and `coaching` plan with it, and neither may import the
other, so it is below both.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from nearmark.errors import RuleError

Term = tuple[int, float]
"""Number of a column and its factor."""

_GAP = 1e-9
"""Relative: the solver may stop only at the optimum."""

_INFEASIBLE = 2
"""Status of ``scipy.optimize.milp``."""


@dataclass(frozen=True, slots=True)
class Solution:
    """What the solver found for one objective."""

    # One number for each column; ``None``: none was found in the time.
    columns: NDArray[np.float64] | None
    bound: float  # no solution has less (unit of the objective); -inf: not known
    is_infeasible: bool = False  # whether it is certain that nothing satisfies the rows
    message: str = ""  # of the solver

    def sum(self, terms: Iterable[Term]) -> float:
        """A sum of the columns."""
        if self.columns is None:
            raise RuleError("has no numbers", where="integer program")
        return float(sum(factor * self.columns[column] for column, factor in terms))


class IntegerProgram:
    """Columns from 0 to a limit with a value each, and rows that bound their sums."""

    def __init__(self) -> None:
        self._values: list[float] = []
        self._is_whole: list[bool] = []
        self._column_high: list[float] = []
        self._rows: list[list[Term]] = []
        self._low: list[float] = []
        self._high: list[float] = []

    def column(self, value: float = 0.0, *, is_whole: bool = False, high: float = 1.0) -> int:
        """Add a column, and return its number."""
        self._values.append(value)
        self._is_whole.append(is_whole)
        self._column_high.append(high)
        return len(self._values) - 1

    def row(self, terms: Iterable[Term], *, high: float = np.inf, low: float = -np.inf) -> None:
        """Bound a sum of columns."""
        self._rows.append(list(terms))
        self._low.append(low)
        self._high.append(high)

    def best(self) -> NDArray[np.float64]:
        """The columns of greatest value, by HiGHS (``scipy.optimize.milp``).

        Raises
        ------
        RuleError
            If no numbers satisfy the rows.
        """
        if not self._values:
            return np.zeros(0)
        solution = self._least([-value for value in self._values], time_limit_s=None)
        if solution.columns is None:
            raise RuleError("no plan was found", where="integer program", mend=solution.message)
        return solution.columns

    def least(
        self,
        objective: Iterable[Term],
        *,
        time_limit_s: float | None = None,
        fixed: Mapping[int, float] | None = None,
    ) -> Solution:
        """The columns for which a sum is least, or the best found in the time.

        ``fixed`` (column -> number): not to be changed.
        """
        cost = [0.0] * len(self._values)
        for column, factor in objective:
            cost[column] += factor
        return self._least(cost, time_limit_s=time_limit_s, fixed=fixed or {})

    def _least(
        self,
        cost: Sequence[float],
        *,
        time_limit_s: float | None,
        fixed: Mapping[int, float] = MappingProxyType({}),
    ) -> Solution:
        low, high = np.zeros(len(cost)), np.array(self._column_high, float)
        for column, number in fixed.items():
            low[column] = high[column] = number
        entries = [(i, j, v) for i, terms in enumerate(self._rows) for j, v in terms]
        rows, columns, factors = zip(*entries, strict=True) if entries else ((), (), ())
        shape = (len(self._rows), len(self._values))
        matrix = coo_array((np.array(factors, float), (rows, columns)), shape=shape).tocsc()
        limit = {} if time_limit_s is None else {"time_limit": max(time_limit_s, 0.1)}
        solved = milp(
            np.array(cost),
            constraints=LinearConstraint(matrix, self._low, self._high),
            integrality=np.array(self._is_whole, int),
            bounds=Bounds(low, high),
            options={"mip_rel_gap": _GAP, **limit},
        )
        bound = getattr(solved, "mip_dual_bound", None)
        return Solution(
            None if solved.x is None else np.round(solved.x, 9),
            -np.inf if bound is None else float(bound),
            is_infeasible=solved.status == _INFEASIBLE,
            message=str(solved.message),
        )
