"""A mean and a standard deviation that a few wild values cannot pull.

Source: ISO 13528:2015, annex C.3.1, algorithm A.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from nearmark.errors import InputError, TooFewReadings

MOST_ROUNDS = 1000
_WINSOR = 1.5
_BACK = 1.134
"""Makes the standard deviation of winsorised normal values that of the values themselves."""


@dataclass(frozen=True, slots=True)
class RobustMean:
    """Result of algorithm A, in the unit of the values.

    Attributes
    ----------
    mean, standard_deviation : unit of the values
    u : unit of the values
        Standard uncertainty of the mean, ``1.25 s / sqrt(n)``.
    n : values
    rounds : int
        Iterations until nothing moved.
    """

    mean: float
    standard_deviation: float
    u: float
    n: int
    rounds: int


def robust_mean(values: Sequence[float]) -> RobustMean:
    """Robust mean and standard deviation by algorithm A.

    Start at the median and ``1.483`` times the median distance from it; pull values further than
    ``1.5 s`` to that distance; take the mean, and ``1.134`` times the standard deviation; repeat.

    Parameters
    ----------
    values : any unit, shape (n,), n >= 2

    Returns
    -------
    RobustMean
        With ``standard_deviation`` zero when more than half of the values agree exactly.

    Raises
    ------
    TooFewReadings
        If there are fewer than two values.
    InputError
        If a value is not a finite number.

    References
    ----------
    ISO 13528:2015, C.3.1 and 7.7.3 (u); figures checked against a published example and an
    independent library in the tests.

    Examples
    --------
    >>> result = robust_mean([9.9, 10.0, 10.1, 10.2, 99.0])
    >>> round(result.mean, 2), round(result.standard_deviation, 2)
    (10.2, 0.41)
    """
    n = len(values)
    if n < 2:
        raise TooFewReadings("values", got=n, need=2)
    if not all(map(math.isfinite, values)):
        raise InputError("not a finite number", where="values", mend="Leave blanks out")
    mean = median(values)
    deviation = 1.483 * median(abs(x - mean) for x in values)
    rounds = 0
    # Moves shrink geometrically; below a part in 1e12 of the scatter nothing is left to find.
    while rounds < MOST_ROUNDS:
        rounds += 1
        reach = _WINSOR * deviation
        pulled = [min(max(x, mean - reach), mean + reach) for x in values]
        new_mean = math.fsum(pulled) / n
        square = math.fsum((x - new_mean) ** 2 for x in pulled) / (n - 1)
        new_deviation = _BACK * math.sqrt(square)
        moved = max(abs(new_mean - mean), abs(new_deviation - deviation))
        mean, deviation = new_mean, new_deviation
        if moved <= 1e-12 * max(deviation, abs(mean) * 1e-3):
            break
    return RobustMean(mean, deviation, 1.25 * deviation / math.sqrt(n), n, rounds)
