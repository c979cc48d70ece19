"""Who is here and who is missing, heat by heat and school by school."""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from nearmark.contest.heat_records import in_order
from nearmark.event_folder.pair_headings import folded
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event_day.heats.models import HeatRun
from nearmark.site.event_day.heats.state import Hall, halls_now, rooms_of
from nearmark.words.desk import pairs_here, pairs_missing, progress_words, runs_until, without_heat
from nearmark.words.event_rooms import heat_in_room
from nearmark.words.heats import heat_words

MIN_LETTERS: Final = 2


@dataclass(frozen=True, slots=True)
class HeatSheet:
    """One heat on the page."""

    name: str  # empty: those without a heat
    rows: list[PairRecord]
    progress: str  # how far the heat is, in words; empty while it waits
    room: str = ""  # empty: the event has no rooms, or the pairs have none yet

    @property
    def called(self) -> str:
        """The heat, and the room if it has one."""
        return heat_in_room(heat_words(self.name), self.room)

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
    rooms: tuple[str, ...] = ()  # to choose from; empty: the event has no rooms
    room: str = ""  # whose pairs these are; empty: of every room

    @property
    def headline(self) -> str:
        """How many are here, in words."""
        return pairs_here(self.n_heats, self.n_here, self.n_pairs)

    @property
    def schools_missing(self) -> str:
        """How many are missing, before the schools that they are of."""
        return pairs_missing(self.n_missing)

    @property
    def waiting_for_heat(self) -> str:
        """How many are in no heat, in words."""
        return without_heat(self.n_without)


def roll(record: EventRecord | None, rows: list[PairRecord], room: str = "") -> Roll:
    """Who is here of those who take part: all, or those of a room and those without one."""
    rooms = tuple(name for name in rooms_of(record) if name)
    room = room if room in rooms else ""
    if room:
        rows = [row for row in rows if row.room in {room, ""}]
    names = in_order({row.heat for row in rows if row.heat})
    halls = {hall.room: hall for hall in halls_now(record)}
    runs = list(record.heat_runs.all()) if record else []
    sheets = []
    # Those without a heat first: they are what is left to do.
    for name in [*([""] if any(not row.heat for row in rows) else []), *names]:
        of_heat = [row for row in rows if row.heat == name]
        for at in sorted({row.room for row in of_heat}, key=_room_order(rooms)):
            of_room = [row for row in of_heat if row.room == at]
            sheets.append(HeatSheet(name, of_room, _progress(name, halls.get(at), runs), at))
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
        rooms=rooms,
        room=room,
    )


def _room_order(rooms: tuple[str, ...]) -> Callable[[str], int]:
    """The rooms in their order; those who have none come first."""
    return lambda room: rooms.index(room) if room in rooms else -1


def _progress(name: str, hall: Hall | None, runs: list[HeatRun]) -> str:
    """How far a heat is. ``hall``: of its room; ``None``: the pairs have no room yet."""
    if hall is None:
        return progress_words("without a room")
    if hall.is_running and hall.run is not None and hall.run.heat == name:
        return progress_words("paused") if hall.is_paused else runs_until(hall.ends)
    if any(run.heat == name and run.room in {hall.room, ""} for run in runs):
        return progress_words("over")
    return progress_words("next") if name and name == hall.next_heat else ""


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
