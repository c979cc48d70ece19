"""View records: of each page a frozen dataclass, whose fields are the names its template knows."""

from dataclasses import fields
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


def names_of(view: "DataclassInstance") -> dict[str, Any]:
    """What a template may name."""
    return {field.name: getattr(view, field.name) for field in fields(view)}
