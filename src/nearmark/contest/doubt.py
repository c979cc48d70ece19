"""The record of a doubt."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final


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


BLIND: Final = "This is far from what others wrote, or from what an answer can be"
"""Of an answer, for who reads blind: neither which way, nor how many others there are."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing that looks like a slip.

    Attributes
    ----------
    id : str
        Kind, subject and values: a changed reading is another doubt.
    kind : DoubtKind
    item, pair, cup : str
        Codes of what it is about; empty when it is about none.
    words : str
        What is odd, and by how much.
    ask : str
        The question: what it might be.
    """

    id: str
    kind: DoubtKind
    item: str
    pair: str
    cup: str
    words: str
    ask: str

    @property
    def place(self) -> str:
        """Where it is: pair and item, item, or cup."""
        cup = f"cup {self.cup}" if self.cup and not self.item else ""
        return ", ".join(part for part in (self.pair, self.item, cup) if part)

    @property
    def told(self) -> str:
        """Place and words."""
        return f"{self.place}: {self.words}" if self.place else self.words

    @property
    def sentence(self) -> str:
        """Place, words and question in one, the same on every page and in the terminal."""
        return f"{self.told}. {self.ask}"

    @property
    def blind(self) -> str:
        """The sentence for who types answers without seeing those of others."""
        if self.kind is not DoubtKind.ANSWER:
            return self.sentence
        return f"{self.place}: {BLIND}. Please read the sheet again."

    def as_json(self) -> dict[str, str]:
        """The stable keys of a doubt in JSON: ``id``, ``kind``, ``place``, ``words``, ``ask``."""
        return {
            "id": self.id,
            "kind": self.kind.value,
            "place": self.place,
            "words": self.words,
            "ask": self.ask,
        }


def doubt_id(kind: DoubtKind, *parts: object) -> str:
    """The id of a doubt: kind, subject, values as they were written.

    Parameters
    ----------
    kind : DoubtKind
    parts : str, int or Decimal
        Codes and values.

    Examples
    --------
    >>> from decimal import Decimal
    >>> doubt_id(DoubtKind.SAMPLE, "J2", 75, Decimal("18.910"))
    'sample:J2:75:18.910'
    """
    shown = (f"{part:f}" if isinstance(part, Decimal) else str(part) for part in parts)
    return ":".join((kind.value, *shown))
