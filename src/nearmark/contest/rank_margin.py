"""Which item decides between two pairs, and how sure the margin is: the first-order explanation.

``rank_confidence`` gives the verdict by drawing; this gives the reason.  A key that moves by the
ratio ``d`` moves the score of an answer below it by ``-100 r d`` and of an answer above it by
``+100 r d`` (``r`` answer over key): pairs on the same side of a key hardly move apart.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from nearmark.contest.answer_table import AnswerTable, Slope
from nearmark.contest.placed_answers import placed_answers
from nearmark.contest.results import Results
from nearmark.errors import InputError

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class MarginShare:
    """What one item, or one cause shared by several, adds to the variance of a margin."""

    item: str  # code of the item, or name of the cause
    share: float  # 0 to 1
    # An answer lies within two standard uncertainties of a bend of the score (the key itself, the
    # edge of the free band or the zero): the first-order figure may then be far off.
    near_kink: bool


@dataclass(frozen=True, slots=True)
class Margin:
    """How sure it is that one pair is ahead of another."""

    # Codes of the pairs.
    ahead: str
    behind: str
    points: float  # total of ``ahead`` less total of ``behind`` (points)
    u: float  # standard uncertainty of the margin (points)
    probability: float  # that ``ahead`` is ahead, first order (probability)
    # Largest share first; items that add nothing and have no answer near a bend are left out.
    shares: tuple[MarginShare, ...]

    @property
    def trustworthy(self) -> bool:
        """Whether no deciding answer lies near a bend of the score."""
        return not any(share.near_kink for share in self.shares)


def explain_margin(results: Results, ahead: str, behind: str) -> Margin:
    """Explain the margin between two placed pairs.

    >>> from nearmark.contest.example import two_pairs
    >>> from nearmark.contest.results import results
    >>> day = two_pairs()
    >>> margin = explain_margin(results(day), "P1", "P2")
    >>> round(margin.points, 2), round(margin.u, 2), margin.shares[0].item
    (0.3, 0.8, 'C1')

    Raises
    ------
    InputError : if a code is not that of a placed pair

    References
    ----------
    JCGM 100:2008, clause 5.1.2, equation (10), with the derivative of the score by the logarithm
    of the key.
    """
    codes, items, table = placed_answers(results)
    for where, code in (("pair ahead", ahead), ("pair behind", behind)):
        if code not in codes:
            raise InputError("is not a placed pair", where=where, value=code)
    rows = np.array([codes.index(ahead), codes.index(behind)])
    variances, near = margin_variances(table, rows)
    totals = np.sum([table.item_scores(j, table.estimates[rows, j]) for j in range(len(items))], 0)
    points = float(totals[0] - totals[1])
    total = float(variances.sum())
    u = math.sqrt(total)
    names = (*items, *(cause.name for cause in table.causes))
    shares = [
        MarginShare(item, float(v) / total if total else 0.0, bool(k))
        for item, v, k in zip(names, variances, near, strict=True)
        if v > 0 or k
    ]
    return Margin(
        ahead=ahead,
        behind=behind,
        points=points,
        u=u,
        probability=_probability(points, u),
        shares=tuple(sorted(shares, key=lambda s: (-s.share, s.item))),
    )


def margin_variances(
    table: AnswerTable, rows: NDArray[np.int64]
) -> tuple[Floats, NDArray[np.bool_]]:
    """Variance that each item and each shared cause adds to the margin, and whether a bend is near.

    Points squared, shape (n_items + n_causes,); the bends are false for causes.

    Two answers 5 % below and 5 % above a key known to 1 %: they part by 0.95 + 1.05 points.

    >>> from nearmark.contest.rules import RuleSet
    >>> from nearmark.station import Station
    >>> table = AnswerTable(np.array([[95.0], [105.0]]), np.zeros((2, 1)), np.array([100.0]),
    ...     np.array([1.0]), np.array([math.inf]), np.ones(1), (Station.COUNT,), RuleSet())
    >>> variances, near = margin_variances(table, np.array([0, 1]))
    >>> round(float(variances[0]), 12), bool(near[0])
    (4.0, False)

    Parameters
    ----------
    rows : pair numbers, shape (2,)
    """
    ratio = np.where(np.isnan(table.estimates[rows]), 0.0, table.estimates[rows] / table.keys)
    slope = Slope.of(table.rules)
    error = np.abs(ratio - 1)
    free = (slope.top - slope.cap) / slope.steepness
    zero = slope.top / slope.steepness
    bends = (error > free) & (error < zero)
    # Points an item moves when the key moves by a ratio; a pair's own value moves it the other way.
    moves = table.weights * slope.steepness * ratio * np.sign(ratio - 1) * bends
    key_u = table.key_u / table.keys
    own_u = table.own_u[rows] / table.keys
    own_slopes = -table.weights * slope.steepness * np.sign(ratio - 1) * bends
    common = ((moves[0] - moves[1]) * key_u) ** 2
    variances = common + ((own_slopes * own_u) ** 2).sum(axis=0)
    reach = 2 * np.hypot(key_u * ratio, own_u)
    if table.causes:
        key_moves = table.key_moves / table.keys[:, np.newaxis]
        own_moves = table.own_moves[rows] / table.keys[:, np.newaxis]
        shifts = moves @ key_moves + np.einsum("ij,ijk->ik", own_slopes, own_moves)
        variances = np.append(variances, (shifts[0] - shifts[1]) ** 2)
        all_moves = ratio[:, :, np.newaxis] * key_moves - own_moves
        reach = np.hypot(reach, 2 * np.sqrt((all_moves**2).sum(axis=2)))
    distance = np.minimum(np.abs(error - free), np.abs(error - zero))
    near = ((distance < reach) & (ratio > 0)).any(axis=0)
    return variances, np.append(near, np.zeros(len(table.causes), dtype=bool))


def _probability(points: float, u: float) -> float:
    if u > 0:
        return float(ndtr(points / u))
    return 0.5 if points == 0 else float(points > 0)
