"""Who is here and who is missing, heat by heat and school by school."""

from collections import Counter
from dataclasses import dataclass
from typing import Final

from nearmark.event_folder.pair_headings import folded
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event_day.heats.state import Hall, hall_now, in_order

MIN_LETTERS: Final = 2


@dataclass(frozen=True, slots=True)
class HeatSheet:
    """One heat on the page."""

    name: str  # empty: those without a heat
    rows: list[PairRecord]
    progress: str  # how far the heat is, in words; empty while it waits

    @property
    def n_here(self) -> int:
        """How many are checked in."""
        return sum(row.arrived_at is not None for row in self.rows)

    @property
    def missing(self) -> list[str]:
        """Codes of those who are not."""
        return [row.code for row in self.rows if row.arrived_at is None]


@dataclass(frozen=True, slots=True)
class SchoolToCome:
    """A school of which somebody is missing."""

    name: str
    n_missing: int
    n_pairs: int


@dataclass(frozen=True, slots=True)
class Roll:
    """Who is here and who is missing, of those who take part."""

    sheets: list[HeatSheet]
    n_heats: int
    n_pairs: int
    n_here: int
    n_missing: int
    n_without: int
    to_come: list[SchoolToCome]


def roll(record: EventRecord | None, rows: list[PairRecord]) -> Roll:
    """Everything the page says of who is here.

    ``rows``: those who take part.
    """
    hall = hall_now(record)
    names = in_order({row.heat for row in rows if row.heat})
    begun = set(record.heat_runs.values_list("heat", flat=True)) if record else set()
    sheets = [
        HeatSheet(name, [row for row in rows if row.heat == name], _progress(name, hall, begun))
        # Those without a heat first: they are what is left to do.
        for name in [*([""] if any(not row.heat for row in rows) else []), *names]
    ]
    missing = Counter(row.school for row in rows if row.arrived_at is None)
    of_school = Counter(row.school for row in rows)
    return Roll(
        sheets=sheets,
        n_heats=len(names),
        n_pairs=len(rows),
        n_here=sum(sheet.n_here for sheet in sheets),
        n_missing=sum(missing.values()),
        n_without=sum(not row.heat for row in rows),
        to_come=[SchoolToCome(name, missing[name], of_school[name]) for name in sorted(missing)],
    )


def _progress(name: str, hall: Hall, begun: set[str]) -> str:
    if hall.is_running and hall.run is not None and hall.run.heat == name:
        return "paused" if hall.is_paused else f"runs until {hall.ends}"
    if name in begun:
        return "over"
    return "next" if name and name == hall.next_heat else ""


def found(record: EventRecord, words: str) -> list[PairRecord]:
    """Pairs by code, by the beginning of a school's or a child's name, those missing first.

    Children's names are compared here and shown to nobody by it.
    """
    plain = folded(words)
    if len(plain) < MIN_LETTERS and not plain.isdigit():
        return []
    rows = [row for row in record.pairs.all() if _fits(row, plain)]
    return sorted(rows, key=lambda row: row.arrived_at is not None)


def _fits(row: PairRecord, plain: str) -> bool:
    texts = [row.code, row.school, *row.members]
    starts = [f" {folded(text)}" for text in texts]
    return any(f" {plain}" in start for start in starts)
