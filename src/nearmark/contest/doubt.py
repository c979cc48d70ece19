"""The record of a doubt."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from nearmark.contest.odd_records import Odd


class DoubtKind(StrEnum):
    """What a doubt is about."""

    SAMPLE = "sample"
    SPREAD = "spread"
    CONTAINER = "container"
    HAND_COUNT = "count by hand"
    EDGE = "edge"
    BOX = "box"
    FACES = "faces"
    CUP = "cup"
    KEY = "key"
    ANSWER = "answer"
    WEIGHING = "weighing"
    CUP_TWICE = "cup twice"
    ABSENT = "absent"


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing that looks like a slip."""

    id: str  # kind, subject and values: a changed reading is another doubt
    kind: DoubtKind
    # Codes of what it is about; empty when it is about none.
    item: str
    pair: str
    cup: str
    odd: Odd  # what is odd, by how much, and what it might be

    @property
    def place(self) -> tuple[str, ...]:
        """Codes of where it is: pair and item, or item; of a cup alone, nothing."""
        return tuple(part for part in (self.pair, self.item) if part)


def doubt_id(kind: DoubtKind, *parts: object) -> str:
    """The id of a doubt: kind, subject, values as they were written.

    >>> from decimal import Decimal
    >>> doubt_id(DoubtKind.SAMPLE, "J2", 75, Decimal("18.910"))
    'sample:J2:75:18.910'
    """
    shown = (f"{part:f}" if isinstance(part, Decimal) else str(part) for part in parts)
    return ":".join((kind.value, *shown))
