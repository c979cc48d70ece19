"""The shares of a budget as a few segments that can be drawn and named."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.measurement.budget import Budget

MIN_SIZE = 0.03
"""Smaller shares are joined: they could be neither seen nor named beside the others."""

MAX_NAMED = 4


@dataclass(frozen=True, slots=True)
class Segment:
    """One part of the bar."""

    name: str
    share: float  # share of the sum of squared contributions (dimensionless, 0 to 1)
    percent: int  # the share as a whole number; the numbers of one bar add up to 100 (percent)
    joined: bool = False  # whether several components are joined in it


def percent_text(part: Segment) -> str:
    """A share in whole percent; what rounds to nothing is still something.

    >>> percent_text(Segment("gross", 0.002, 0)), percent_text(Segment("samples", 0.998, 100))
    ('< 1 %', '100 %')
    """
    return f"{part.percent} %" if part.percent else "< 1 %"


def segments(budget: Budget) -> tuple[Segment, ...]:
    """The parts of the bar, largest first, small ones joined last as ``other``.

    Returns: empty when no component contributes.
    """
    shares = sorted(
        ((budget.share(c), c.name) for c in budget.components), key=lambda pair: -pair[0]
    )
    contributing = [(share, name) for share, name in shares if share > 0]
    n_named = sum(share >= MIN_SIZE for share, _ in contributing[:MAX_NAMED])
    if len(contributing) - n_named == 1:
        n_named += 1  # one alone is named: "other" would only hide what it is
    rest = contributing[n_named:]
    parts = [(share, name, False) for share, name in contributing[:n_named]]
    if rest:
        joined = sum(share for share, _ in rest)
        parts.append((joined, f"other, {len(rest)} together", True))
    percents = apportioned([share for share, _, _ in parts], 100)
    return tuple(
        Segment(name, share, percent, joined)
        for (share, name, joined), percent in zip(parts, percents, strict=True)
    )


def apportioned(shares: Sequence[float], whole: int) -> tuple[int, ...]:
    """Whole numbers in proportion to shares that add up to the whole (largest remainders).

    ``shares``: dimensionless, >= 0. ``whole``: units to give out, >= 0.

    >>> apportioned([1, 1, 1], 100)
    (34, 33, 33)
    """
    total = sum(shares)
    if total <= 0:
        return (0,) * len(shares)
    exact = [share / total * whole for share in shares]
    given = [int(part) for part in exact]
    by_remainder = sorted(range(len(shares)), key=lambda i: given[i] - exact[i])
    for i in by_remainder[: whole - sum(given)]:
        given[i] += 1
    return tuple(given)
