"""What many drawn rankings say together: place probabilities, and whether the podium holds."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.rank_places import Ints, PlacedBlock

Floats = NDArray[np.float64]
Codes = NDArray[np.uint64]
Progress = Callable[[int], None]
"""Called with the number of draws done so far."""

PODIUM: Final = 3
"""Places that are celebrated."""


@dataclass(frozen=True, slots=True)
class Tally:
    """Counts over all draws, as shares."""

    # Row: pair number; column: place (probability, shape (n_pairs, n_pairs)).
    place_probability: Floats
    # See ``RankConfidence`` (probability).
    winner: float
    podium_order: float
    podium_set: float
    tie: float
    # Draws with the same pairs in the same podium places have the same code (shape (n_draws,)).
    podium_codes: Codes


class _PodiumCodes:
    """Numbers that stand for "who holds which place".

    Each pair in each podium place has a random 64-bit number; an outcome is their sum, whatever
    the order in which tied pairs come.  Two of 10,000 outcomes share a code by chance with
    probability below 1e-11.

    Places that pairs share in force count as one: two pairs on a shared second place hold the
    second and the third between them, and a draw that parts the two still has both of them there.
    """

    def __init__(self, actual_places: Ints) -> None:
        rng = np.random.default_rng(0)
        self.held = rng.integers(2**64, size=(actual_places.size, PODIUM), dtype=np.uint64)
        in_order = np.sort(actual_places)
        # Of each place, the place in force that it belongs to; the last one may reach beyond three.
        self.belongs = in_order[in_order < PODIUM]
        self.n_winners = int((in_order == 0).sum())

    def of(self, order: Ints, place: Ints) -> tuple[Codes, Codes, Codes]:
        """Codes of winners, of the podium order and of the podium set, each of shape (n_draws,)."""
        inside = place < self.belongs.size
        width = int(inside.sum(axis=1).max())
        order, place, inside = order[:, :width], place[:, :width], inside[:, :width]
        zero = np.uint64(0)
        belongs = self.belongs[np.minimum(place, self.belongs.size - 1)]
        first = self.held[order, 0]
        winners = np.where(place < self.n_winners, first, zero).sum(axis=1, dtype=np.uint64)
        held = self.held[order, belongs]
        in_order = np.where(inside, held, zero).sum(axis=1, dtype=np.uint64)
        as_set = np.where(inside, first, zero).sum(axis=1, dtype=np.uint64)
        return winners, in_order, as_set


class DrawCount:
    """Counts places and podiums, block by block."""

    def __init__(self, actual_places: Ints, n_draws: int) -> None:
        self.n_pairs, self.n_draws = actual_places.size, n_draws
        self.coder = _PodiumCodes(actual_places)
        best_first = np.argsort(actual_places, kind="stable")
        self.actual = self.coder.of(best_first[np.newaxis], actual_places[best_first][np.newaxis])
        self.counts = np.zeros(self.n_pairs * self.n_pairs, dtype=np.int64)
        self.codes = np.empty((3, n_draws), dtype=np.uint64)
        self.ties = self.n_done = 0

    def add(self, block: PlacedBlock) -> None:
        """Count some more draws."""
        cells = (block.order * self.n_pairs + block.place).ravel()
        self.counts += np.bincount(cells, minlength=self.counts.size)
        stop = self.n_done + block.order.shape[0]
        self.codes[:, self.n_done : stop] = self.coder.of(block.order, block.place)
        self.ties += int(_has_podium_tie(block.place).sum())
        self.n_done = stop

    def tally(self) -> Tally:
        """What all draws say together."""
        winner, podium_order, podium_set = (
            float((row == code).mean()) for row, code in zip(self.codes, self.actual, strict=True)
        )
        return Tally(
            place_probability=self.counts.reshape(self.n_pairs, self.n_pairs) / self.n_draws,
            winner=winner,
            podium_order=podium_order,
            podium_set=podium_set,
            tie=self.ties / self.n_draws,
            podium_codes=self.codes[1],
        )


def _has_podium_tie(place: Ints) -> NDArray[np.bool_]:
    """Whether two neighbours share a podium place, shape (n_draws,)."""
    top = place[:, : PODIUM + 1]
    same: NDArray[np.bool_] = (top[:, 1:] == top[:, :-1]).any(axis=1)
    return same
