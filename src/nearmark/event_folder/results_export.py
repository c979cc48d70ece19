"""Results as CSV for a spreadsheet: standings, scores of every item, keys."""

import math
import os
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from nearmark.contest.keys import ItemKey
from nearmark.contest.results import ItemScore, PairResult, Results
from nearmark.contest.school_totals import school_rankings, school_totals
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


DIVISION_PLACES = ("division", "division_place")
"""More columns of the standings, of an event with divisions."""

SCHOOLS = (
    "place",
    "division",
    "school",
    "total",
    "total_numerator",
    "total_denominator",
    "pairs",
    "counted",
)
"""Only under a rule set that ranks schools; ``division`` only where each is ranked by itself."""

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
    heading = (*STANDINGS, *DIVISION_PLACES)
    left_out = {
        *(() if names else _NAMES),
        *(() if results.event.divisions else DIVISION_PLACES),
    }
    return (
        _table_without("standings", heading, places, left_out),
        ResultTable(
            "item_scores", ITEM_SCORES, tuple(map(tuple, _scores(results.pairs, decimals)))
        ),
        ResultTable("keys", KEYS, tuple(tuple(_key(key)) for key in results.keys.values())),
        *_school_tables(results),
    )


def _table_without(
    name: str, heading: Sequence[str], rows: Sequence[Sequence[str]], left_out: Collection[str]
) -> ResultTable:
    """A table without some of its columns."""
    keep = [i for i, column in enumerate(heading) if column not in left_out]
    return ResultTable(
        name,
        tuple(heading[i] for i in keep),
        tuple(tuple(row[i] for i in keep) for row in rows),
    )


def _school_tables(results: Results) -> tuple[ResultTable, ...]:
    """The totals of the schools; no table when the rule set ranks none."""
    if results.event.rules.school_total is None:
        return ()
    decimals = results.event.rules.decimals
    rows = [
        [
            shown(one.place),
            guarded(ranking.division),
            guarded(one.school),
            _rounded(one.total, decimals),
            *_exactly(one.total),
            str(one.n_pairs),
            guarded(" ".join(one.counted)),
        ]
        for ranking in school_rankings(results)
        for one in school_totals(ranking)
    ]
    left_out = {"division"} if results.is_comparable else ()
    return (_table_without("schools", SCHOOLS, rows, left_out),)


def export_results(results: Results, path: str | os.PathLike[str]) -> None:
    """Write ``standings.csv``, ``item_scores.csv`` and ``keys.csv``.

    Under a rule set that ranks schools ``schools.csv`` too.

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
        guarded(pair.division),
        shown(line.division_place),
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
