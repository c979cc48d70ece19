"""The placed pairs' answers on the items that have a key, taken out of the results as arrays."""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.answer_table import AnswerTable
from nearmark.contest.answers import AcceptedAnswer
from nearmark.contest.division import items_of
from nearmark.contest.event import Item
from nearmark.contest.keys import ItemKey
from nearmark.contest.results import Results, item_weight
from nearmark.errors import InputError
from nearmark.measurement.budget import Component
from nearmark.station import Station

_NOTHING: Final = 1e-6
"""An own part this small beside the whole is rounding."""


def placed_answers(
    results: Results,
) -> tuple[tuple[str, ...], tuple[str, ...], AnswerTable]:
    """Answers of the placed pairs on the items that have a key.

    Codes of the pairs, best first; codes of the items; their answers.

    >>> from nearmark.contest.example import two_pairs
    >>> from nearmark.contest.results import results
    >>> day = two_pairs()
    >>> codes, items, table = placed_answers(results(day))
    >>> codes, items, table.estimates.tolist(), table.keys.tolist()
    (('P1', 'P2'), ('C1',), [[950.0], [1061.0]], [1004.0])

    Raises
    ------
    InputError : if no pair is placed, or no item has a key
    """
    placed = [line for line in results.pairs if line.is_placed]
    asked_of = [{item.code for item in items_of(line.pair, results.event)} for line in placed]
    items = [
        item
        for item in results.event.items
        if _key(item, results) is not None and any(item.code in codes for codes in asked_of)
    ]
    if not placed or not items:
        raise InputError(
            "nothing to rank",
            where="results",
            value=f"{len(placed)} placed pairs, {len(items)} items with a key",
            mend="Enter answers, and the weighings of at least one item",
        )
    codes = tuple(line.pair.code for line in placed)
    rules = results.event.rules
    keys = [results.keys[item.code] for item in items]
    answers = [[results.answers.get((code, item.code)) for item in items] for code in codes]
    rows = [[answer.causes if answer else () for answer in line] for line in answers]
    causes = _by_name([*(key.causes for key in keys), *(row for line in rows for row in line)])
    key_moves = np.array([_moves(key.causes, causes) for key in keys])
    own_moves = np.array([[_moves(row, causes) for row in line] for line in rows])
    own = [_own_part(key, moves) for key, moves in zip(keys, key_moves, strict=True)]
    total_u = np.array([[_u(answer) for answer in line] for line in answers])
    table = AnswerTable(
        estimates=np.array([[_estimate(answer) for answer in line] for line in answers]),
        own_u=np.sqrt(np.maximum(total_u**2 - (own_moves**2).sum(axis=2), 0.0)),
        keys=np.array([_key(item, results) for item in items], dtype=np.float64),
        key_u=np.array([u for u, _ in own]),
        key_dof=np.array([dof for _, dof in own]),
        weights=np.array([float(item_weight(item, rules)) for item in items]),
        stations=tuple(item.station for item in items),
        rules=rules,
        causes=tuple(causes.values()),
        key_moves=key_moves,
        own_moves=own_moves,
        asked=np.array([[item.code in one for item in items] for one in asked_of]),
    )
    return codes, tuple(item.code for item in items), table


def _key(item: Item, results: Results) -> float | None:
    if item.station is Station.MASS:
        return float(results.event.rules.target_mass_g)
    key = results.keys[item.code].key
    return None if key is None else float(key)


def _by_name(rows: Iterable[Sequence[Component]]) -> dict[str, Component]:
    """Every cause once, by its name, in the order of the names."""
    found = {cause.name: cause for row in rows for cause in row}
    return {name: found[name] for name in sorted(found)}


def _moves(row: Sequence[Component], causes: Mapping[str, Component]) -> list[float]:
    by_name = {cause.name: cause.sensitivity * cause.u for cause in row}
    return [by_name.get(name, 0.0) for name in causes]


def _own_part(key: ItemKey, moves: NDArray[np.float64]) -> tuple[float, float]:
    """Standard uncertainty of what the key shares with nothing, and its degrees of freedom.

    The causes are taken as exactly known, so the Welch-Satterthwaite formula (GUM G.2b) has one
    term and gives the degrees of freedom of its own part back.
    """
    own_u = math.sqrt(max(key.u**2 - float((moves**2).sum()), 0.0))
    if own_u <= _NOTHING * key.u:
        return 0.0, math.inf
    return own_u, key.dof * (own_u / key.u) ** 4


def _estimate(answer: AcceptedAnswer | None) -> float:
    return math.nan if answer is None or answer.estimate is None else float(answer.estimate)


def _u(answer: AcceptedAnswer | None) -> float:
    return 0.0 if answer is None or answer.estimate is None else answer.u
