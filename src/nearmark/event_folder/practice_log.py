"""The season's log as one plain CSV file: who estimated what, and how it was put together."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

from nearmark.coaching.attempt import STATION_PARTS, Attempt, parts_from
from nearmark.errors import InputError
from nearmark.event_folder.kinds import NAME, TEXT, Kind, choice, measure
from nearmark.event_folder.numbers import NumberStyle
from nearmark.event_folder.single_file import read_content, read_single
from nearmark.event_folder.table import Column, Table
from nearmark.station import Station

MAX_FACTOR: Final = 1_000_000
"""An estimate further from the true value is not one."""


def _day(cell: str, _style: NumberStyle) -> date:
    try:
        return date.fromisoformat(cell)
    except ValueError as error:
        mend = "Write it like 2027-02-03 (year, month, day)"
        raise InputError("is not a date", mend=mend) from error


DAY: Final = Kind(_day, str)


@dataclass(frozen=True, slots=True)
class LogRow:
    """One row as it is; the fields are the first columns, ``parts`` the others by name."""

    day: date
    pupil: str
    pair: str
    station: Station
    thing: str
    size: str
    estimate: Decimal
    true: Decimal
    parts: dict[str, Decimal | None]

    def attempt(self) -> Attempt:
        """The attempt this row tells of."""
        parts = {name: float(cell) for name, cell in self.parts.items() if cell is not None}
        return Attempt(
            self.day,
            self.pupil,
            self.station,
            self.thing,
            float(self.estimate),
            float(self.true),
            self.size,
            parts_from(self.station, parts),
            self.pair,
        )


_ABOUT: Final = {
    "layer": "pieces in one layer, as the pupil had them",
    "layers": "number of layers, as the pupil had them",
    "layer_true": "pieces in one layer, as the coach counted them",
    "layers_true": "number of layers, as the coach counted them",
    "length_cm": "the pupil's length in cm",
    "width_cm": "the pupil's width in cm",
    "height_cm": "the pupil's height in cm",
    "length_true_cm": "length by the ruler in cm",
    "width_true_cm": "width by the ruler in cm",
    "height_true_cm": "height by the ruler in cm",
    "cup_g": "mass of the empty cup in g",
    "density_g_cm3": "bulk density of the material in g/cm3",
}


def _agrees(row: LogRow) -> tuple[str, str, str] | None:
    ratio = float(row.estimate / row.true)
    if not 1 / MAX_FACTOR <= ratio <= MAX_FACTOR:
        return "estimate", "is more than a million times off", "Check both numbers"
    for station, (own, true) in STATION_PARTS.items():
        given = [name for name in (*own, *true) if row.parts[name] is not None]
        if not given:
            continue
        if station is not row.station:
            what = f"is given although the station is {row.station}"
            return given[0], what, "Empty the cell or correct the station"
        lost = [name for name in own if row.parts[name] is None]
        if lost:
            what = f"is empty although {given[0]} is given"
            return lost[0], what, f"Write it, or empty {given[0]} too"
    return None


def _row(*cells: Any) -> LogRow:  # noqa: ANN401 - cells of every kind
    first = dict(zip(LogRow.__slots__, cells[:8], strict=False))
    return LogRow(**first, parts=dict(zip(_ABOUT, cells[8:], strict=True)))


def table_of(file: str) -> Table:
    """The log's columns, under the name the file happens to have.

    ``file``: name for the messages.
    """
    number = measure()
    return Table(
        file,
        "attempts",
        (
            Column("day", DAY, "day of the session, such as 2027-02-03"),
            Column("pupil", NAME, "first name or code, nothing more"),
            Column("pair", TEXT, "code of the pair the pupil belongs to", empty=""),
            Column("station", choice(Station), "mass, count or volume"),
            Column("thing", NAME, "what was estimated"),
            Column("size", TEXT, "size class; empty: all sizes together", empty=""),
            Column("estimate", number, "what the pupil said; at the mass station the net mass"),
            Column("true", number, "true value; at the mass station the mass asked for"),
            *(Column(name, number, about, empty=None) for name, about in _ABOUT.items()),
        ),
        _row,
        check=_agrees,
    )


def read_practice_log(path: Path) -> tuple[Attempt, ...]:
    """Read a practice log.

    Returns: in the order of the file. Raises FilesError with every problem of the file, by row and
    column. Raises InputError if the file is not there or holds no row.
    """
    return tuple(row.attempt() for row in read_single(path, table_of))


def practice_log_of(name: str, content: bytes) -> tuple[Attempt, ...]:
    """Read a practice log from its bytes, as they come with an upload.

    ``name``: of the file, for the messages. Returns: in the order of the file. Raises FilesError
    with every problem, by row and column. Raises InputError if there is no row.
    """
    return tuple(row.attempt() for row in read_content(name, content, table_of))
