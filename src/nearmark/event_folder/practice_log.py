"""The season's log as one plain CSV file: who estimated what, and how it was put together."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Final

from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
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
    """One row as it stands; fields as the columns of ``table_of``."""

    day: date
    pupil: str
    pair: str
    station: Station
    thing: str
    size: str
    estimate: Decimal
    true: Decimal
    layer: Decimal | None
    layers: Decimal | None
    layer_true: Decimal | None
    layers_true: Decimal | None
    length_cm: Decimal | None
    width_cm: Decimal | None
    height_cm: Decimal | None
    length_true_cm: Decimal | None
    width_true_cm: Decimal | None
    height_true_cm: Decimal | None
    cup_g: Decimal | None
    density_g_cm3: Decimal | None

    def cells(self, names: tuple[str, ...]) -> list[float | None]:
        """The numbers of some columns."""
        found = (getattr(self, name) for name in names)
        return [None if value is None else float(value) for value in found]

    def attempt(self) -> Attempt:
        """The attempt this row tells of."""
        return Attempt(
            self.day,
            self.pupil,
            self.station,
            self.thing,
            float(self.estimate),
            float(self.true),
            self.size,
            self._parts(),
            self.pair,
        )

    def _parts(self) -> Layers | Sides | Scoop | None:
        own, true = PARTS[self.station]
        parts, true_parts = self.cells(own), self.cells(true)
        given = [value for value in parts if value is not None]
        if len(given) < len(own):
            return None
        if self.station is Station.COUNT:
            return Layers(given[0], given[1], true_parts[0], true_parts[1])
        if self.station is Station.MASS:
            return Scoop(given[0], given[1])
        known = [value for value in true_parts if value is not None]
        sides = (known[0], known[1], known[2]) if len(known) == 3 else None
        return Sides(given[0], given[1], given[2], sides)


PARTS: Final[dict[Station, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    Station.MASS: (("cup_g", "density_g_cm3"), ()),
    Station.COUNT: (("layer", "layers"), ("layer_true", "layers_true")),
    Station.VOLUME: (
        ("length_cm", "width_cm", "height_cm"),
        ("length_true_cm", "width_true_cm", "height_true_cm"),
    ),
}
"""Columns of the parts of each station: the pupil's own, and the true ones."""

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
    for station, (own, true) in PARTS.items():
        given = [name for name in (*own, *true) if getattr(row, name) is not None]
        if not given:
            continue
        if station is not row.station:
            what = f"is given although the station is {row.station}"
            return given[0], what, "Empty the cell or correct the station"
        lost = [name for name in own if getattr(row, name) is None]
        if lost:
            what = f"is empty although {given[0]} is given"
            return lost[0], what, f"Write it, or empty {given[0]} too"
    return None


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
        LogRow,
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
