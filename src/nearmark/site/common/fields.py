"""A column that keeps a number exactly as it was written."""

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from django.db import models

if TYPE_CHECKING:
    _Field = models.Field[Any, Any]
else:  # generic for the type checker only
    _Field = models.Field


class WrittenDecimal(_Field):
    """A ``Decimal`` kept as text: 61.20 stays 61.20, on every database.

    A numeric column would round it to fixed places, and SQLite to a binary float.
    """

    def get_internal_type(self) -> str:
        """Text of limited length."""
        return "CharField"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["max_length"] = 40
        super().__init__(*args, **kwargs)

    def from_db_value(self, value: str | None, _expression: object, _connection: object) -> object:
        """Text from the database as a number."""
        return None if value is None else Decimal(value)

    def to_python(self, value: object) -> Decimal | None:
        """A number from whatever was given."""
        return None if value is None else Decimal(str(value))

    def get_prep_value(self, value: object) -> str | None:
        """A number as the text that is kept."""
        return None if value is None else f"{Decimal(str(value)):f}"
