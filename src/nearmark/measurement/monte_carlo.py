"""Propagation of distributions by drawing, until two digits of the result stand still.

Source: JCGM 101:2008, clauses 5 to 7; adaptive procedure of clause 7.9.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.errors import InputError
from nearmark.measurement.coverage import LEVEL_95
from nearmark.measurement.distributions import Draw
from nearmark.measurement.rounding import decimals_for

Floats = NDArray[np.float64]
Inputs = Mapping[str, Draw]
Model = Callable[[Mapping[str, Floats]], Floats]

MAX_DRAWS = 10_000_000
_MIN_IN_A_BLOCK: Final = 10_000
_MIN_BLOCKS: Final = 10
"""Before the scatter of block averages is believed; of two blocks, which the supplement would
allow, it is by chance often far too small."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What the draws say of one result."""

    # Mean and standard deviation of the draws (unit of the result).
    value: float
    u: float
    # Probabilistically symmetric coverage interval ((low, high), unit of the result).
    interval: tuple[float, float]
    shortest: tuple[float, float]  # shortest coverage interval ((low, high), unit of the result)
    # What the ends of the symmetric interval scatter because the draws are not endless; infinite
    # while there is one block only ((low, high), unit of the result).
    end_u: tuple[float, float]
    n_draws: int
    settled: bool  # whether the wanted digits stood still before the draws ran out


def propagate_distributions(
    model: Model,
    inputs: Inputs,
    rng: np.random.Generator,
    *,
    digits: int = 2,
    level: float = LEVEL_95,
    most_draws: int = MAX_DRAWS,
) -> Drawn:
    """Draw the inputs, compute the result, repeat in blocks until its digits stand still.

    Settled means: twice the standard deviation of the block averages of value, u and both ends of
    the symmetric interval is within half a unit of the last wanted digit of u.  It is first asked
    after ten blocks.

    >>> drawn = propagate_distributions(
    ...     lambda x: x["gross"] - x["tare"],
    ...     {"gross": lambda rng, n: rng.normal(131.2, 0.03, n),
    ...      "tare": lambda rng, n: rng.normal(24.1, 0.04, n)},
    ...     np.random.default_rng(7))
    >>> round(drawn.u, 3), drawn.settled
    (0.05, True)

    Parameters
    ----------
    model : function of a mapping name -> draws, shape (n,), giving shape (n,)
    inputs : mapping name -> Draw
    digits : dimensionless, >= 1; significant digits of u that must stand still
    level : dimensionless, in (0, 1)
    most_draws : draws; then stop and say so; one block is drawn in any case

    Raises
    ------
    InputError
        If ``level`` or ``digits`` is out of its range, or the model does not give one finite
        number a draw.

    References
    ----------
    JCGM 101:2008, clause 7.9.4, with blocks of at least 10^4 and 100 / (1 - level) draws; shortest
    interval clause 7.7.
    """
    size = _block_size(level, digits)
    blocks: list[Floats] = []
    summaries: list[tuple[float, float, float, float]] = []
    settled = False
    while not blocks or (not settled and (len(blocks) + 1) * size <= most_draws):
        block = _block(model, inputs, rng, size)
        blocks.append(block)
        summaries.append((float(block.mean()), _sd(block), *_symmetric(block, level)))
        settled = len(blocks) >= _MIN_BLOCKS and _stands_still(summaries, digits)
    draws = np.sort(np.concatenate(blocks))
    return Drawn(
        float(draws.mean()),
        _sd(draws),
        _symmetric(draws, level),
        _shortest(draws, level),
        _ends_scatter(summaries),
        draws.size,
        settled,
    )


def _block_size(level: float, digits: int) -> int:
    if not 0 < level < 1:
        raise InputError(
            "must lie between 0 and 1",
            where="coverage probability",
            value=level,
            mend="Give 95 % as 0.95",
        )
    if digits < 1:
        raise InputError("must be 1 or more", where="digits", value=digits, mend="2 is usual")
    return max(_MIN_IN_A_BLOCK, math.ceil(100 / (1 - level)))


def _block(model: Model, inputs: Inputs, rng: np.random.Generator, size: int) -> Floats:
    drawn = {name: draw(rng, size) for name, draw in inputs.items()}
    block = np.asarray(model(drawn), dtype=np.float64)
    if block.shape != (size,) or not np.isfinite(block).all():
        raise InputError(
            "does not give one finite number for every draw",
            where="model",
            mend="Check that it handles whole arrays, and its inputs",
        )
    return np.sort(block)


def _sd(draws: Floats) -> float:
    return float(draws.std(ddof=1))


def _symmetric(ordered: Floats, level: float) -> tuple[float, float]:
    low, high = np.quantile(ordered, [(1 - level) / 2, (1 + level) / 2])
    return float(low), float(high)


def _shortest(ordered: Floats, level: float) -> tuple[float, float]:
    inside = round(level * ordered.size)
    widths = ordered[inside:] - ordered[: ordered.size - inside]
    first = int(np.argmin(widths))
    return float(ordered[first]), float(ordered[first + inside])


def _stands_still(summaries: Sequence[tuple[float, float, float, float]], digits: int) -> bool:
    table = np.array(summaries)
    u = math.sqrt(float((table[:, 1] ** 2).mean()))
    if u == 0:
        return True
    tolerance = 0.5 * 10.0 ** -decimals_for(u, digits)
    return bool((2 * _spread(table) <= tolerance).all())


def _spread(table: Floats) -> Floats:
    """Standard uncertainty of the averages over the blocks."""
    spread: Floats = table.std(axis=0, ddof=1) / math.sqrt(len(table))
    return spread


def _ends_scatter(summaries: Sequence[tuple[float, float, float, float]]) -> tuple[float, float]:
    if len(summaries) < 2:
        return math.inf, math.inf
    low, high = _spread(np.array(summaries))[2:]
    return float(low), float(high)
