"""A small linear program in whole numbers, built column by column and row by row."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from nearmark.errors import RuleError

Term = tuple[int, float]
"""Number of a column and its factor."""

_GAP = 1e-9
"""Relative: the solver may stop only at the optimum."""


class IntegerProgram:
    """Columns from 0 to 1 with a value each, and rows that bound their sums."""

    def __init__(self) -> None:
        self._values: list[float] = []
        self._is_whole: list[bool] = []
        self._rows: list[list[Term]] = []
        self._low: list[float] = []
        self._high: list[float] = []

    def column(self, value: float, *, is_whole: bool = False) -> int:
        """Add a column, and return its number."""
        self._values.append(value)
        self._is_whole.append(is_whole)
        return len(self._values) - 1

    def row(self, terms: Iterable[Term], *, high: float, low: float = -np.inf) -> None:
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
        entries = [(i, j, v) for i, terms in enumerate(self._rows) for j, v in terms]
        rows, columns, factors = zip(*entries, strict=True)
        shape = (len(self._rows), len(self._values))
        matrix = coo_array((factors, (rows, columns)), shape=shape).tocsc()
        solved = milp(
            -np.array(self._values),
            constraints=LinearConstraint(matrix, self._low, self._high),
            integrality=np.array(self._is_whole, int),
            bounds=Bounds(0, 1),
            options={"mip_rel_gap": _GAP},
        )
        if solved.x is None:
            raise RuleError("no plan was found", where="integer program", mend=str(solved.message))
        found: NDArray[np.float64] = np.round(solved.x, 9)
        return found
