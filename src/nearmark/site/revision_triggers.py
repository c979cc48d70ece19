"""The database rewrites ``RevisionRow`` by itself, in the transaction of every change.

A trigger sees what an act, a bulk write, a shell and a second process do alike, so that nobody has
to remember it.  They are made again after every ``migrate``: SQLite drops the triggers of a table
that a migration makes anew.
"""

from collections.abc import Iterator
from typing import Any, Final

from django.apps import apps
from django.db import connections, models

from nearmark.site.models import (
    Account,
    AdjudicationEntry,
    AnswerEntry,
    Change,
    Device,
    EventRecord,
    Job,
    JobFile,
    RevisionRow,
)

_READINGS: Final = (AnswerEntry, AdjudicationEntry)
_DOORS: Final = (Account, Device)
_TELLS_ONLY: Final = (Change, Job, JobFile)
"""Belong to an event, and nothing is computed from them."""

_VERBS: Final = ("INSERT", "UPDATE", "DELETE")
_SQLITE_NEW: Final = "lower(hex(randomblob(16)))"
_POSTGRESQL_NEW: Final = "replace(gen_random_uuid()::text, '-', '')"


def watched_tables() -> dict[type[models.Model], str]:
    """Every table whose changes count -> the column that tells them.

    Returns
    -------
    dict of model -> column of ``RevisionRow``
        All that belong to an event, one made tomorrow too, unless it is named above.
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
    """Make the triggers, and the row they rewrite.

    Parameters
    ----------
    using : str
        Name of the database.
    """
    connection = connections[using]
    table = _table(RevisionRow)
    if table not in connection.introspection.table_names():
        return  # migrated backwards
    statements = _postgresql if connection.vendor == "postgresql" else _sqlite
    with connection.cursor() as cursor:
        for statement in statements(table):
            cursor.execute(statement)


def _table(model: type[models.Model]) -> str:
    return model._meta.db_table  # noqa: SLF001 - documented by Django


def _rewrite(table: str, new: str, columns: tuple[str, ...]) -> str:
    drawn = ", ".join(f"{column} = excluded.{column}" for column in columns)
    return (
        f"INSERT INTO {table} (id, event, readings, doors) VALUES (1, {new}, {new}, {new}) "  # noqa: S608 - nothing typed
        f"ON CONFLICT (id) DO UPDATE SET {drawn}"
    )


def _sqlite(table: str) -> Iterator[str]:
    yield _rewrite(table, _SQLITE_NEW, ("event", "readings", "doors"))
    for model, column in watched_tables().items():
        watched = _table(model)
        for verb in _VERBS:
            name = f"revision_{watched}_{verb.lower()}"
            yield f"DROP TRIGGER IF EXISTS {name}"
            yield (
                f"CREATE TRIGGER {name} AFTER {verb} ON {watched} "
                f"BEGIN {_rewrite(table, _SQLITE_NEW, (column,))}; END"
            )


def _postgresql(table: str) -> Iterator[str]:
    yield _rewrite(table, _POSTGRESQL_NEW, ("event", "readings", "doors"))
    for column in ("event", "readings", "doors"):
        yield (
            f"CREATE OR REPLACE FUNCTION revise_{column}() RETURNS trigger LANGUAGE plpgsql AS "
            f"$$ BEGIN {_rewrite(table, _POSTGRESQL_NEW, (column,))}; RETURN NULL; END $$"
        )
    for model, column in watched_tables().items():
        watched = _table(model)
        name = f"revision_{watched}"
        yield f"DROP TRIGGER IF EXISTS {name} ON {watched}"
        # Before the rows themselves: two writers wait for each other here and nowhere later.
        yield (
            f"CREATE TRIGGER {name} BEFORE {' OR '.join(_VERBS)} ON {watched} "
            f"FOR EACH STATEMENT EXECUTE FUNCTION revise_{column}()"
        )
