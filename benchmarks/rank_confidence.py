"""How near rank confidence comes to the speed of the memory.

Run: python benchmarks/rank_confidence.py [pairs] [items] [draws]

The bound is the least that scoring with array operations must move if every (draw, pair, item)
value went through memory once for each of the five operations a score takes (times 1/key, less 1,
absolute value, clip, add): five read-and-write passes over draws x pairs x items float64.  Ours
does more (draws keys and net masses, sorts every draw, counts places, podium outcomes and the
gains of re-measuring) and holds none of these values for longer than a block of draws.
"""

import math
import sys
import time
from collections.abc import Callable

import numpy as np

from nearmark.contest.answer_table import AnswerTable
from nearmark.contest.rank_draws import draw_keys, placed_blocks
from nearmark.contest.rank_tally import DrawCount
from nearmark.contest.remeasure import remeasure_gains
from nearmark.contest.rules import RuleSet
from nearmark.measurement.budget import Component
from nearmark.station import Station

PASSES = 5
REPEATS = 5
STREAM_CELLS = 20_000_000


def invented_answers(n_pairs: int, n_items: int) -> AnswerTable:
    """Log-normal answers; a fifth of the items weighed, a third boxes, the others counted.

    One scale weighs all cups and one ruler reads all boxes: the gain of each is one variable.
    """
    rng = np.random.default_rng(1)
    n_mass, n_volume = n_items // 5, n_items // 3
    kinds = [Station.MASS] * n_mass + [Station.VOLUME] * n_volume
    kinds += [Station.COUNT] * (n_items - len(kinds))
    keys = np.array([100.0 if k is Station.MASS else rng.uniform(300, 9000) for k in kinds])
    is_mass = np.array([k is Station.MASS for k in kinds])
    estimates = keys * np.exp(rng.normal(-0.05, 0.2, (n_pairs, n_items)))
    key_moves = np.zeros((n_items, 2))
    key_moves[[k is Station.VOLUME for k in kinds], 1] = 0.003
    own_moves = np.zeros((n_pairs, n_items, 2))
    own_moves[:, is_mass, 0] = 0.0002 * estimates[:, is_mass]
    return AnswerTable(
        estimates=estimates,
        own_u=np.zeros((n_pairs, n_items)) + np.where(is_mass, 0.05, 0.0),
        keys=keys,
        key_u=np.where(is_mass, 0.0, 0.005 * keys),
        key_dof=np.where(is_mass, math.inf, 4.0),
        weights=np.ones(n_items),
        stations=tuple(kinds),
        rules=RuleSet(),
        causes=tuple(
            Component(name, 0.0, "", 1.0) for name in ("gain of the scale", "gain of the ruler")
        ),
        key_moves=key_moves * keys[:, np.newaxis],
        own_moves=own_moves,
    )


def best_of(work: Callable[[], object]) -> float:
    """Shortest wall time in s; the machine may be shared."""
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def one_pass(n_cells: int) -> float:
    """Time in s of reading and writing ``n_cells`` float64 once, larger than any cache."""
    cells = np.ones(min(n_cells, STREAM_CELLS))
    out = np.zeros_like(cells)
    return best_of(lambda: np.multiply(cells, 1.5, out=out)) * n_cells / cells.size


def confidence(table: AnswerTable, n_draws: int) -> None:
    """All that ``rank_confidence`` computes."""
    draws = draw_keys(table, n_draws, seed=1)
    count = DrawCount(np.arange(table.n_pairs), n_draws)
    for block in placed_blocks(table, draws):
        count.add(block)
    errors = np.concatenate([draws.own_errors[table.key_u > 0], draws.causes])
    remeasure_gains(count.tally().podium_codes, errors, seed=1)


def main(n_pairs: int = 200, n_items: int = 10, n_draws: int = 10_000) -> None:
    table = invented_answers(n_pairs, n_items)
    n_cells = n_pairs * n_items * n_draws
    stream = one_pass(n_cells)
    ours = best_of(lambda: confidence(table, n_draws))
    bound = PASSES * stream
    print(f"{n_pairs} pairs x {n_items} items x {n_draws} draws = {n_cells * 8 / 1e6:.0f} MB")
    print(f"one read-and-write pass over them: {1e3 * stream:7.1f} ms")
    print(f"bound, {PASSES} passes:                 {1e3 * bound:7.1f} ms")
    print(f"rank confidence:                   {1e3 * ours:7.1f} ms")
    print(f"ratio to the bound {ours / bound:.2f}; to a single pass {ours / stream:.2f}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
