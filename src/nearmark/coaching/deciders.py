"""Who of a pair decides: one, the other, the middle of both, or two parts to one part.

Children take the plain middle; the laws here are of logarithms (the geometric middle), so that they
stay in the family: at two answers a third apart the two middles differ by 1 %.
"""

from enum import StrEnum
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from nearmark.coaching.limits import checked

Floats = NDArray[np.float64]

USUAL_CORRELATION: Final = 0.3
"""Of two pupils' errors on the same thing (a proposal, no source)."""

WORTH: Final = 8.0
"""Joint attempts that the usual correlation is worth."""

_STRONGEST: Final = 0.9


class Mode(StrEnum):
    """Whose answer is written down."""

    FIRST = "first"
    SECOND = "second"
    AVERAGE = "average"
    TWO_FIRST = "two parts first"
    TWO_SECOND = "two parts second"


SHARE_OF_FIRST: Final = {
    Mode.FIRST: 1.0,
    Mode.SECOND: 0.0,
    Mode.AVERAGE: 1 / 2,
    Mode.TWO_FIRST: 2 / 3,
    Mode.TWO_SECOND: 1 / 3,
}
"""In what is written down: nothing finer, a child has to do it on a plain calculator."""


class Pupils(NamedTuple):
    """Bias and scatter of both of a pair; numbers, or arrays of one shape."""

    # Natural log, (first, second).
    bias: tuple[ArrayLike, ArrayLike]
    scatter: tuple[ArrayLike, ArrayLike]


def pair_answer(mode: Mode, pupils: Pupils, correlation: float) -> tuple[Floats, Floats]:
    """Bias and scatter (natural log) of what the pair writes down.

    >>> bias, scatter = pair_answer(Mode.AVERAGE, Pupils((-0.2, -0.05), (0.18, 0.22)), 0.3)
    >>> round(float(bias), 3), round(float(scatter), 3)
    (-0.125, 0.162)

    Parameters
    ----------
    correlation : dimensionless, -1 to 1; of their errors on the same thing

    Raises
    ------
    InputError : if the correlation makes no sense
    """
    checked(correlation, "correlation", -1, 1)
    b1, b2 = (np.asarray(bias, float) for bias in pupils.bias)
    s1, s2 = (np.asarray(scatter, float) for scatter in pupils.scatter)
    w = SHARE_OF_FIRST[mode]
    variance = (w * s1) ** 2 + ((1 - w) * s2) ** 2 + 2 * w * (1 - w) * correlation * s1 * s2
    return w * b1 + (1 - w) * b2, np.sqrt(np.maximum(variance, 0.0))


def shared_correlation(first: ArrayLike, second: ArrayLike) -> float:
    """Correlation of a pair's errors, -0.9 to 0.9, shrunk towards what is usual.

    >>> shared_correlation([], []), round(shared_correlation([1.0, -2.0], [1.0, -1.0]), 2)
    (0.3, 0.54)

    Parameters
    ----------
    first, second : dimensionless, shape (n,)
        Standardised errors, (x - bias) / scatter, of things both estimated.
    """
    z1, z2 = np.asarray(first, float), np.asarray(second, float)
    found = (USUAL_CORRELATION * WORTH + float(z1 @ z2)) / (WORTH + len(z1))
    return min(max(found, -_STRONGEST), _STRONGEST)
