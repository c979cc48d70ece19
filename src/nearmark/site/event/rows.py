"""Between a record of ``nearmark.contest.event`` and the row of its table, both ways.

A field and its column have the same name, so a new field needs no line here.  A field that is a
record itself has a column for each of its own fields.
"""

import functools
import math
import types
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

from django.db import models

_Record = TypeVar("_Record")


def row_of(model: type[models.Model], record: Any, **more: object) -> Any:
    """The row of a record, not saved; ``more`` are columns that only the table has."""
    own = _columns(model, record)
    # Without a value the column has its default: NULL, or an empty text.
    return model(**{name: value for name, value in own.items() if value is not None} | more)


def _columns(model: type[models.Model], record: Any) -> dict[str, object]:
    kind: Any = type(record)
    own = {name: _to_column(getattr(record, name)) for name in _shared(model, kind)}
    for name in _parts(kind):
        own |= _columns(model, getattr(record, name))
    return own


def record_of(kind: type[_Record], row: models.Model, **more: object) -> _Record:
    """The record of a row; ``more`` are fields that the row has under another name."""
    any_kind: Any = kind
    hints = _hints(any_kind)
    own = {n: _from_column(hints[n], getattr(row, n)) for n in _shared(type(row), any_kind)}
    parts = {name: record_of(part, row) for name, part in _parts(any_kind).items()}
    return kind(**own | parts | more)


@functools.cache
def _shared(model: Any, kind: Any) -> tuple[str, ...]:
    """Names that are both a field and a plain column."""
    columns = {f.name for f in model._meta.concrete_fields if not f.is_relation}  # noqa: SLF001
    return tuple(f.name for f in fields(kind) if f.name in columns)


@functools.cache
def _parts(kind: Any) -> dict[str, Any]:
    """The fields that are records themselves."""
    return {name: hint for name, hint in _hints(kind).items() if is_dataclass(hint)}


@functools.cache
def _hints(kind: Any) -> dict[str, Any]:
    return get_type_hints(kind)


def _to_column(value: object) -> object:
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, tuple):
        return list(value)
    return None if value == math.inf else value


def _from_column(hint: Any, value: object) -> object:
    if get_origin(hint) is types.UnionType:
        if value is None or value == "":
            return None
        hint = next(kind for kind in get_args(hint) if kind is not types.NoneType)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint(value)
    if isinstance(value, list):
        return tuple(value)
    return math.inf if value is None and hint is float else value
