"""Which keys a field of answers speaks against: arrays only."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from nearmark.contest.field_offset import FieldBias, Floats, Offset, field_offsets, wrong_log_odds

FLAG_AT: Final = 2.4
"""Standard uncertainties; false alarms are at most 2 % an item (``benchmarks/key_check.py``)."""

RIVAL_ODDS: Final = 0.25
"""Two keys can each explain what is seen: the second is named too from these odds to the first."""


@dataclass(frozen=True, slots=True)
class FieldDoubt:
    """What the field says of one key."""

    offset: Offset
    is_doubted: bool
    rivals: tuple[int, ...] = ()  # numbers of the items whose key may be the wrong one instead


def field_doubts(
    log_ratios: Floats,
    sizes: Sequence[float],
    key_u: Sequence[float],
    effects: Sequence[Sequence[float]],
    usual: FieldBias,
) -> list[FieldDoubt | None]:
    """Judge each key of a station by the answers to all of its items.

    ``None`` with fewer than eight answers.

    A wrong key pulls what is expected of the others along.  So the key that explains most of what
    is seen is doubted first; then it is left out, and the others are looked at again.

    >>> import numpy as np
    >>> one_off = np.zeros((8, 3))
    >>> one_off[:, 0] = 1.0
    >>> found = field_doubts(one_off, [400] * 3, [0.0] * 3, [[]] * 3, FieldBias(0.0, 0.2))
    >>> [doubt.is_doubted for doubt in found]
    [True, False, False]

    Parameters
    ----------
    log_ratios : log ratio, shape (n_pairs, n_items)
        ``ln(answer / key)``; ``nan`` where there is no answer.
    sizes : pieces or cm3, shape (n_items,); the keys
    key_u : relative, shape (n_items,)
    effects : log ratio, shape (n_items, slips of the item); ``ln(key / key without the slip)``
    """
    doubted: list[int] = []
    rivals: dict[int, tuple[int, Offset]] = {}
    while True:
        offsets = field_offsets(log_ratios, sizes, key_u, usual, doubted)
        far = {
            j: (wrong_log_odds(offset, effects[j]), offset)
            for j, offset in enumerate(offsets)
            if offset is not None and j not in doubted and abs(offset.z) > FLAG_AT
        }
        if not far:
            break
        worst = max(far, key=lambda j: far[j][0])
        least = far[worst][0] + math.log(RIVAL_ODDS)
        doubted.append(worst)
        rivals |= {j: (worst, o) for j, (odds, o) in far.items() if j != worst and odds > least}
    rivals = {j: found for j, found in rivals.items() if j not in doubted}
    return [_doubt(j, offset, doubted, rivals) for j, offset in enumerate(offsets)]


def _doubt(
    item: int,
    offset: Offset | None,
    doubted: Sequence[int],
    rivals: Mapping[int, tuple[int, Offset]],
) -> FieldDoubt | None:
    if offset is None:
        return None
    if item in rivals:
        other, as_seen = rivals[item]
        return FieldDoubt(as_seen, is_doubted=True, rivals=(other,))
    return FieldDoubt(offset, item in doubted, tuple(k for k in rivals if rivals[k][0] == item))
