"""The sheets as they were keyed, and what a keying error on one of them could hide."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.answer_table import AnswerTable, Slope
from nearmark.contest.answers import AcceptedAnswer, AnswerState
from nearmark.contest.keying_errors import KeyingRates, papers_behind
from nearmark.contest.placed_answers import placed_answers
from nearmark.contest.rank_places import TIE_WIDTH
from nearmark.contest.rank_tally import PODIUM
from nearmark.contest.results import Results

Floats = NDArray[np.float64]

LOW_SCORE: Final = 70.0
"""Points; an item below it may be a keying error that hides a far better answer."""


@dataclass(frozen=True, slots=True)
class KeyedSheets:
    """The keyed numbers of all placed pairs."""

    codes: tuple[str, ...]  # best first
    table: AnswerTable
    scores: Floats  # weighted (points, shape (n_pairs, n_items))
    rates: Floats  # that the field is wrong (probability, shape (n_pairs, n_items))
    # As written; ``None`` for a blank (unit of the field, shape (n_pairs, n_items)).
    keyed: tuple[tuple[Decimal | None, ...], ...]

    def liftable(self) -> NDArray[np.bool_]:
        """Whether one low item, if it were exact, would lift the pair to the podium; (n_pairs,)."""
        totals = self.scores.sum(axis=1)
        third = np.sort(totals)[::-1][:PODIUM][-1]
        best = self.table.weights * Slope.of(self.table.rules).cap
        low = self.scores < LOW_SCORE * self.table.weights
        lifted = totals[:, np.newaxis] - self.scores + best >= third - TIE_WIDTH
        liftable: NDArray[np.bool_] = (low & lifted).any(axis=1)
        return liftable

    def risk(self, pair: int) -> float:
        """Probability that a keying error on one sheet hides another podium (union over items).

        Parameters
        ----------
        pair : pair number
        """
        totals = self.scores.sum(axis=1)
        others = np.sort(np.delete(totals, pair))
        before = _standing(totals[pair], others)
        risk = 0.0
        for j, keyed in enumerate(self.keyed[pair]):
            if keyed is None:
                continue
            papers, chances = np.array(papers_behind(keyed)).T
            # At the mass station the gross mass is keyed: the net mass moves by the same amount.
            estimates = self.table.estimates[pair, j] + papers - float(keyed)
            instead = totals[pair] - self.scores[pair, j] + self.table.item_scores(j, estimates)
            changed = _standing(instead, others) != before
            risk += float(self.rates[pair, j] * chances[changed].sum())
        return risk


def keyed_sheets(results: Results, rates: KeyingRates) -> KeyedSheets:
    """The keyed numbers behind the results, with the rate at which each may be wrong.

    >>> from nearmark.contest.example import two_pairs
    >>> from nearmark.contest.results import results
    >>> day = two_pairs()
    >>> sheets = keyed_sheets(results(day), KeyingRates())
    >>> sheets.rates.tolist(), round(sheets.risk(0) / 0.0014, 2)
    ([[0.0014], [0.0014]], 0.76)

    Raises
    ------
    InputError : if no pair is placed, or no item has a key
    """
    codes, items, table = placed_answers(results)
    typed = results.event.typed
    columns = [table.item_scores(j, table.estimates[:, j]) for j in range(table.n_items)]
    rate = [[_rate(results.answers.get((code, item)), rates) for item in items] for code in codes]
    keyed = tuple(
        tuple(row.value if (row := typed.get((code, item))) else None for item in items)
        for code in codes
    )
    return KeyedSheets(codes, table, np.column_stack(columns), np.array(rate), keyed)


def _standing(totals: Floats | float, others: Floats) -> NDArray[np.int64]:
    """A number that differs exactly when the podium would: place, and how many share it."""
    below = np.searchsorted(others, np.asarray(totals) - TIE_WIDTH, side="left")
    upto = np.searchsorted(others, np.asarray(totals) + TIE_WIDTH, side="right")
    better = others.size - upto
    standing = better * (others.size + 1) + (upto - below)
    return np.where(better < PODIUM, standing, -1)


def _rate(answer: AcceptedAnswer | None, rates: KeyingRates) -> float:
    read_twice = answer is not None and answer.state in (
        AnswerState.AGREED,
        AnswerState.ADJUDICATED,
    )
    return rates.double if read_twice else rates.single
