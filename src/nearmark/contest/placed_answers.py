"""The placed pairs' answers on the items that have a key, taken out of the results as arrays."""

import math

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.answer_table import AnswerTable
from nearmark.contest.event import Event, Item
from nearmark.contest.results import Results, item_weight
from nearmark.contest.rules import Station
from nearmark.errors import InputError


def placed_answers(
    results: Results,
) -> tuple[tuple[str, ...], NDArray[np.int64], tuple[str, ...], AnswerTable]:
    """Answers of the placed pairs on the items that have a key.

    Parameters
    ----------
    results : Results

    Returns
    -------
    codes of the pairs, best first; places counted from 0; codes of the items; AnswerTable

    Raises
    ------
    InputError
        If no pair is placed, or no item has a key.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> from nearmark.contest.event import AnswerReading, AnswerStatus, HandCount, Pair, Event
    >>> from nearmark.contest.results import results
    >>> from nearmark.contest.rules import Station
    >>> day = Event(
    ...     "Larkspur Valley Estimation Day", date(2027, 5, 8),
    ...     items=(Item("C1", Station.COUNT, "jar"),),
    ...     hand_counts=(HandCount("C1", 1000, "Ana"), HandCount("C1", 1008, "Ben")),
    ...     pairs=(Pair("P1", "North", ("a", "b")), Pair("P2", "South", ("c", "d"))),
    ...     answers=tuple(
    ...         AnswerReading(pair, "C1", n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(pieces))
    ...         for pair, pieces in (("P1", 950), ("P2", 1061)) for n in (1, 2)))
    >>> codes, places, items, table = placed_answers(results(day))
    >>> codes, items, table.estimates.tolist(), table.keys.tolist()
    (('P1', 'P2'), ('C1',), [[950.0], [1061.0]], [1004.0])
    """
    placed = [pair for pair in results.pairs if pair.place is not None]
    items = [item for item in results.event.items if _key(item, results) is not None]
    if not placed or not items:
        raise InputError(
            "nothing to rank",
            where="results",
            value=f"{len(placed)} placed pairs, {len(items)} items with a key",
            mend="Enter answers, and the weighings of at least one item",
        )
    codes = tuple(pair.pair.code for pair in placed)
    places = np.array([pair.place - 1 for pair in placed if pair.place is not None])
    rules = results.event.rules
    gain_u = _common_gain_u(results.event)
    uncertainties = [_key_uncertainty(item, results, gain_u) for item in items]
    table = AnswerTable(
        estimates=np.array([[_estimate(results, c, item) for item in items] for c in codes]),
        own_u=np.array([[_own_u(results, c, item, gain_u) for item in items] for c in codes]),
        keys=np.array([_key(item, results) for item in items], dtype=np.float64),
        key_u=np.array([u for u, _ in uncertainties]),
        key_dof=np.array([dof for _, dof in uncertainties]),
        weights=np.array([float(item_weight(item, rules)) for item in items]),
        stations=tuple(item.station for item in items),
        rules=rules,
    )
    return codes, places, tuple(item.code for item in items), table


def _key(item: Item, results: Results) -> float | None:
    if item.station is Station.MASS:
        return float(results.event.rules.target_mass_g)
    key = results.keys[item.code].key
    return None if key is None else float(key)


def _common_gain_u(event: Event) -> float:
    """Relative uncertainty of the gain of the one scale that weighed every cup; 0 with several.

    Such an error moves all net masses by one factor, which is the same as a target that is off by
    it; so it is counted there, and not once more in every cup.  With several scales it stays in
    the uncertainty of each net mass.
    """
    names = {cup.instrument for cup in event.cups}
    gains = [scale.gain_u for scale in event.instruments if scale.name in names]
    return gains[0] if len(names) == 1 and len(gains) == 1 else 0.0


def _key_uncertainty(item: Item, results: Results, gain_u: float) -> tuple[float, float]:
    """Standard uncertainty of the key, or of the target seen by the scale, and its dof."""
    if item.station is Station.MASS:
        return gain_u * float(results.event.rules.target_mass_g), math.inf
    key = results.keys[item.code]
    return key.u, key.dof


def _estimate(results: Results, pair: str, item: Item) -> float:
    answer = results.answers.get((pair, item.code))
    return math.nan if answer is None or answer.estimate is None else float(answer.estimate)


def _own_u(results: Results, pair: str, item: Item, gain_u: float) -> float:
    answer = results.answers.get((pair, item.code))
    if answer is None or answer.estimate is None or item.station is not Station.MASS:
        return 0.0
    return math.sqrt(max(answer.u**2 - (gain_u * float(answer.estimate)) ** 2, 0.0))
