"""One look at the database: who may be in, and which event is there."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.db import connection

_SIGHT: Final = (
    "SELECT r.event, r.doors, s.session_data FROM site_revisionrow r LEFT JOIN django_session s "
    "ON s.session_key = %s AND s.expire_date > %s WHERE r.id = 1"
)


@dataclass(frozen=True, slots=True)
class SessionState:
    """What one look at the database tells of a request."""

    event: str | None = None  # revision of the event
    doors: str | None = None  # revision of accounts and devices
    # Signed content of the session; ``None`` when there is none, or it has ended.
    session: str | None = None


def read_session_state(session_key: str | None, now: datetime) -> SessionState:
    """Look once, with the session's key as the browser sent it."""
    with connection.cursor() as cursor:
        cursor.execute(_SIGHT, [session_key, connection.ops.adapt_datetimefield_value(now)])
        row = cursor.fetchone()
    return SessionState() if row is None else SessionState(*row)
