"""Between which faces a box is read, and what is taken off the readings."""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from decimal import Decimal
from enum import StrEnum
from typing import Final

from nearmark.errors import InputError


class Faces(StrEnum):
    """Which faces of a box its edges are read between."""

    INSIDE = "inside"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class BoxFaces:
    """What is known of the faces of a box."""

    faces: Faces | None = None  # between which the edges are read; ``None``: not stated
    # Thickness of one wall, bottom and lid alike, of a box read outside whose inner volume is asked
    # for; ``None``: the volume between the faces that were read.
    wall_cm: Decimal | None = None
    bulge_cm: Decimal | None = None  # what a side may differ by from its reading, as faces bulge

    @property
    def is_inside(self) -> bool | None:
        """Whether the edges are read inside; ``None``: not stated."""
        return None if self.faces is None else self.faces is Faces.INSIDE

    @property
    def walls_cm(self) -> float:
        """What two walls take off a reading of an edge, in cm; 0: they are not taken off."""
        return 2 * float(self.wall_cm or 0)

    @property
    def wall_text(self) -> str:
        """One wall that is taken off, in cm, as it was written; empty: none is."""
        return f"{self.wall_cm:f}" if self.wall_cm else ""

    @property
    def key_is_inner(self) -> bool | None:
        """Whether the key is the inner volume; ``None``: not stated."""
        return None if self.faces is None else bool(self.is_inside or self.wall_cm)

    @property
    def misplaced_wall(self) -> Decimal | None:
        """A wall, in cm, that is taken off a box that was not read outside."""
        return None if self.faces is Faces.OUTSIDE else self.wall_cm or None

    def check_wall(self) -> None:
        """Raise InputError for a wall that is taken off a box that was not read outside."""
        if self.misplaced_wall:
            raise InputError(
                "is taken off only where a box is read outside",
                where="wall_cm",
                value=self.misplaced_wall,
                mend="Choose outside, or leave the wall empty",
            )

    def stated(self) -> Iterator[str]:
        """Names of the fields that say something."""
        return (field.name for field in fields(self) if getattr(self, field.name) is not None)


NOT_STATED: Final = BoxFaces()
