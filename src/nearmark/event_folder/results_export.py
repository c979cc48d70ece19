"""Results as CSV for a spreadsheet: standings, scores of every item, keys."""

import math
import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from nearmark.contest.keys import ItemKey
from nearmark.contest.results import ItemScore, PairResult, Results
from nearmark.event_folder.guard import guarded
from nearmark.event_folder.numbers import shown
from nearmark.event_folder.saving import replace_each
from nearmark.event_folder.writer import csv_text, encoded
from nearmark.words.keys import problem_words

STANDINGS = (
    "place",
    "pair",
    "school",
    "member_1",
    "member_2",
    "status",
    "total",
    "total_numerator",
    "total_denominator",
)
ITEM_SCORES = (
    "pair",
    "item",
    "status",
    "state",
    "estimate",
    "score",
    "score_numerator",
    "score_denominator",
    "weighted_score",
)
KEYS = (
    "item",
    "station",
    "name",
    "unit",
    "key",
    "measured_value",
    "standard_uncertainty",
    "expanded_uncertainty",
    "dof",
    "fit",
    "decided_by",
    "reason",
    "problem",
)


_NAMES = ("member_1", "member_2")


@dataclass(frozen=True, slots=True)
class ResultTable:
    """One table of results; every cell is safe in a spreadsheet."""

    name: str  # of the file or the sheet, without ending
    heading: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def csv(self) -> bytes:
        """As a file of comma-separated values."""
        name = f"{self.name}.csv"
        return encoded(name, csv_text(self.heading, self.rows))


def result_tables(results: Results, *, names: bool = True) -> tuple[ResultTable, ...]:
    """Standings, scores of every item, keys.

    Scores and totals stand rounded as printed and exactly, as numerator and denominator: written
    7/3, a spreadsheet would make a date of it.

    ``names``: whether the children's names stand beside the codes; else their columns are left out.
    """
    decimals = results.event.rules.decimals
    places = [_place(line, decimals) for line in results.pairs]
    keep = [i for i, column in enumerate(STANDINGS) if names or column not in _NAMES]
    return (
        ResultTable(
            "standings",
            tuple(STANDINGS[i] for i in keep),
            tuple(tuple(row[i] for i in keep) for row in places),
        ),
        ResultTable(
            "item_scores", ITEM_SCORES, tuple(map(tuple, _scores(results.pairs, decimals)))
        ),
        ResultTable("keys", KEYS, tuple(tuple(_key(key)) for key in results.keys.values())),
    )


def export_results(results: Results, path: str | os.PathLike[str]) -> None:
    """Write ``standings.csv``, ``item_scores.csv`` and ``keys.csv``.

    ``path`` (path of a folder): made when it is not there. Raises InputError if the folder cannot
    be written to.
    """
    replace_each(Path(path), {f"{table.name}.csv": table.csv for table in result_tables(results)})


def _place(line: PairResult, decimals: int) -> list[str]:
    pair = line.pair
    first, second = (*pair.members, "", "")[:2]
    return [
        shown(line.place),
        *map(guarded, (pair.code, pair.school, first, second)),
        pair.status.value,
        _rounded(line.total, decimals),
        *_exactly(line.total),
    ]


def _scores(lines: Sequence[PairResult], decimals: int) -> Iterator[list[str]]:
    for line in lines:
        for score in line.items:
            yield [guarded(line.pair.code), *_score(score, decimals)]


def _score(score: ItemScore, decimals: int) -> list[str]:
    return [
        guarded(score.item),
        score.status.value,
        score.state.value,
        shown(score.estimate),
        _rounded(score.score, decimals),
        *_exactly(score.score),
        _rounded(score.weighted, decimals),
    ]


def _dof(key: ItemKey) -> str:
    if key.is_only_decided:
        return ""
    return "infinite" if math.isinf(key.dof) else _measured(key.dof)


def _key(key: ItemKey) -> list[str]:
    assigned, decision = key.assigned, key.decision
    return [
        guarded(key.item.code),
        key.item.station.value,
        guarded(key.item.name),
        key.unit,
        shown(key.key),
        "" if assigned is None else _measured(assigned.value),
        "" if key.is_only_decided else _measured(key.u),
        "" if key.borne_by is None else _measured(key.borne_by.expanded_u),
        _dof(key),
        "yes" if key.fit else "no",
        "" if decision is None else guarded(decision.by),
        "" if decision is None else guarded(decision.reason),
        guarded(problem_words(key)),
    ]


def _rounded(points: Fraction, decimals: int) -> str:
    """Points as printed; ties go to the even digit."""
    exact = round(points, decimals)
    return f"{Decimal(exact.numerator) / Decimal(exact.denominator):.{decimals}f}"


def _exactly(points: Fraction) -> tuple[str, str]:
    return str(points.numerator), str(points.denominator)


def _measured(value: float) -> str:
    return shown(Decimal(repr(value))) if math.isfinite(value) else ""
