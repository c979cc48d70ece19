"""What is taken back is struck out, not deleted, and always with a reason."""

from datetime import datetime
from typing import Protocol

from nearmark.errors import InputError
from nearmark.site.common import clock


class Struck(Protocol):
    """A row that can be struck out."""

    struck_at: datetime | None
    struck_by: str
    struck_why: str


def need_reason(why: str, mend: str) -> None:
    """Refuse to go on without a reason; ``mend`` says what to write."""
    if not why:
        raise InputError("is needed", where="reason", mend=mend)


def strike(row: Struck, *, by: str, why: str) -> None:
    """Mark a row as struck out now; the caller saves it."""
    row.struck_at, row.struck_by, row.struck_why = clock.now(), by, why
