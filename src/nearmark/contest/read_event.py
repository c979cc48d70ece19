"""An event with its keys and the answers that count: what scores and checks are made of."""

from dataclasses import dataclass

from nearmark.contest.answers import AcceptedAnswer
from nearmark.contest.event import Event
from nearmark.contest.keys import ItemKey


@dataclass(frozen=True)
class ReadEvent:
    """What was read, before anything is scored.

    Attributes
    ----------
    keys : dict item code -> ItemKey
    answers : dict (pair, item) -> AcceptedAnswer
    """

    event: Event
    keys: dict[str, ItemKey]
    answers: dict[tuple[str, str], AcceptedAnswer]
