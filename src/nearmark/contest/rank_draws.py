"""The same contest scored and ranked under many drawn keys: arrays only, no records.

One draw of a key holds for all pairs, so a key error moves them all together; a pair's own net
mass is drawn for that pair alone.  What several keys and net masses share (the gain of a scale,
the zero of a ruler) is drawn once for all of them.  Draws are worked through in blocks that fit
the processor's cache; the block length changes the speed, never a result.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.answer_table import AnswerTable, Slope
from nearmark.contest.rank_places import TIE_WIDTH, PlacedBlock, break_ties, rank_losses, tied_draws
from nearmark.contest.rules import TieBreak
from nearmark.measurement.distributions import standardised

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

BLOCK_CELLS: Final = 32_768
"""Draws times pairs worked on at once: 256 KiB of float64, so that a few such arrays stay in a
second-level cache of half a MiB or more."""

MIN_KEY: Final = 1e-3
"""Smallest drawn key as a share of the key: the long tail of a Student t of one or two degrees of
freedom reaches below zero, which no count or volume can."""

STRONG_ITEM: Final = 90.0
"""Points; what ``items at 90`` counts."""


@dataclass(frozen=True, slots=True)
class KeyDraws:
    """Drawn keys, and the chance each pair's own values are drawn with."""

    keys: Floats  # unit of the item, shape (n_items, n_draws)
    # The part of each key's error that it shares with nothing (unit of the item, shape (n_items,
    # n_draws)).
    own_errors: Floats
    causes: Floats  # the shared errors, standardised (dimensionless, shape (n_causes, n_draws))
    # Consumed draw by draw; make a new ``KeyDraws`` to start again (one generator an item).
    own: tuple[np.random.Generator, ...] = field(repr=False)


def draw_keys(table: AnswerTable, n_draws: int, seed: int) -> KeyDraws:
    """Draw keys from what is known of them.

    ``key + own part + sum over causes (move x cause)``: its own part is a Student t, scaled, each
    key on its own; a cause is one standardised variable for all keys and net masses.

    >>> import math
    >>> from nearmark.contest.rules import RuleSet
    >>> from nearmark.station import Station
    >>> one = np.ones((1, 1))
    >>> exact = AnswerTable(one, 0 * one, np.array([100.0]), np.zeros(1), np.array([math.inf]),
    ...                     np.ones(1), (Station.MASS,), RuleSet())
    >>> draw_keys(exact, 3, seed=1).keys
    array([[100., 100., 100.]])

    Parameters
    ----------
    n_draws : draws, >= 1
    seed : whole number, >= 0
        Every item and every cause has its own stream, so that the draws of one do not depend on
        another.

    References
    ----------
    JCGM 101:2008, clause 6.4.9 (from memory); JCGM 100:2008, clause G.6.2: the distribution of
    ``(y - Y) / u`` is taken as t with the effective degrees of freedom.
    """
    n_items = table.n_items
    seeds = np.random.SeedSequence(seed).spawn(n_items + len(table.causes))
    causes = np.empty((len(table.causes), n_draws))
    for row, cause, cause_seed in zip(causes, table.causes, seeds[n_items:], strict=True):
        row[:] = standardised(cause.distribution, cause.dof)(
            np.random.default_rng(cause_seed), n_draws
        )
    own_errors = np.empty((n_items, n_draws))
    own = []
    for j, item_seed in enumerate(seeds[:n_items]):
        key_seed, own_seed = item_seed.spawn(2)
        draw = standardised("t", table.key_dof[j])
        own_errors[j] = table.key_u[j] * draw(np.random.default_rng(key_seed), n_draws)
        own.append(np.random.default_rng(own_seed))
    keys = table.keys[:, np.newaxis] + own_errors
    if table.causes:
        keys += table.key_moves @ causes
    np.maximum(keys, MIN_KEY * table.keys[:, np.newaxis], out=keys)
    return KeyDraws(keys, own_errors, causes, tuple(own))


