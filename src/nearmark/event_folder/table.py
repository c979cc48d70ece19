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
    """A cell that names something defined in another file."""

    to: str  # ``item``, ``material``, ``cup``, ``pair`` or ``instrument``
    # Station of the item, or unit of the instrument, that makes sense here; empty: any.
    only: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One column."""

    name: str  # the heading
    kind: Kind
    about: str  # what is in it, for people: in the docs and in messages
    empty: object = REQUIRED  # what an empty cell means; ``REQUIRED`` when it may not be empty
    refers: Reference | None = None
    # Whether a table is written without it while every cell would be empty.
    only_if_used: bool = False


@dataclass(frozen=True, slots=True)
class Definition:
    """What rows of this table define for other files to name."""

    what: str  # the ``to`` of a ``Reference``
    column: str  # the name itself
    # Column whose value ``Reference.only`` is compared with; empty when there is none.
    trait: str = ""
    # Column whose values may be named as well, though rows share them; empty when there is none.
    also: str = ""
    # Column whose values, and the names, make up what ``to`` calls "pair or school": what a row
    # belongs to; empty when nothing is of either.
    owner: str = ""

    @property
    def either(self) -> str:
        """What the names and their owners are called together."""
        return f"{self.what} or {self.owner}"


@dataclass(frozen=True, slots=True)
class Table:
    """One CSV file."""

    file: str
    field: str  # the field of ``Event`` it fills
    columns: tuple[Column, ...]
    build: Callable[..., Any]  # makes a record of one value per column
    key: tuple[str, ...] = ()  # columns that together may not repeat; empty when rows may repeat
    defines: Definition | None = None
    # Whether the file must be there; a missing one that need not be is an empty one.
    required: bool = False
    # Whether no file is written while there are no rows and the folder has none.
    only_if_used: bool = False
    # What one row alone must satisfy beyond its cells (callable record -> (column, what, mend) or
    # None).
    check: Callable[[Any], tuple[str, str, str] | None] | None = None
    # ``None``: the attributes named as the columns (callable record -> values, one per column).
    take: Callable[[Any], tuple[Any, ...]] | None = None

    def values(self, record: object) -> tuple[Any, ...]:
        """The values of one record in the order of the columns."""
        take = self.take or attrgetter(*(column.name for column in self.columns))
        values: tuple[Any, ...] = take(record)
        return values

    def position(self, name: str) -> int:
        """Position of a column."""
        return next(i for i, column in enumerate(self.columns) if column.name == name)
