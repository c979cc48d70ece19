"""A mean and a standard deviation that a few wild values cannot pull.

Source: ISO 13528:2015, annex C.3.1, algorithm A.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

from nearmark.errors import InputError, TooFewReadings

MAX_ROUNDS = 1000
_WINSOR: Final = 1.5
_FROM_MEDIAN: Final = 1.483
"""Makes the median distance from the median of normal values their standard deviation."""
_FROM_MEAN: Final = math.sqrt(math.pi / 2)
"""The same for the mean distance."""
_BACK: Final = 1.134
"""The same for the standard deviation of values pulled in."""
_NOTHING: Final = 1e-12
"""A move this small, measured in the standard deviation, is rounding."""


@dataclass(frozen=True, slots=True)
class RobustMean:
    """Result of algorithm A, in the unit of the values."""

    # Unit of the values.
    mean: float
    standard_deviation: float
    u: float  # standard uncertainty of the mean, ``1.25 s / sqrt(n)`` (unit of the values)
    n: int  # values
    rounds: int  # iterations until nothing moved


def robust_mean(values: Sequence[float]) -> RobustMean:
    """Robust mean and standard deviation by algorithm A.

    The deviation is zero when all values agree, or all but a few wild ones.

    Start at the median and ``1.483`` times the median distance from it; pull values further than
    ``1.5 s`` to that distance; take the mean, and ``1.134`` times the standard deviation; repeat.

    When more than half of the values agree exactly, the median distance is zero and the standard
    would call the rest wild unseen.  Then the mean distance starts instead; the rounds decide
    whether the rest is scatter or wild.

    >>> result = robust_mean([9.9, 10.0, 10.1, 10.2, 99.0])
    >>> round(result.mean, 2), round(result.standard_deviation, 2)
    (10.2, 0.41)

    Parameters
    ----------
    values : any unit, shape (n,), n >= 2

    Raises
    ------
    TooFewReadings : if there are fewer than two values
    InputError : if a value is not a finite number

    References
    ----------
    ISO 13528:2005, C.1 (opened), is C.3.1 of ISO 13528:2015; u from 7.7.3 of the latter (from
    memory).
    """
    n = len(values)
    if n < 2:
        raise TooFewReadings("values", got=n, need=2)
    if not all(map(math.isfinite, values)):
        raise InputError(
            "not a finite number", where="values", value=list(values), mend="Leave blanks out"
        )
    middle = median(values)
    # Measured from the median, so that a common offset costs no digits.
    offsets = [x - middle for x in values]
    distances = [abs(x) for x in offsets]
    deviation = _FROM_MEDIAN * median(distances) or _FROM_MEAN * math.fsum(distances) / n
    # Once every value that differs at all is pulled in, the scatter only shrinks: to nothing.
    nothing = 1e-3 * min((d for d in distances if d), default=0.0)
    mean, moved, rounds = 0.0, deviation, 0
    while moved > _NOTHING * deviation and deviation > nothing and rounds < MAX_ROUNDS:
        rounds += 1
        new_mean, new_deviation = _round(offsets, mean, deviation)
        moved = max(abs(new_mean - mean), abs(new_deviation - deviation))
        mean, deviation = new_mean, new_deviation
    if deviation <= nothing:
        mean = deviation = 0.0
    return RobustMean(middle + mean, deviation, 1.25 * deviation / math.sqrt(n), n, rounds)


def _round(values: Sequence[float], mean: float, deviation: float) -> tuple[float, float]:
    reach = _WINSOR * deviation
    pulled = [min(max(x, mean - reach), mean + reach) for x in values]
    new_mean = math.fsum(pulled) / len(pulled)
    square = math.fsum((x - new_mean) ** 2 for x in pulled) / (len(pulled) - 1)
    return new_mean, _BACK * math.sqrt(square)
