"""A budget checked by drawing: its interval without the law of propagation.

The budget is read as a product: a mass of one piece divides, the three sides of a box
multiply, everything else moves the result in proportion.  Rows that share a cause share one draw,
rows that share one estimate of variance share the draw of its scale.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.distributions import standardised
from nearmark.measurement.monte_carlo import propagate_distributions
from nearmark.measurement.rounding import decimals_for

MAX_DRAWS: Final = 200_000
SEED: Final = 101
"""Fixed, so that the line on a certificate can be printed again."""

MIN_SIZE: Final = 1e-3
"""Smallest drawn factor: the tail of a t distribution of few degrees of freedom passes zero, which
no mass and no length can."""

KEPT: Final = 256

DIVISOR: Final = "mass of one piece"
BEYOND_FIRST_ORDER: Final = "product of the sides, beyond first order"
"""A row that drawing has no need of: it draws the product itself."""

Floats = NDArray[np.float64]


class Stated(StrEnum):
    """How a stated interval is beside the drawn one."""

    AGREES = "agrees"
    WIDER = "wider"
    NARROWER = "narrower"
    BESIDE = "beside"


@dataclass(frozen=True, slots=True)
class DrawnCheck:
    """What drawing says of a budget."""

    # 95 %, as much probability below as above ((low, high), unit of the value).
    interval: tuple[float, float]
    n_draws: int
    # Half a unit in the second digit of u (JCGM 101, 8.1), and what the draws themselves scatter
    # (unit of the value).
    tolerance: float
    # Drawn end less stated end (unit of the value).
    low_off: float
    high_off: float
    unit: str
    places: int  # to which the ends are printed: those of the stated interval (decimals)
    verdict: Stated  # how the stated interval is beside the drawn one

    @property
    def agrees(self) -> bool:
        """Whether both ends are within the tolerance."""
        return max(abs(self.low_off), abs(self.high_off)) <= self.tolerance


@lru_cache(maxsize=KEPT)
def drawn_check(budget: Budget, interval: tuple[float, float]) -> DrawnCheck:
    """Check the interval stated for a budget by drawing every row of it.

    The same for the same budget: the seed is fixed.

    >>> rows = (Component("gross", 131.2, "g", 0.03), Component("tare", 24.1, "g", 0.04, -1.0))
    >>> budget = Budget("net mass", 107.1, "g", rows)
    >>> drawn_check(budget, (107.1 - 1.96 * 0.05, 107.1 + 1.96 * 0.05)).verdict
    <Stated.AGREES: 'agrees'>

    Parameters
    ----------
    budget : of a count, a box or a net mass
    interval : (low, high), unit of the budget; as stated, 95 %

    References
    ----------
    JCGM 101:2008, clauses 5.9 and 7 (drawing), 8.1 (validation: the ends of both intervals differ
    by at most half a unit in the last of two significant digits of u); from memory.
    """
    rows = [row for row in budget.components if row.contribution and row.name != BEYOND_FIRST_ORDER]
    drawn = propagate_distributions(
        lambda draws: draws["value"],
        {"value": lambda rng, n: _draw(rows, budget.value, rng, n)},
        np.random.default_rng(SEED),
        most_draws=MAX_DRAWS,
    )
    tolerance = 0.5 * 10.0 ** -decimals_for(budget.standard_uncertainty) + 2 * max(drawn.end_u)
    off = drawn.interval[0] - interval[0], drawn.interval[1] - interval[1]
    places = decimals_for(budget.expanded_uncertainty)
    verdict = _verdict(off, tolerance)
    return DrawnCheck(drawn.interval, drawn.n_draws, tolerance, *off, budget.unit, places, verdict)


def _draw(rows: list[Component], value: float, rng: np.random.Generator, n: int) -> Floats:
    """Draws of the result: the value times its factors."""
    errors = _errors(rows, rng, n)
    factors: dict[str, Floats] = {}
    for row, error in zip(rows, errors, strict=True):
        factor = _factor(row)
        sign = -1.0 if factor == DIVISOR else 1.0
        moved = factors.setdefault(factor, np.ones(n))
        moved += sign * row.sensitivity * row.u / value * error
    result = np.full(n, float(value))
    for name, factor_draws in factors.items():
        np.maximum(factor_draws, MIN_SIZE, out=factor_draws)
        if name == DIVISOR:
            result /= factor_draws
        else:
            result *= factor_draws
    return result


def _factor(row: Component) -> str:
    """The factor of the result that a row acts on."""
    if row.unit == "g/piece":
        return DIVISOR
    side = row.name.rpartition(" of ")[2]
    return side if side in {"length", "width", "height"} else ""


def _errors(rows: list[Component], rng: np.random.Generator, n: int) -> list[Floats]:
    """Standardised errors; one draw a shared cause, one scale a shared estimate of variance."""
    by_cause: dict[str, Floats] = {}
    scales: dict[str, Floats] = {}
    found = []
    for row in rows:
        if row.cause in by_cause:
            error = by_cause[row.cause]
        elif row.estimate and row.dof < math.inf:
            if row.estimate not in scales:
                scales[row.estimate] = np.sqrt(row.dof / rng.chisquare(row.dof, n))
            error = rng.standard_normal(n) * scales[row.estimate]
        else:
            error = standardised(row.distribution, row.dof)(rng, n)
        if row.cause:
            by_cause[row.cause] = error
        found.append(error)
    return found


def _verdict(off: tuple[float, float], tolerance: float) -> Stated:
    low_off, high_off = off
    if max(abs(low_off), abs(high_off)) <= tolerance:
        return Stated.AGREES
    if low_off >= -tolerance and high_off <= tolerance:
        return Stated.WIDER
    if low_off <= tolerance and high_off >= -tolerance:
        return Stated.NARROWER
    return Stated.BESIDE
