"""A pupil's body references as one plain CSV file: one row a reading."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from nearmark.coaching.body_reference import BodyReference, calibrated
from nearmark.event_folder.kinds import NAME, measure
from nearmark.event_folder.practice_log import DAY
from nearmark.event_folder.single_file import read_single
from nearmark.event_folder.table import Column, Table
from nearmark.measurement.instruments import Instrument

MIN_CM, MAX_CM = 0.2, 300


@dataclass(frozen=True, slots=True)
class ReferenceRow:
    """One reading; fields as the columns of ``table_of``."""

    reference: str
    reading_cm: Decimal
    day: date | None


def _is_a_hand(row: ReferenceRow) -> tuple[str, str, str] | None:
    if MIN_CM <= row.reading_cm <= MAX_CM:
        return None
    what = f"must be {MIN_CM} to {MAX_CM} cm, not {row.reading_cm}"
    return "reading_cm", what, "Write it in cm"


def table_of(file: str) -> Table:
    """The columns, under the name the file happens to have.

    ``file``: name for the messages.
    """
    return Table(
        file,
        "references",
        (
            Column("reference", NAME, "what of the hand, such as palm"),
            Column("reading_cm", measure(), "one reading in cm, the hand placed again"),
            Column("day", DAY, "day of the reading, such as 2027-02-03", empty=None),
        ),
        ReferenceRow,
        check=_is_a_hand,
    )


def read_references(path: Path, ruler: Instrument) -> tuple[tuple[BodyReference, ...], date | None]:
    """Read body references.

    ``ruler``: in cm. Returns them in the order of the file, and the day of the oldest reading.
    Raises FilesError with every problem of the file, by row and column. Raises InputError if the
    file is not there or holds no row.
    """
    rows: list[ReferenceRow] = read_single(path, table_of)
    readings: dict[str, list[float]] = defaultdict(list)
    for row in rows:
        readings[row.reference].append(float(row.reading_cm))
    days = [row.day for row in rows if row.day is not None]
    found = tuple(calibrated(name, own, ruler) for name, own in readings.items())
    return found, min(days, default=None)
