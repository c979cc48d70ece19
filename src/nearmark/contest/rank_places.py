"""Places of all pairs in many draws at once: arrays only."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

TIE_WIDTH: Final = 1e-9
"""Points; totals nearer than this are one total.  Rounding of sums of a few hundred points stays
below 1e-12, and two different answers almost never come this near by chance."""


@dataclass(frozen=True, slots=True)
class PlacedBlock:
    """The places of all pairs in some draws."""

    order: Ints  # best first (pair numbers, shape (n_draws, n_pairs))
    # Place of the pair that is at the same position of ``order``; ties share the better one
    # (places counted from 0, shape (n_draws, n_pairs)).
    place: Ints

    def among(self, rows: Ints) -> "PlacedBlock":
        """Order and places of some pairs among themselves, numbered as they are listed.

        >>> placed = rank_losses(np.array([[3.0, 1.0, 3.0, 7.5]]))
        >>> among = placed.among(np.array([3, 2, 0]))
        >>> among.order, among.place
        (array([[2, 1, 0]]), array([[0, 0, 2]]))

        Parameters
        ----------
        rows : pair numbers, shape (n,); those who are compared
        """
        number = np.full(self.order.shape[1], -1)
        number[rows] = np.arange(rows.size)
        is_one = number[self.order] >= 0
        shape = (self.order.shape[0], rows.size)
        place = self.place[is_one].reshape(shape)
        order = number[self.order[is_one]].reshape(shape)
        return PlacedBlock(order, _shared_places(np.diff(place, axis=1) > 0))


def rank_losses(losses: Floats) -> PlacedBlock:
    """Rank pairs in each draw, least loss first; equal losses share the better place.

    The loss in steps of ``TIE_WIDTH`` and the pair's number are packed into one whole number, so
    that a plain sort does the work of a sort of positions in half its time.

    >>> placed = rank_losses(np.array([[3.0, 1.0, 3.0, 7.5]]))
    >>> placed.order, placed.place
    (array([[1, 0, 2, 3]]), array([[0, 1, 1, 3]]))

    Parameters
    ----------
    losses : points, shape (n_draws, n_pairs)
    """
    n_pairs = losses.shape[1]
    bits = max(1, (n_pairs - 1).bit_length())
    # Weights beyond reason would not fit 62 bits at the fine step; then the step is widened.
    step = max(TIE_WIDTH, float(np.abs(losses).max(initial=0.0)) * 2.0 ** (bits - 61))
    packed = np.rint(losses / step).astype(np.int64)
    packed <<= bits
    packed |= np.arange(n_pairs)
    packed.sort(axis=1)
    level = packed >> bits
    packed &= (1 << bits) - 1
    # Equal losses may be rounded to neighbouring steps.
    return PlacedBlock(packed, _shared_places(np.diff(level, axis=1) > 1))


def _shared_places(apart: NDArray[np.bool_]) -> Ints:
    """Places from whether each pair in order is apart from the one before it."""
    n_draws, n_gaps = apart.shape
    position = np.arange(n_gaps + 1)
    if apart.all():
        return np.broadcast_to(position, (n_draws, n_gaps + 1))
    start = np.zeros((n_draws, n_gaps + 1), dtype=np.int64)
    np.multiply(apart, position[1:], out=start[:, 1:])
    return np.maximum.accumulate(start, axis=1, out=start)


def tied_draws(placed: PlacedBlock) -> Ints:
    """Numbers of the draws in which two pairs share a place.

    >>> tied_draws(rank_losses(np.array([[1.0, 2.0], [2.0, 2.0]])))
    array([1])
    """
    return np.flatnonzero((placed.place != np.arange(placed.place.shape[1])).any(axis=1))


def break_ties(placed: PlacedBlock, tied: Ints, merits: list[Floats]) -> PlacedBlock:
    """Places after tie-breaks: among equal losses the larger merit is better, first merit first.

    >>> placed = rank_losses(np.array([[2.0, 2.0, 1.0]]))
    >>> after = break_ties(placed, tied_draws(placed), [np.array([[5.0, 6.0, 0.0]])])
    >>> after.order, after.place
    (array([[2, 1, 0]]), array([[0, 1, 2]]))

    Parameters
    ----------
    tied : draw numbers, shape (k,); the draws to work on
    merits : points or items, each of shape (k, n_pairs)
        Of all pairs in those draws, by pair number.
    """
    order, place = placed.order.copy(), placed.place.copy()
    start = np.empty((tied.size, order.shape[1]), dtype=np.int64)
    np.put_along_axis(start, order[tied], place[tied], axis=1)
    keys = [start, *(np.rint(-merit / TIE_WIDTH).astype(np.int64) for merit in merits)]
    resolved = np.lexsort(tuple(reversed(keys)), axis=1)
    steps = [np.diff(np.take_along_axis(key, resolved, axis=1), axis=1) for key in keys]
    apart = steps[0] > 0
    for step in steps[1:]:
        apart |= np.abs(step) > 1
    order[tied], place[tied] = resolved, _shared_places(apart)
    return PlacedBlock(order, place)