def placed_blocks(
    table: AnswerTable, draws: KeyDraws, *, block: int | None = None
) -> Iterator[PlacedBlock]:
    """Score and rank all pairs under each draw, in order, some draws at a time.

    >>> import math
    >>> from nearmark.contest.rules import RuleSet
    >>> from nearmark.station import Station
    >>> one = np.ones(1)
    >>> table = AnswerTable(np.array([[90.0], [95.0]]), np.zeros((2, 1)), 100 * one, 0 * one,
    ...                     math.inf * one, one, (Station.COUNT,), RuleSet())
    >>> block, = placed_blocks(table, draw_keys(table, 2, seed=1))
    >>> block.order
    array([[1, 0],
           [1, 0]])

    Parameters
    ----------
    block : draws; how many to hold at once; by default what fits the cache
    """
    n_draws = draws.keys.shape[1]
    block = block or max(16, BLOCK_CELLS // table.n_pairs)
    scorer = _Scorer(table, draws)
    for start in range(0, n_draws, block):
        stop = min(start + block, n_draws)
        yield scorer.placed(slice(start, stop))


class _Scorer:
    """Losses of all pairs under some draws.

    What a pair loses is ranked instead of what it gains: it starts at zero and needs one pass
    less.  The loss on an item is ``w * clip(steepness * |r - 1|, top - cap, top)``.
    """

    def __init__(self, table: AnswerTable, draws: KeyDraws) -> None:
        self.table = table
        self.inverse = 1.0 / draws.keys
        self.own = draws.own
        slope = Slope.of(table.rules)
        # An item of weight 0 adds nothing to a total, but may still break a tie.
        self.weights = np.where(table.weights > 0, table.weights, 1.0)
        self.full = self.weights * slope.steepness
        self.least = self.weights * (slope.top - slope.cap)
        self.most = self.weights * slope.top
        asked = table.is_asked
        # Of each item, which pairs it is not asked of; ``None``: of no pair.
        self.spared = [None if column.all() else ~column for column in asked.T]
        blank = np.isnan(table.estimates)
        # An estimate of zero loses the same under every key; the difference to a blank is added.
        self.pulled = np.ascontiguousarray((np.where(blank, 0.0, table.estimates) * self.full).T)
        self.causes = draws.causes
        # Of each item, the causes that move somebody's own value, and by how many points.
        self.shared_pull = [
            [
                (k, np.ascontiguousarray(table.own_moves[:, j, k] * self.full[j]))
                for k in range(len(table.causes))
                if table.own_moves[:, j, k].any()
            ]
            for j in range(table.n_items)
        ]
        self.own_pull = np.ascontiguousarray((np.where(blank, 0.0, table.own_u) * self.full).T)
        at_zero = np.clip(self.full, self.least, self.most)
        at_blank = self.most - self.weights * float(table.rules.blank_score)
        self.blank_extra = np.where(blank & asked, at_blank - at_zero, 0.0).T

    def placed(self, part: slice) -> PlacedBlock:
        """Places under some draws."""
        losses, by_item = self._losses(part)
        placed = rank_losses(losses)
        if by_item is None:
            return placed
        tied = tied_draws(placed)
        weights = self.weights[:, np.newaxis, np.newaxis]
        scores = Slope.of(self.table.rules).top - by_item[:, tied] / weights
        return break_ties(placed, tied, _tie_merits(scores, self.table))

    def _losses(self, part: slice) -> tuple[Floats, Floats | None]:
        """Lost points, shape (n_draws, n_pairs), and item by item where a tie may need them."""
        table = self.table
        shape = (part.stop - part.start, table.n_pairs)
        counts = table.weights > 0
        total = np.zeros(shape)
        total += self.blank_extra[counts].sum(axis=0)
        by_item = np.empty((table.n_items, *shape)) if table.rules.tie_breaks else None
        scratch = np.empty(shape)
        for j in range(table.n_items):
            x = scratch if by_item is None else by_item[j]
            self._item_losses(j, part, x)
            if counts[j]:
                total += x
        if by_item is not None:
            by_item += self.blank_extra[:, np.newaxis, :]
        return total, by_item

    def _item_losses(self, j: int, part: slice, x: Floats) -> None:
        inverse = self.inverse[j, part, np.newaxis]
        shared = self.shared_pull[j]
        if shared or self.own_pull[j].any():
            self.own[j].standard_normal(out=x)
            x *= self.own_pull[j]
            x += self.pulled[j]
            for k, pull in shared:
                x += self.causes[k, part, np.newaxis] * pull
            x *= inverse
        else:
            np.multiply(inverse, self.pulled[j], out=x)
        x -= self.full[j]
        np.abs(x, out=x)
        np.clip(x, self.least[j], self.most[j], out=x)
        spared = self.spared[j]
        if spared is not None:
            # Nothing is lost where nothing is asked; only pairs with the same items are compared.
            x[:, spared] = 0.0


def _tie_merits(scores: Floats, table: AnswerTable) -> list[Floats]:
    """What the tie-breaks compare, each (n_draws, n_pairs); larger is better."""
    merits = []
    for rule in table.rules.tie_breaks:
        if rule is TieBreak.WORST_ITEM:
            merit = scores.min(axis=0)
        elif rule is TieBreak.ITEMS_AT_90:
            merit = (scores >= STRONG_ITEM - TIE_WIDTH).sum(axis=0).astype(np.float64)
        else:
            of_station = np.array([s is rule.station for s in table.stations])
            merit = np.tensordot(table.weights * of_station, scores, axes=1)
        merits.append(merit)
    return merits
