"""How far a field of answers lies from a key, and what would explain it: arrays only."""

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.measurement.robust import robust_mean

Floats = NDArray[np.float64]

FEWEST_ANSWERS: Final = 8
"""Below this the check says nothing."""

FLAG_AT: Final = 3.0
"""Standard uncertainties; a false alarm in 2 to 3 of 1000 sound items if the priors hold."""

ITEM_BIAS_SD: Final = 0.07
"""Spread of a field's bias from item to item of one station (invented default)."""

FEWEST_OTHERS: Final = 2
"""With one other item nobody can tell which of the two is off."""

PRIOR_RIGHT: Final = 0.98
"""Probability that a key is as it should be, before the answers are seen (invented default)."""

OTHER_ERROR_SD: Final = 0.5
"""Spread of the log ratio of a wrong key whose slip is not on the list (invented default)."""


@dataclass(frozen=True, slots=True)
class FieldBias:
    """What a field of children usually does at one station.

    Attributes
    ----------
    mean : log ratio
        Usual robust mean of ``ln(answer / key)``.
    sd : log ratio, > 0
        Its spread from field to field.
    """

    mean: float
    sd: float


@dataclass(frozen=True, slots=True)
class Offset:
    """How far the answers to one item lie from where they were expected.

    Attributes
    ----------
    n : answers
    mean : log ratio
        Robust mean.
    u : log ratio
        Standard uncertainty of ``mean`` from the spread of the answers.
    expected : log ratio
    sd : log ratio
        Standard uncertainty of ``mean - expected`` if the key is right.
    """

    n: int
    mean: float
    u: float
    expected: float
    sd: float

    @property
    def z(self) -> float:
        """Distance from the expected, in standard uncertainties."""
        return (self.mean - self.expected) / self.sd


def field_offset(log_ratios: Floats, key_u: float, usual: FieldBias) -> Offset | None:
    """Offset of a field's answers from what fields usually do.

    Parameters
    ----------
    log_ratios : log ratio, shape (n_pairs,)
        ``ln(answer / key)``; ``nan`` where there is no answer.
    key_u : relative
        Standard uncertainty of the key.
    usual : FieldBias

    Returns
    -------
    Offset or None
        ``None`` with fewer than eight answers.

    References
    ----------
    ISO 13528:2005, annex C.1 (opened), algorithm A.

    Examples
    --------
    >>> half = np.full(8, math.log(0.5))
    >>> round(field_offset(half, 0.005, FieldBias(-0.02, 0.05)).z, 1)
    -13.4
    >>> field_offset(half[:7], 0.005, FieldBias(-0.02, 0.05)) is None
    True
    """
    return _offset(log_ratios, usual.mean, math.hypot(usual.sd, key_u))


def _offset(values: Floats, expected: float, sd_but_answers: float) -> Offset | None:
    answered = values[~np.isnan(values)]
    if answered.size < FEWEST_ANSWERS:
        return None
    robust = robust_mean(answered.tolist())
    sd = math.hypot(sd_but_answers, robust.u)
    return Offset(answered.size, robust.mean, robust.u, expected, sd)


def between_items(
    log_ratios: Floats, key_u: Sequence[float], suspects: Collection[int]
) -> list[Offset | None]:
    """Offset of each item from the other items of its station, answered by the same pairs.

    A pair's skill and the day's common bias cancel.  The item that lies furthest off is taken out
    of the comparison before the others are judged again: else it would pull them along.

    Parameters
    ----------
    log_ratios : log ratio, shape (n_pairs, n_items)
    key_u : relative, shape (n_items,)
    suspects : item numbers
        Items others must not be compared with.

    Returns
    -------
    list of Offset or None, shape (n_items,)
        ``None`` with fewer than two items to compare with, or fewer than eight answers.

    Examples
    --------
    >>> same = np.zeros((8, 3))
    >>> same[:, 0] = 1.0
    >>> [offset and round(offset.z, 1) for offset in between_items(same, [0.0] * 3, ())]
    [11.7, None, None]
    """
    out = set(suspects)
    items = range(log_ratios.shape[1])
    while True:
        offsets = [
            _between(log_ratios, key_u, j, [k for k in items if k not in out]) for j in items
        ]
        far = {
            j: abs(offset.z)
            for j, offset in enumerate(offsets)
            if offset is not None and j not in out and abs(offset.z) > FLAG_AT
        }
        if not far:
            return offsets
        out.add(max(far, key=lambda j: far[j]))


def _between(
    log_ratios: Floats, key_u: Sequence[float], item: int, pool: Sequence[int]
) -> Offset | None:
    others = [k for k in pool if k != item]
    if len(others) < FEWEST_OTHERS:
        return None
    # Only pairs that answered all the others: a median over a changing set would shift by itself.
    typical = np.median(log_ratios[:, others], axis=1)
    spread = ITEM_BIAS_SD * math.sqrt(1 + 1 / len(others))
    return _offset(log_ratios[:, item] - typical, 0.0, math.hypot(spread, key_u[item]))


def explain_offset(
    offset: Offset, effects: Sequence[float]
) -> tuple[float, tuple[float, ...], float]:
    """Probability of each slip that could be behind an offset.

    Parameters
    ----------
    offset : Offset
    effects : log ratio, shape (n_slips,)
        ``ln(key / key without the slip)``: what the slip added to the key.

    Returns
    -------
    probability that the key is right; of each slip, shape (n_slips,); of some other error

    Notes
    -----
    Bayes' rule with prior 0.98 for a right key, the rest shared evenly by the slips and by "some
    other error", whose log ratio is normal with standard deviation 0.5.

    Examples
    --------
    >>> far = Offset(40, -1.256, 0.047, -0.12, 0.129)
    >>> right, (swapped,), other = explain_offset(far, [math.log(4120 / 1420)])
    >>> round(swapped, 2), right < 1e-10
    (0.97, True)
    """
    seen = offset.mean - offset.expected
    share = math.log((1 - PRIOR_RIGHT) / (len(effects) + 1))
    # A key too large by the effect puts the answers too low by it.
    logs = [math.log(PRIOR_RIGHT) + _log_normal(seen, offset.sd)]
    logs += [share + _log_normal(seen + effect, offset.sd) for effect in effects]
    logs.append(share + _log_normal(seen, math.hypot(offset.sd, OTHER_ERROR_SD)))
    weights = np.exp(np.array(logs) - max(logs))
    right, *slips, other = (weights / weights.sum()).tolist()
    return right, tuple(slips), other


def _log_normal(x: float, sd: float) -> float:
    """Logarithm of the normal density, but for the constant all explanations share."""
    return -0.5 * (x / sd) ** 2 - math.log(sd)
