"""What the event is at, as the database tells it: the key of everything computed before."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from django.db import connection, transaction

from nearmark.site.common.revision_model import RevisionRow


@dataclass(frozen=True, slots=True)
class Revision:
    """Two of them are equal only if nothing has changed between."""

    event: str  # of the event, its kit, its pairs and heats
    readings: str  # of what was read off the sheets


def revision_now() -> Revision | None:
    """The revision that this transaction sees; ``None`` while the database keeps none."""
    row = RevisionRow.objects.filter(pk=1).values_list("event", "readings").first()
    return None if row is None else Revision(*row)


@contextmanager
def one_moment() -> Iterator[None]:
    """Let everything read inside be of one moment, and keep no writer waiting.

    Inside a transaction that is open already it changes nothing.
    """
    if connection.in_atomic_block:
        yield
    elif connection.vendor == "postgresql":
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield
    else:
        # atomic() would begin as a writer; a reader of the write-ahead log sees one moment without.
        with connection.cursor() as cursor:
            if connection.connection.in_transaction:
                yield
                return
            cursor.execute("BEGIN DEFERRED")
            try:
                yield
            finally:
                cursor.execute("COMMIT")
