"""How far a field of answers lies from a key, and what would explain it: arrays only."""

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from nearmark.measurement.robust import robust_mean

Floats = NDArray[np.float64]

MIN_ANSWERS: Final = 8
"""Below this the check says nothing."""

GRID: Final = 31
"""Levels and slopes that are tried."""

PRIOR_RIGHT: Final = 0.98
"""Probability that a key is as it should be, before the answers are seen (invented default)."""

OTHER_ERROR_SD: Final = 0.5
"""Spread of the log ratio of a wrong key whose slip is not on the list (invented default)."""


@dataclass(frozen=True, slots=True)
class FieldBias:
    """What fields of children do at one station: any bias between two, at any slope between two."""

    # Lowest and highest usual middle of ``ln(answer / key)`` at an item of the size ``size`` (log
    # ratio).
    low: float
    high: float
    # How the middle changes with the size of the item (log ratio per unit of ln(size)).
    steepest: float = 0.0
    flattest: float = 0.0
    item_sd: float = 0.08  # spread from item to item that neither explains (log ratio, > 0)
    size: float = 1.0  # pieces or cm3, > 0


@dataclass(frozen=True, slots=True)
class Offset:
    """How far the answers to one item lie from where they were expected."""

    n: int  # answers
    mean: float  # robust mean (log ratio)
    u: float  # standard uncertainty of ``mean`` from the spread of the answers (log ratio)
    expected: float  # from usual fields and from the other items (log ratio)
    sd: float  # standard uncertainty of ``mean - expected`` if the key is right (log ratio)
    # Logarithm of the density of ``mean`` given the other items if the key is right, but for a
    # constant that all items share; exact also far out, where the normal law is not
    # (dimensionless).
    log_density: float = 0.0

    @property
    def z(self) -> float:
        """Distance from the expected, in standard uncertainties."""
        return (self.mean - self.expected) / self.sd


def field_offsets(
    log_ratios: Floats,
    sizes: Sequence[float],
    key_u: Sequence[float],
    usual: FieldBias,
    doubted: Collection[int] = (),
) -> list[Offset | None]:
    """Offset of each item from what usual fields and the other items of the same pairs predict.

    ``None`` with fewer than eight answers.

    A field that is low everywhere, or lower the more pieces there are, is low at the other items
    too: their middles tell the level and the slope of this field, and these predict the item.

    Three jars that a field reads 40 % low predict each other; a jar read lower does not fit.

    >>> usual = FieldBias(-0.6, 0.1)
    >>> same = np.full((8, 3), math.log(0.6))
    >>> [round(o.z, 1) for o in field_offsets(same, [400] * 3, [0.0] * 3, usual)]
    [-0.0, -0.0, -0.0]
    >>> same[:, 1] = math.log(0.3)
    >>> [round(o.z, 1) for o in field_offsets(same, [400] * 3, [0.0] * 3, usual)]
    [1.1, -7.3, 1.1]

    Parameters
    ----------
    log_ratios : log ratio, shape (n_pairs, n_items)
        ``ln(answer / key)``; ``nan`` where there is no answer.
    sizes : pieces or cm3, shape (n_items,); the keys
    key_u : relative, shape (n_items,); standard uncertainties of the keys
    doubted : item numbers; items that predict no other

    Notes
    -----
    A middle is normal about ``level + slope x`` (``x = ln(size / usual size)``) with the variance
    ``item_sd^2`` and those of the key and of the middle itself.  Level and slope are uniform
    between the usual limits before the other items are seen (on a grid); Bayes' rule weighs them
    by the other items.

    References
    ----------
    ISO 13528:2005, annex C.1 (opened), algorithm A, for the middle.
    """
    middles = [_middle(column) for column in log_ratios.T]
    x = np.log(np.array(sizes, dtype=float) / usual.size)
    level, slope = np.meshgrid(
        np.linspace(usual.low, usual.high, GRID), np.linspace(usual.steepest, usual.flattest, GRID)
    )
    bias = level.ravel() + np.outer(x, slope.ravel())
    own = np.array([0.0 if m is None else m.u for m in middles])
    sd = np.sqrt(usual.item_sd**2 + np.array(key_u) ** 2 + own**2)
    off = np.array([0.0 if m is None else m.mean for m in middles])
    log_right = -0.5 * ((off[:, np.newaxis] - bias) / sd[:, np.newaxis]) ** 2
    known = [j for j, middle in enumerate(middles) if middle is not None and j not in doubted]
    offsets: list[Offset | None] = []
    for j, middle in enumerate(middles):
        if middle is None:
            offsets.append(None)
            continue
        of_others = log_right[[k for k in known if k != j]].sum(axis=0)
        weight = np.exp(of_others - np.logaddexp.reduce(of_others))
        expected = float(np.average(bias[j], weights=weight))
        variance = float(np.average((bias[j] - expected) ** 2, weights=weight))
        density = np.logaddexp.reduce(log_right[j] + of_others) - np.logaddexp.reduce(of_others)
        offsets.append(
            Offset(
                n=middle.n,
                mean=middle.mean,
                u=middle.u,
                expected=expected,
                sd=math.hypot(sd[j], math.sqrt(variance)),
                log_density=float(density - np.log(sd[j])),
            )
        )
    return offsets


