"""The duties towards what is known of children: keep it no longer than meant, delete it for good.

The history tells that something was deleted, by number; no line of it holds a child's name.
"""

from datetime import date
from typing import Final

from django.db import connection
from django.db.models import QuerySet

from nearmark.errors import InputError, RuleError
from nearmark.site.common.writing import writing
from nearmark.site.event.history import note
from nearmark.site.season.habits_cache import forget_readings
from nearmark.site.season.models import Club, Pupil

_UNSURE: Final = "Tick the box, then delete"


def set_keep_until(club: Club, day: date, *, today: date, by: str) -> None:
    """Change how long a club's data are kept."""
    check_keep(day, today)
    with writing():
        old, club.keep_until = club.keep_until, day
        club.save()
        note(None, by, f"club {club.pk}: how long it is kept", old=f"{old}", new=f"{day}")


def check_keep(day: date, today: date) -> None:
    """Refuse a last day that is over."""
    if day < today:
        raise InputError("is over already", where="keep until", value=day, mend="Name a later day")


def delete_pupil(pupil: Pupil, *, is_sure: bool, by: str) -> int:
    """Delete a pupil and all that is known of them, for good; how many attempts went."""
    if not is_sure:
        raise InputError("was not confirmed", where="delete", mend=_UNSURE)
    overwrite_what_is_deleted()
    with writing():
        n = pupil.attempts.count()
        note(None, by, f"club {pupil.club_id}: deleted a pupil", old=f"{n} attempts")
        pupil.delete()
    leave_nothing()
    return n


def delete_club(club: Club, *, is_sure: bool, by: str) -> None:
    """Delete a club with its pupils and everything that is known of them."""
    if not is_sure:
        raise InputError("was not confirmed", where="delete", mend=_UNSURE)
    overwrite_what_is_deleted()
    with writing():
        _delete(club, by, "deleted")
    leave_nothing()


def delete_overdue(clubs: QuerySet[Club], today: date, *, by: str) -> int:
    """Delete those of some clubs whose day is over, and count them; RuleError if none is."""
    overwrite_what_is_deleted()
    with writing():
        over = list(clubs.filter(keep_until__lt=today))
        if not over:
            raise RuleError("nothing is over its date", where="keep until")
        for club in over:
            _delete(club, by, "deleted at its date")
    leave_nothing()
    return len(over)


def _delete(club: Club, by: str, what: str) -> None:
    note(None, by, f"club {club.pk}: {what}", old=f"{club.pupils.count()} pupils")
    club.delete()


def overwrite_what_is_deleted() -> None:
    """SQLite leaves deleted rows in the file until their place is needed; here they go at once."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA secure_delete = ON")


def leave_nothing() -> None:
    """Empty the write-ahead log, which holds the old pages, and what was worked out."""
    forget_readings()
    if connection.vendor == "sqlite" and not connection.in_atomic_block:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
