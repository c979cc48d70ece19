"""Where the points go: lost points shared among the parts of an estimate.

In logarithms an estimate's error is the sum of its parts' errors.  The score is not, so the lost
points are shared by Shapley's value: what a part costs, averaged over every order in which the
parts may go wrong.  The shares add up to the lost points exactly.
"""

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from nearmark.coaching.attempt import Attempt, Layers, Sides
from nearmark.coaching.expected_score import mean_score
from nearmark.errors import InputError

MOST_PARTS: Final = 10
"""Two to this power coalitions are looked at."""


@dataclass(frozen=True, slots=True)
class LostPoints:
    """Points lost by the parts of one pupil's attempts, on average.

    Attributes
    ----------
    n : attempts
        With all their parts known.
    total : points
        Lost an attempt.
    by_part : dict of part -> points
        Adds up to ``total``; below zero: it cancelled another part's error (luck).
    """

    n: int
    total: float
    by_part: dict[str, float]

    @property
    def words(self) -> str:
        """One plain sentence."""
        if self.total < 1:
            return "Hardly a point is lost here."
        worst = max(self.by_part, key=lambda part: self.by_part[part])
        share = round(10 * self.by_part[worst] / self.total)
        of_ten = f"{share} of 10 lost points come" if share <= 10 else "All lost points come"
        return f"{of_ten} from {worst}."


def shapley(worth: Callable[[frozenset[int]], float], n: int) -> tuple[float, ...]:
    """Shapley's value of every player, exactly.

    Parameters
    ----------
    worth : callable set of players -> any unit
        Zero for nobody.
    n : players, 0 <= n <= 10
        Numbered from zero.

    Returns
    -------
    tuple of float, shape (n,)
        In the unit of ``worth``; adds up to the worth of all less that of nobody.

    Raises
    ------
    InputError
        If there are more players than can be enumerated.

    References
    ----------
    L. S. Shapley, "A Value for n-Person Games", Contributions to the Theory of Games II (1953)
    (from memory).

    Examples
    --------
    >>> shapley(lambda players: 6.0 * (len(players) == 2), 2)  # only together they are worth it
    (3.0, 3.0)
    """
    if n > MOST_PARTS:
        raise InputError(f"at most {MOST_PARTS} parts", where="parts", value=n)
    known = {
        frozenset(players): worth(frozenset(players))
        for size in range(n + 1)
        for players in itertools.combinations(range(n), size)
    }
    orders = math.factorial(n)
    shares = []
    for player in range(n):
        added = 0.0
        for players, value in known.items():
            if player not in players:
                size = len(players)
                ways = math.factorial(size) * math.factorial(n - size - 1)
                added += ways / orders * (known[players | {player}] - value)
        shares.append(added)
    return tuple(shares)


def split_attempt(logs: Sequence[float]) -> tuple[float, ...]:
    """Points one attempt lost through each of its parts.

    Parameters
    ----------
    logs : natural log of estimate / true of each part, shape (n,)

    Returns
    -------
    tuple of float, points, shape (n,)
        Adds up to the lost points.

    Raises
    ------
    InputError
        If there are too many parts.

    Examples
    --------
    >>> [round(p, 2) for p in split_attempt([math.log(42 / 50), math.log(9 / 9.6)])]
    [15.5, 5.75]
    """

    def lost(players: frozenset[int]) -> float:
        ratio = math.exp(min(sum(logs[i] for i in players), 1.0))  # beyond double all is lost
        return min(100.0, 100 * abs(ratio - 1))

    return shapley(lost, len(logs))


def split_expected(
    bias: Sequence[float], covariance: Sequence[Sequence[float]]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Points to be lost through the bias and the scatter of each part.

    Parameters
    ----------
    bias : natural log of estimate / true of each part, shape (n,), n <= 5
    covariance : squared natural log, shape (n, n)

    Returns
    -------
    by_bias, by_scatter : points, shape (n,) each
        All together add up to the expected lost points.

    Raises
    ------
    InputError
        If there are too many parts or the shapes differ.

    Examples
    --------
    >>> by_bias, by_scatter = split_expected([-0.15, 0.0], [[0.0144, 0.0], [0.0, 0.0036]])
    >>> [round(p, 1) for p in by_bias], [round(p, 1) for p in by_scatter]
    ([8.4, 0.0], [4.7, 1.9])
    """
    spread, n = np.asarray(covariance, float), len(bias)
    if spread.shape != (n, n):
        raise InputError("one row and column a part is needed", where="covariance of the parts")

    def lost(players: frozenset[int]) -> float:
        mu = sum(bias[i] for i in players if i < n)
        rows = [i - n for i in players if i >= n]
        variance = float(spread[np.ix_(rows, rows)].sum()) if rows else 0.0
        return 100 - float(mean_score(mu, math.sqrt(max(0.0, variance))))

    shares = shapley(lost, 2 * n)
    return shares[:n], shares[n:]


def log_parts(attempt: Attempt) -> dict[str, float]:
    """The error of an attempt as a sum of its parts' errors, exactly.

    Parameters
    ----------
    attempt : Attempt

    Returns
    -------
    dict of part -> natural log of estimate / true
        Adds up to ``attempt.log_ratio``; empty when the parts are not known.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Station
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 378, 500,
    ...               parts=Layers(42, 9, 50, 9.6))
    >>> for part, x in log_parts(jar).items():
    ...     print(f"{part} {x:.3f}")
    the layer count -0.174
    the number of layers -0.065
    the method -0.041
    the sum 0.000
    """
    parts = attempt.parts
    if isinstance(parts, Layers) and parts.layer_true and parts.layers_true:
        return {
            "the layer count": math.log(parts.layer / parts.layer_true),
            "the number of layers": math.log(parts.layers / parts.layers_true),
            "the method": math.log(parts.layer_true * parts.layers_true / attempt.true),
            "the sum": math.log(attempt.estimate / (parts.layer * parts.layers)),
        }
    if isinstance(parts, Sides) and parts.true_cm:
        names = ("the length", "the width", "the height")
        sides = {
            name: math.log(own / true)
            for name, own, true in zip(names, parts.cm, parts.true_cm, strict=True)
        }
        product, truth = math.prod(parts.cm), math.prod(parts.true_cm)
        shape = math.log(truth / attempt.true)
        return sides | {"the method": shape, "the sum": math.log(attempt.estimate / product)}
    return {}


def lost_points(attempts: Sequence[Attempt]) -> LostPoints | None:
    """Where the points of one pupil's attempts go, on average.

    Parameters
    ----------
    attempts : sequence of Attempt
        Of one station; those without known parts are passed over.

    Returns
    -------
    LostPoints or None
        ``None`` when no attempt has known parts.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Station
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 378, 480,
    ...               parts=Layers(42, 9, 50, 9.6))
    >>> lost_points([jar]).words
    '7 of 10 lost points come from the layer count.'
    """
    known: list[Mapping[str, float]] = [parts for parts in map(log_parts, attempts) if parts]
    if not known:
        return None
    sums: dict[str, float] = dict.fromkeys(known[0], 0.0)
    for parts in known:
        for name, points in zip(parts, split_attempt(tuple(parts.values())), strict=True):
            sums[name] += points / len(known)
    return LostPoints(len(known), sum(sums.values()), sums)