class _Middle(NamedTuple):
    """The middle of the answers to one item."""

    n: int
    mean: float
    u: float


def _middle(values: Floats) -> _Middle | None:
    answered = values[~np.isnan(values)]
    if answered.size < MIN_ANSWERS:
        return None
    robust = robust_mean(answered.tolist())
    return _Middle(answered.size, robust.mean, robust.u)


def explain_offset(
    offset: Offset, effects: Sequence[float]
) -> tuple[float, tuple[float, ...], float]:
    """Probability of each slip that could be behind an offset.

    That the key is right; of each slip, shape (n_slips,); of some other error.

    >>> far = Offset(40, -1.256, 0.047, -0.12, 0.129)
    >>> right, (swapped,), other = explain_offset(far, [math.log(4120 / 1420)])
    >>> round(swapped, 2), right < 1e-10
    (0.97, True)

    Parameters
    ----------
    effects : log ratio, shape (n_slips,)
        ``ln(key / key without the slip)``: what the slip added to the key.

    Notes
    -----
    Bayes' rule with prior 0.98 for a right key, the rest shared evenly by the slips and by "some
    other error", whose log ratio is normal with standard deviation 0.5.
    """
    logs = _log_chances(offset, effects)
    weights = np.exp(logs - logs.max())
    right, other, *slips = (weights / weights.sum()).tolist()
    return right, tuple(slips), other


def wrong_log_odds(offset: Offset, effects: Sequence[float]) -> float:
    """Logarithm of the odds that a key is wrong in any way, against right.

    >>> round(wrong_log_odds(Offset(40, -0.12, 0.047, -0.12, 0.129, -math.log(0.129)), []), 1)
    -5.3

    Parameters
    ----------
    effects : log ratio, shape (n_slips,); as in ``explain_offset``
    """
    wrong = _log_chances(offset, effects)[1:]
    return float(np.logaddexp.reduce(wrong) - math.log(PRIOR_RIGHT) - offset.log_density)


def _log_chances(offset: Offset, effects: Sequence[float]) -> Floats:
    """Log of prior times density of: the key is right, some other error, each slip."""
    seen = offset.mean - offset.expected
    share = math.log((1 - PRIOR_RIGHT) / (len(effects) + 1))
    right = math.log(PRIOR_RIGHT) + _log_normal(seen, offset.sd)
    other = share + _log_normal(seen, math.hypot(offset.sd, OTHER_ERROR_SD))
    # A key too large by the effect puts the answers too low by it.
    slips = (share + _log_normal(seen + effect, offset.sd) for effect in effects)
    return np.array([right, other, *slips])


def _log_normal(x: float, sd: float) -> float:
    """Logarithm of the normal density, but for the constant all explanations share."""
    return -0.5 * (x / sd) ** 2 - math.log(sd)
