"""How many of each school go into each heat, with as few (school, heat) shares as can be found.

A school in one heat is one share.  Heats that share schools hang together in groups; a group of k
heats can be filled one school after the other with at most k - 1 schools cut in two.  So the fewest
shares come from the most groups, above all from heats that whole schools fill.  Finding the most
groups is as hard as bin packing; here several greedy orders are tried and the best one is kept.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations, product

Shares = list[list[int]]
"""Pairs of school s in heat h."""

_MAX_HEATS_CHOSEN = 3
"""Larger groups take the roomiest heats: choosing among all of them takes too long."""

_ORDERS = tuple(product((True, False), ("few heats first", "full heats first")))
"""Whether schools larger than any heat are cut before anything else, and what is tried first."""


def shares(free: Sequence[int], sizes: Sequence[int]) -> Shares:
    """Pairs of each school in each heat; fewest cuts found, full heats before empty ones.

    >>> shares([12, 12], [5, 8, 7, 4])
    [[0, 5], [8, 0], [0, 7], [4, 0]]

    Parameters
    ----------
    free : pairs, shape (n_heats,); free places; together at least as many as there are pairs
    sizes : pairs, shape (n_schools,)
    """
    tries = [_Packing(free, sizes).packed(cut, order) for cut, order in _ORDERS]
    return min(tries, key=n_shares)  # the first of equals


def n_shares(packed: Shares) -> int:
    """Number of (school, heat) shares.

    >>> n_shares([[0, 5], [8, 1]])
    3

    Parameters
    ----------
    packed : pairs, shape (n_schools, n_heats)
    """
    return sum(pairs > 0 for school in packed for pairs in school)


class _Packing:
    """One greedy packing while it grows."""

    def __init__(self, free: Sequence[int], sizes: Sequence[int]) -> None:
        self.free = {heat: n for heat, n in enumerate(free) if n}
        self.left = {school: n for school, n in enumerate(sizes) if n}
        self.shares = [[0] * len(free) for _ in sizes]

    def packed(self, cut: bool, order: str) -> Shares:  # noqa: FBT001 - one of _ORDERS
        if cut:
            self._cut_the_largest()
        while len(self.free) > 1 and self.left:
            heats, schools = self._next_group(order)
            self._fill(heats, schools)
        self._fill(list(self.free), list(self.left))
        return self.shares

    def _cut_the_largest(self) -> None:
        """A school that fills the roomiest heat fills it: some heat it must fill or share."""
        while self.left:
            school = max(self.left, key=lambda s: (self.left[s], -s))
            heat = max(self.free, key=lambda h: (self.free[h], -h))
            if self.left[school] < self.free[heat]:
                return
            self._fill([heat], [school])

    def _next_group(self, order: str) -> tuple[list[int], list[int]]:
        """Heats and the whole schools that fill them best; everything when nothing fits."""
        schools = sorted(self.left, key=lambda s: (-self.left[s], s))
        sums = _Sums([self.left[s] for s in schools])
        spare = sum(self.free.values()) - sum(self.left.values())
        for n_heats, waste in _trials(len(self.free) - 1, spare, order):
            for heats in self._choices(n_heats):
                chosen = sums.subset(sum(self.free[h] for h in heats) - waste)
                if chosen:
                    return heats, [schools[i] for i in chosen]
        return list(self.free), list(self.left)

    def _choices(self, n_heats: int) -> Iterator[list[int]]:
        """Sets of heats that differ in their free places, the roomiest first."""
        roomiest = sorted(self.free, key=lambda h: (-self.free[h], h))
        if n_heats > _MAX_HEATS_CHOSEN:
            yield roomiest[:n_heats]
            return
        alike = Counter[int]()
        different = []
        for heat in roomiest:
            alike[self.free[heat]] += 1
            if alike[self.free[heat]] <= n_heats:
                different.append(heat)
        seen = set()
        for heats in combinations(different, n_heats):
            room = tuple(self.free[h] for h in heats)
            if room not in seen:
                seen.add(room)
                yield sorted(heats)

    def _fill(self, heats: list[int], schools: list[int]) -> None:
        """One school after the other into one heat after the other, then close the heats."""
        waiting = iter(heats)
        heat = next(waiting, None)
        for school in schools:
            while self.left.get(school) and heat is not None:
                n = min(self.left[school], self.free[heat])
                self.shares[school][heat] += n
                self.free[heat] -= n
                self.left[school] -= n
                if not self.free[heat]:
                    heat = next(waiting, None)
        self.free = {h: n for h, n in self.free.items() if h not in heats}
        self.left = {s: n for s, n in self.left.items() if n}


def _trials(most_heats: int, most_waste: int, order: str) -> list[tuple[int, int]]:
    """Numbers of heats and of places left empty in them, in the order to try."""
    trials = [(n, waste) for n in range(1, most_heats + 1) for waste in range(most_waste + 1)]
    if order == "full heats first":
        trials.sort(key=lambda trial: (trial[1], trial[0]))
    return trials


class _Sums:
    """Which numbers are sums of some of the sizes.

    Bit t of ``reach[i]`` says whether sizes i and later, each at most once, add up to t.
    """

    def __init__(self, sizes: Sequence[int]) -> None:
        self.sizes = sizes
        self.reach = [1]
        for size in reversed(sizes):
            self.reach.append(self.reach[-1] | self.reach[-1] << size)
        self.reach.reverse()

    def subset(self, total: int) -> list[int]:
        """Positions of sizes that add up to the total, early ones first; empty when there are none.

        The early ones are the large ones: small schools are kept for the gaps.
        """
        if total <= 0 or not self.reach[0] >> total & 1:
            return []
        chosen = []
        for i, size in enumerate(self.sizes):
            if size <= total and self.reach[i + 1] >> (total - size) & 1:
                chosen.append(i)
                total -= size
        return chosen
