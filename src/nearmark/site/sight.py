"""One look at the database: who may be in, and which event stands there."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.db import connection

COLUMNS: Final = "r.event, r.doors, s.session_data"
"""What a ``Sight`` is made of, in its order."""

SOURCE: Final = (
    "site_revisionrow r LEFT JOIN django_session s ON s.session_key = %s AND s.expire_date > %s"
)
"""Where that stands; asks for the key of the session and the present."""

_SIGHT: Final = f"SELECT {COLUMNS} FROM {SOURCE} WHERE r.id = 1"  # noqa: S608 - nothing typed


@dataclass(frozen=True, slots=True)
class Sight:
    """What one look at the database tells of a request.

    Attributes
    ----------
    event : str or None
        Revision of the event.
    doors : str or None
        Revision of accounts and devices.
    session : str or None
        Signed content of the session; ``None`` when there is none, or no more.
    """

    event: str | None = None
    doors: str | None = None
    session: str | None = None


def sight_of(session_key: str | None, now: datetime) -> Sight:
    """Look once.

    Parameters
    ----------
    session_key : str or None
        As the browser sent it.
    now : datetime
    """
    with connection.cursor() as cursor:
        cursor.execute(_SIGHT, [session_key, connection.ops.adapt_datetimefield_value(now)])
        row = cursor.fetchone()
    return Sight() if row is None else Sight(*row)


@dataclass(frozen=True, slots=True)
class Admission:
    """What has to stand as it was for somebody who was let in before to be in still.

    Attributes
    ----------
    session_key : str
    doors : str
        Revision of accounts and devices when he was let in.
    session : str
        Signed content of his session then.
    """

    session_key: str
    doors: str
    session: str

    def holds(self, sight: Sight) -> bool:
        """Whether nothing has changed since.

        Parameters
        ----------
        sight : Sight
            Of the same session, now.
        """
        return (sight.doors, sight.session) == (self.doors, self.session)
