"""The two statements an entry needs, written out: building them anew took nine tenths of its time.

The columns are those of ``AnswerEntry``; a test reads back through it what is written here.
"""

import uuid
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any, Final

from django.db import connection

_LOOK: Final = (
    "SELECT r.event, e.id, e.key, e.pair_id, e.item_id, e.reading, e.clerk, e.status, e.value, "
    "e.cup FROM site_revisionrow r LEFT JOIN site_answerentry e "
    "ON e.key = %s OR (e.pair_id = %s AND e.item_id = %s AND e.struck_at IS NULL) WHERE r.id = 1"
)
_ADD: Final = (
    "INSERT INTO site_answerentry (key, pair_id, item_id, reading, clerk, status, value, cup, at, "
    "struck_by, struck_why) VALUES (%s, %s, %s, %s, %s, %s, %s, %s, %s, '', '') RETURNING id"
)


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading as it is kept.

    Attributes
    ----------
    pk : int
    key : UUID
    pair, item : int
        Their numbers.
    reading : int
        First or second.
    clerk, status : str
    value : unit of the station, or None
    cup : str
    """

    pk: int
    key: uuid.UUID
    pair: int
    item: int
    reading: int
    clerk: str
    status: str
    value: Decimal | None
    cup: str


def readings_beside(key: uuid.UUID, pair: int, item: int) -> tuple[str | None, list[ReadingRow]]:
    """What was read of an answer, and what was sent under a key.

    Parameters
    ----------
    key : UUID
    pair, item : int

    Returns
    -------
    (revision of the event, list of ReadingRow)
        Of one moment.
    """
    with connection.cursor() as cursor:
        cursor.execute(_LOOK, [_key(key), pair, item])
        found = cursor.fetchall()
    revision = found[0][0] if found else None
    return revision, [_row(columns[1:]) for columns in found if columns[1] is not None]


def add_reading(row: ReadingRow, at: datetime) -> ReadingRow:
    """Add one reading.

    Parameters
    ----------
    row : ReadingRow
        Its ``pk`` is not looked at.
    at : datetime

    Returns
    -------
    ReadingRow
        With its number.
    """
    value = None if row.value is None else f"{row.value:f}"
    at_value = connection.ops.adapt_datetimefield_value(at)
    given = [_key(row.key), row.pair, row.item, row.reading, row.clerk, row.status, value, row.cup]
    with connection.cursor() as cursor:
        cursor.execute(_ADD, [*given, at_value])
        number = cursor.fetchone()[0]
    return ReadingRow(number, *_columns(row)[1:])


def _columns(row: ReadingRow) -> tuple[Any, ...]:
    head = (row.pk, row.key, row.pair, row.item, row.reading)
    return (*head, row.clerk, row.status, row.value, row.cup)


def _row(columns: tuple[Any, ...]) -> ReadingRow:
    pk, key, pair, item, reading, clerk, status, value, cup = columns
    found = key if isinstance(key, uuid.UUID) else uuid.UUID(key)
    kept = None if value is None else Decimal(value)
    return ReadingRow(pk, found, pair, item, reading, clerk, status, kept, cup)


def _key(key: uuid.UUID) -> Any:
    return key if connection.features.has_native_uuid_field else key.hex
