"""What a CSV file is made of; reader, writer and docs use the one definition."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from operator import attrgetter
from typing import Any

from nearmark.event_folder.kinds import Kind


class Need(Enum):
    """Marks a column whose cells may not be empty."""

    REQUIRED = "required"


REQUIRED = Need.REQUIRED


@dataclass(frozen=True, slots=True)
class Reference:
    """A cell that names something defined in another file.

    Attributes
    ----------
    to : str
        ``item``, ``material``, ``cup``, ``pair`` or ``instrument``.
    only : str
        Station of the item, or unit of the instrument, that makes sense here; empty: any.
    """

    to: str
    only: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes
    ----------
    name : str
        The heading.
    about : str
        What stands in it, for people: in the docs and in messages.
    empty : object
        What an empty cell means; ``REQUIRED`` when it may not be empty.
    """

    name: str
    kind: Kind
    about: str
    empty: object = REQUIRED
    refers: Reference | None = None


@dataclass(frozen=True, slots=True)
class Definition:
    """What rows of this table define for other files to name.

    Attributes
    ----------
    what : str
        The ``to`` of a ``Reference``.
    column : str
        The name itself.
    trait : str
        Column whose value ``Reference.only`` is compared with; empty when there is none.
    also : str
        Column whose values may be named as well, though rows share them; empty when there is none.
    """

    what: str
    column: str
    trait: str = ""
    also: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """One CSV file.

    Attributes
    ----------
    field : str
        The field of ``Event`` it fills.
    build : callable
        Makes a record of one value per column.
    key : tuple of str
        Columns that together may not repeat; empty when rows may repeat.
    required : bool
        Whether the file must be there; a missing one that need not be is an empty one.
    check : callable record -> (column, what, mend) or None
        What one row alone must satisfy beyond its cells.
    take : callable record -> values, one per column
        ``None``: the attributes named as the columns.
    """

    file: str
    field: str
    columns: tuple[Column, ...]
    build: Callable[..., Any]
    key: tuple[str, ...] = ()
    defines: Definition | None = None
    required: bool = False
    check: Callable[[Any], tuple[str, str, str] | None] | None = None
    take: Callable[[Any], tuple[Any, ...]] | None = None

    def values(self, record: object) -> tuple[Any, ...]:
        """The values of one record in the order of the columns."""
        take = self.take or attrgetter(*(column.name for column in self.columns))
        values: tuple[Any, ...] = take(record)
        return values

    def position(self, name: str) -> int:
        """Where a column stands."""
        return next(i for i, column in enumerate(self.columns) if column.name == name)
