"""Heats made equally full, without cutting a school into more shares."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nearmark.contest.heat_packing import Shares


@dataclass(frozen=True, slots=True)
class _Exchange:
    """Pairs of one school from the fuller heat against those of another from the emptier one."""

    giver: int
    given: int
    taker: int = 0
    taken: int = 0

    @property
    def net(self) -> int:
        return self.given - self.taken


def levelled(packed: Shares, kept: Shares) -> Shares:
    """Shares with the same number of cuts or fewer, and heats more nearly equal.

    Whole shares move to, or change places with shares of, an emptier heat; of a school that is in
    both heats any number may move.

    >>> levelled([[7, 0], [4, 0], [0, 2]], [[0, 0], [0, 0], [0, 0]])
    [[7, 0], [0, 4], [0, 2]]

    Parameters
    ----------
    packed : pairs, shape (n_schools, n_heats); free to move
    kept : pairs, shape (n_schools, n_heats); not to move
    """
    shares = [list(school) for school in packed]
    while _improve(shares, kept):
        pass
    return shares


def _improve(shares: Shares, kept: Shares) -> bool:
    """Make the first exchange that levels the two most unequal heats it can."""
    loads = [sum(column) for column in zip(*shares, *kept, strict=True)]
    pairs = [(a, b) for a in range(len(loads)) for b in range(len(loads))]
    for full, empty in sorted(pairs, key=lambda p: (loads[p[1]] - loads[p[0]], p)):
        gap = loads[full] - loads[empty]
        if gap < 2:
            return False
        useful = [e for e in _exchanges(shares, kept, full, empty) if 0 < e.net < gap]
        if useful:
            # Nearest to half the gap; among those the one that moves the fewest pairs.
            best = min(useful, key=lambda e: (abs(gap - 2 * e.net), e.given, e.giver, e.taker))
            _make(shares, best, full, empty)
            return True
    return False


def _exchanges(shares: Shares, kept: Shares, full: int, empty: int) -> Iterator[_Exchange]:
    whole_back = [
        (s, school[empty])
        for s, school in enumerate(shares)
        if school[empty] and not kept[s][empty] and not _is_in(school, kept[s], full)
    ]
    for s, school in enumerate(shares):
        if not school[full]:
            continue
        if _is_in(school, kept[s], empty):
            yield from (_Exchange(s, n) for n in range(1, school[full] + 1))
        elif not kept[s][full]:
            yield _Exchange(s, school[full])
            yield from (_Exchange(s, school[full], t, n) for t, n in whole_back)


def _is_in(school: Sequence[int], kept: Sequence[int], heat: int) -> bool:
    return school[heat] + kept[heat] > 0


def _make(shares: Shares, exchange: _Exchange, full: int, empty: int) -> None:
    shares[exchange.giver][full] -= exchange.given
    shares[exchange.giver][empty] += exchange.given
    shares[exchange.taker][empty] -= exchange.taken
    shares[exchange.taker][full] += exchange.taken
