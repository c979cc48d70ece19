"""The two statements an entry needs, written out and given to the driver itself.

Building them anew took nine tenths of an entry's time, and of the rest what lies between Django's
cursor and the driver took four fifths (145 us for a look of 25 us).  The columns are those of
``AnswerEntry``; a test reads back through it what is written here.
"""

import uuid
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any, Final

from django.db import DEFAULT_DB_ALIAS, connections

from nearmark.site.sight import COLUMNS, SOURCE, Sight

_LOOK: Final = (
    f"SELECT {COLUMNS}, e.id, e.key, e.pair_id, e.item_id, e.reading, e.clerk, e.status, "  # noqa: S608 - nothing typed
    f"e.value, e.cup FROM {SOURCE} LEFT JOIN site_answerentry e "
    "ON e.key = %s OR (e.pair_id = %s AND e.item_id = %s AND e.struck_at IS NULL) WHERE r.id = 1"
)
_ADD: Final = (
    "INSERT INTO site_answerentry (key, pair_id, item_id, reading, clerk, status, value, cup, at, "
    "struck_by, struck_why) VALUES (%s, %s, %s, %s, %s, %s, %s, %s, %s, '', '') RETURNING id"
)
_QMARK: Final = {statement: statement.replace("%s", "?") for statement in (_LOOK, _ADD)}
"""As SQLite's driver writes the places of what is given."""


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


def readings_beside(
    key: uuid.UUID, pair: int, item: int, *, session_key: str, now: datetime
) -> tuple[Sight, list[ReadingRow]]:
    """What was read of an answer, what was sent under a key, and whether its sender is still in.

    Parameters
    ----------
    key : UUID
    pair, item : int
    session_key : str
        Of who sent it; empty where that was seen to before.
    now : datetime

    Returns
    -------
    (Sight, list of ReadingRow)
        Of one moment.
    """
    db = connections[DEFAULT_DB_ALIAS]
    at = db.ops.adapt_datetimefield_value(now)
    found = _told(db, _LOOK, (session_key, at, _key(db, key), pair, item))
    sight = Sight(*found[0][:3]) if found else Sight()
    return sight, [_row(columns[3:]) for columns in found if columns[3] is not None]


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
    db = connections[DEFAULT_DB_ALIAS]
    value = None if row.value is None else f"{row.value:f}"
    given = (_key(db, row.key), row.pair, row.item, row.reading, row.clerk, row.status, value)
    ((number,),) = _told(db, _ADD, (*given, row.cup, db.ops.adapt_datetimefield_value(at)))
    return ReadingRow(number, *_columns(row)[1:])


def _told(db: Any, statement: str, given: tuple[Any, ...]) -> list[tuple[Any, ...]]:
    """What the driver answers; its errors come as Django's.  Inside a transaction only."""
    with db.wrap_database_errors:
        cursor = db.connection.cursor()
        cursor.execute(_QMARK[statement] if db.vendor == "sqlite" else statement, given)
        return cursor.fetchall()  # type: ignore[no-any-return]  # rows of the driver


def _columns(row: ReadingRow) -> tuple[Any, ...]:
    head = (row.pk, row.key, row.pair, row.item, row.reading)
    return (*head, row.clerk, row.status, row.value, row.cup)


def _row(columns: tuple[Any, ...]) -> ReadingRow:
    pk, key, pair, item, reading, clerk, status, value, cup = columns
    found = key if isinstance(key, uuid.UUID) else uuid.UUID(key)
    kept = None if value is None else Decimal(value)
    return ReadingRow(pk, found, pair, item, reading, clerk, status, kept, cup)


def _key(db: Any, key: uuid.UUID) -> Any:
    return key if db.features.has_native_uuid_field else key.hex
