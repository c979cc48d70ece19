"""Propagation of distributions by drawing, until two digits of the result stand still.

Source: JCGM 101:2008, clauses 5 to 7; adaptive procedure of clause 7.9.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nearmark.errors import InputError
from nearmark.measurement.coverage import LEVEL_95
from nearmark.measurement.rounding import decimals_for

Floats = NDArray[np.float64]
Draw = Callable[[np.random.Generator, int], Floats]
"""Draws of one input: (generator, how many) -> shape (how many,)."""

BLOCK = 10_000
MOST_DRAWS = 10_000_000


def normal(mean: float, u: float) -> Draw:
    """Draws of a normal distribution (JCGM 101, 6.4.7).

    Parameters
    ----------
    mean, u : any unit

    Examples
    --------
    >>> normal(5.0, 0.0)(np.random.default_rng(1), 2).tolist()
    [5.0, 5.0]
    """
    return lambda rng, n: rng.normal(mean, u, n)


def student_t(mean: float, u: float, dof: float) -> Draw:
    """Draws of a scaled and shifted t distribution (JCGM 101, 6.4.9).

    Parameters
    ----------
    mean, u : any unit
        ``u`` is the scale: the experimental standard deviation of the mean.
    dof : dimensionless, > 0

    Examples
    --------
    >>> student_t(5.0, 0.0, 3)(np.random.default_rng(1), 2).tolist()
    [5.0, 5.0]
    """
    return lambda rng, n: mean + u * rng.standard_t(dof, n)


def rectangular(low: float, high: float) -> Draw:
    """Draws of a rectangular distribution (JCGM 101, 6.4.2).

    Parameters
    ----------
    low, high : any unit, low <= high

    Examples
    --------
    >>> rectangular(2.0, 2.0)(np.random.default_rng(1), 1).tolist()
    [2.0]
    """
    return lambda rng, n: rng.uniform(low, high, n)


def triangular(low: float, high: float) -> Draw:
    """Draws of a symmetric triangular distribution (JCGM 101, 6.4.5).

    Parameters
    ----------
    low, high : any unit, low < high

    Examples
    --------
    >>> bool(1 <= triangular(1.0, 3.0)(np.random.default_rng(1), 1)[0] <= 3)
    True
    """
    return lambda rng, n: rng.triangular(low, (low + high) / 2, high, n)


def arcsine(low: float, high: float) -> Draw:
    """Draws of a U-shaped distribution (JCGM 101, 6.4.6).

    Parameters
    ----------
    low, high : any unit, low <= high

    Examples
    --------
    >>> bool(1 <= arcsine(1.0, 3.0)(np.random.default_rng(1), 1)[0] <= 3)
    True
    """
    middle, half = (low + high) / 2, (high - low) / 2
    return lambda rng, n: middle + half * np.sin(rng.uniform(0, 2 * math.pi, n))


@dataclass(frozen=True, slots=True)
class Drawn:
    """What the draws say of one result.

    Attributes
    ----------
    value, u : unit of the result
        Mean and standard deviation of the draws.
    interval : (low, high), unit of the result
        Probabilistically symmetric coverage interval.
    shortest : (low, high), unit of the result
        Shortest coverage interval.
    n_draws : draws
    settled : bool
        Whether the wanted digits stood still before the draws ran out.
    """

    value: float
    u: float
    interval: tuple[float, float]
    shortest: tuple[float, float]
    n_draws: int
    settled: bool


def propagate_distributions(
    model: Callable[[Mapping[str, Floats]], Floats],
    inputs: Mapping[str, Draw],
    rng: np.random.Generator,
    *,
    digits: int = 2,
    level: float = LEVEL_95,
    most_draws: int = MOST_DRAWS,
) -> Drawn:
    """Draw the inputs, compute the result, repeat in blocks until its digits stand still.

    Settled means: twice the standard deviation of the block averages of value, u and both ends of
    the interval is within half a unit of the last wanted digit of u.

    Parameters
    ----------
    model : function of a mapping name -> draws, shape (n,), giving shape (n,)
    inputs : mapping name -> Draw
    rng : Generator
    digits : dimensionless, >= 1
        Significant digits of u that must stand still.
    level : dimensionless, in (0, 1)
    most_draws : draws
        Then stop and say so.

    Returns
    -------
    Drawn

    Raises
    ------
    InputError
        If the model gives something that is not a finite number.

    References
    ----------
    JCGM 101:2008, clause 7.9.4; shortest interval clause 7.7.

    Examples
    --------
    >>> drawn = propagate_distributions(
    ...     lambda x: x["gross"] - x["tare"],
    ...     {"gross": normal(131.2, 0.03), "tare": normal(24.1, 0.04)},
    ...     np.random.default_rng(7))
    >>> round(drawn.u, 3), drawn.settled
    (0.05, True)
    """
    blocks: list[Floats] = []
    summaries: list[tuple[float, float, float, float]] = []
    settled = False
    while not settled and len(blocks) * BLOCK < most_draws:
        block = _block(model, inputs, rng)
        blocks.append(block)
        summaries.append((float(block.mean()), _sd(block), *_symmetric(block, level)))
        settled = _stands_still(summaries, _sd(np.concatenate(blocks[:10])), digits)
    draws = np.sort(np.concatenate(blocks))
    return Drawn(
        float(draws.mean()),
        _sd(draws),
        _symmetric(draws, level),
        _shortest(draws, level),
        draws.size,
        settled,
    )


def _block(
    model: Callable[[Mapping[str, Floats]], Floats],
    inputs: Mapping[str, Draw],
    rng: np.random.Generator,
) -> Floats:
    block = np.asarray(model({name: draw(rng, BLOCK) for name, draw in inputs.items()}))
    if not np.isfinite(block).all():
        raise InputError(
            "gives no finite number for some draws", where="model", mend="Check the inputs"
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


def _stands_still(
    summaries: list[tuple[float, float, float, float]], u: float, digits: int
) -> bool:
    count = len(summaries)
    if count < 2:
        return False
    if u == 0:
        return True
    tolerance = 0.5 * 10.0 ** -decimals_for(u, digits)
    spread = np.std(np.array(summaries), axis=0, ddof=1) / math.sqrt(count)
    return bool((2 * spread <= tolerance).all())
