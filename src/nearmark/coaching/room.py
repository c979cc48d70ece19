"""A room of people who estimate the same thing: its middle, its spread, its points.

People are seats with a number; no name is known here.
"""

import math
import statistics
from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from nearmark.coaching.acts import guess_points
from nearmark.errors import InputError


@dataclass(frozen=True, slots=True)
class Spread:
    """Where the guesses of a room lie."""

    n: int  # guesses
    low: float  # the lowest (unit of the guesses, as those below)
    quarter: float  # half of the guesses lie from here to ``three_quarters``
    middle: float  # of the room; see ``middle_of``
    three_quarters: float
    high: float  # the highest


@dataclass(frozen=True, slots=True)
class MiddleResult:
    """How good the middle of a room is."""

    ratio: float  # the middle divided by the true value (dimensionless)
    points: float  # of the middle, as if one person had guessed it (points, 0 to 100)
    n: int  # guesses
    n_beaten: int  # farther from the true value than the middle (guesses)
    mean_points: float  # of one guess, on average (points)


def middle_of(guesses: Collection[float]) -> float:
    """The middle of a room: the middlemost guess; of an even number, the two middlemost together.

    Galton took the middlemost guess, not the mean, for what a crowd says, because one wild guess
    must not move it ("Vox populi", Nature 75, 1907, 450-451; from memory).  A slip by a factor of
    ten does not.  Errors of guesses are ratios, so two middle guesses meet in their geometric mean.
    The geometric mean of all would scatter a fifth less if no guess were wild (for errors with a
    normal logarithm); one slip of ten among twelve would move it by a fifth.

    >>> middle_of([380, 4200, 400]), round(middle_of([200, 400, 800, 9000]))
    (400.0, 566)

    Parameters
    ----------
    guesses : unit of the guesses, > 0; one or more

    Raises
    ------
    InputError : if there is none, or one is not a finite number above zero
    """
    lower, upper = statistics.median_low(_checked(guesses)), statistics.median_high(guesses)
    return float(lower) if lower == upper else math.sqrt(lower * upper)


def spread_of(guesses: Collection[float]) -> Spread:
    """Where the guesses of a room lie; quarters are taken on the scale of ratios.

    >>> found = spread_of([200, 400, 400, 900])
    >>> found.low, found.middle, found.high
    (200.0, 400.0, 900.0)

    Parameters
    ----------
    guesses : unit of the guesses, > 0; one or more

    Raises
    ------
    InputError : if there is none, or one is not a finite number above zero
    """
    quarter, three = np.exp(np.quantile(np.log(_checked(guesses)), (0.25, 0.75)))
    return Spread(
        len(guesses),
        float(min(guesses)),
        float(quarter),
        middle_of(guesses),
        float(three),
        float(max(guesses)),
    )


def _checked(guesses: Collection[float]) -> list[float]:
    for guess in guesses:
        if not (math.isfinite(guess) and guess > 0):
            raise InputError(
                "must be a number above zero", where="guess", value=guess, mend="Leave it out"
            )
    if not guesses:
        raise InputError("there is none", where="guesses", mend="Wait for the first guess")
    return list(guesses)


def middle_result(guesses: Collection[float], true: float) -> MiddleResult:
    """How good the middle of a room is, beside those who made it.

    >>> found = middle_result([300, 390, 440, 700, 800], 420)
    >>> round(found.ratio, 3), found.n_beaten
    (1.048, 4)

    Parameters
    ----------
    guesses : unit of the true value, > 0; one or more
    true : > 0

    Raises
    ------
    InputError : if there is no guess, or one is not a finite number above zero
    """
    middle = middle_of(guesses)
    off = abs(middle - true)
    n_beaten = sum(abs(guess - true) > off for guess in guesses)
    points = [guess_points(guess, true) for guess in guesses]
    return MiddleResult(
        middle / true,
        guess_points(middle, true),
        len(points),
        n_beaten,
        sum(points) / len(points),
    )
