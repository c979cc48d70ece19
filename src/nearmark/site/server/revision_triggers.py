"""The database rewrites ``RevisionRow`` by itself, in the transaction of every change.

A trigger sees what an act, a bulk write, a shell and a second process do alike, so that nobody has
to remember it.  They are made again after every ``migrate``: SQLite drops the triggers of a table
that a migration makes again.
"""

from collections.abc import Iterator
from typing import Any, Final

from django.apps import apps
from django.db import connections, models

from nearmark.site.common.revision_model import RevisionRow
from nearmark.site.door.models import Account, Device
from nearmark.site.event.answer_models import AdjudicationEntry, AnswerEntry, AuditEntry
from nearmark.site.event.models import Change, EventRecord
from nearmark.site.jobs.models import Job, JobFile

_READINGS: Final = (AnswerEntry, AdjudicationEntry, AuditEntry)
_DOORS: Final = (Account, Device)
_TELLS_ONLY: Final = (Change, Job, JobFile)
"""Belong to an event, and nothing is computed from them."""

_UNTOLD: Final = {(Device, "seen_at")}
"""Rewritten every minute, and of no matter to what the device may do."""

_COLUMNS: Final = ("event", "readings", "doors")
_VERBS: Final = ("INSERT", "UPDATE", "DELETE")
_Watched = dict[str, tuple[str, dict[str, str]]]
"""Table -> the column that tells its changes, and the verbs that are watched for."""

_SQLITE_NEW: Final = "lower(hex(randomblob(16)))"
_POSTGRESQL_NEW: Final = "replace(gen_random_uuid()::text, '-', '')"


def watched_tables() -> dict[type[models.Model], str]:
    """Every table whose changes count -> the column that tells them.

    Returns column of ``RevisionRow`` by model: all that belong to an event, one made tomorrow too,
    unless it is named above.
    """
    models_ = apps.get_app_config("site").get_models()
    found = {model: "event" for model in models_ if _belongs_to_event(model)}
    found |= dict.fromkeys(_READINGS, "readings") | dict.fromkeys(_DOORS, "doors")
    return {model: column for model, column in found.items() if model not in _TELLS_ONLY}


def _belongs_to_event(model: type[models.Model]) -> bool:
    if model is EventRecord:
        return True
    fields = model._meta.fields  # noqa: SLF001 - documented by Django
    parents = [f.related_model for f in fields if f.many_to_one or f.one_to_one]
    return any(isinstance(p, type) and p is not model and _belongs_to_event(p) for p in parents)


def make_triggers(using: str = "default", **_: Any) -> None:
    """Make the triggers, and the row they rewrite. ``using``: name of the database."""
    connection = connections[using]
    row, there = _table(RevisionRow), set(connection.introspection.table_names())
    watched = {
        table: (column, _verbs(model))
        for model, column in watched_tables().items()
        if (table := _table(model)) in there
    }
    statements = _postgresql if connection.vendor == "postgresql" else _sqlite
    with connection.cursor() as cursor:
        for statement in statements(row, watched, is_there=row in there):
            cursor.execute(statement)


def _table(model: type[models.Model]) -> str:
    return model._meta.db_table  # noqa: SLF001 - documented by Django


def _verbs(model: type[models.Model]) -> dict[str, str]:
    """What is watched for -> how a trigger says it; a change of columns untold is not."""
    names = {str(f.column) for f in model._meta.fields}  # noqa: SLF001 - documented by Django
    columns = sorted(name for name in names if (model, name) not in _UNTOLD)
    some = f" OF {', '.join(columns)}" if len(columns) < len(names) else ""
    return {verb: verb + (some if verb == "UPDATE" else "") for verb in _VERBS}


def _first(row: str, new: str) -> str:
    return (
        f"INSERT INTO {row} (id, event, readings, doors) VALUES (1, {new}, {new}, {new}) "  # noqa: S608 - nothing typed
        f"ON CONFLICT (id) DO UPDATE SET {', '.join(f'{c} = excluded.{c}' for c in _COLUMNS)}"
    )


def _rewrite(row: str, new: str, column: str) -> str:
    return f"UPDATE {row} SET {column} = {new} WHERE id = 1"  # noqa: S608 - nothing typed


def _sqlite(row: str, watched: _Watched, *, is_there: bool) -> Iterator[str]:
    if is_there:
        yield _first(row, _SQLITE_NEW)
    for table, (column, verbs) in watched.items():
        for verb, said in verbs.items():
            name = f"revision_{table}_{verb.lower()}"
            yield f"DROP TRIGGER IF EXISTS {name}"
            if is_there:  # else migrated backwards
                yield (
                    f"CREATE TRIGGER {name} AFTER {said} ON {table} "
                    f"BEGIN {_rewrite(row, _SQLITE_NEW, column)}; END"
                )


def _postgresql(row: str, watched: _Watched, *, is_there: bool) -> Iterator[str]:
    if is_there:
        yield _first(row, _POSTGRESQL_NEW)
        for column in _COLUMNS:
            yield (
                f"CREATE OR REPLACE FUNCTION revise_{column}() RETURNS trigger LANGUAGE plpgsql AS "
                f"$$ BEGIN {_rewrite(row, _POSTGRESQL_NEW, column)}; RETURN NULL; END $$"
            )
    for table, (column, verbs) in watched.items():
        name = f"revision_{table}"
        yield f"DROP TRIGGER IF EXISTS {name} ON {table}"
        if is_there:
            # Before the rows themselves: two writers wait for each other here and nowhere later.
            yield (
                f"CREATE TRIGGER {name} BEFORE {' OR '.join(verbs.values())} ON {table} "
                f"FOR EACH STATEMENT EXECUTE FUNCTION revise_{column}()"
            )
