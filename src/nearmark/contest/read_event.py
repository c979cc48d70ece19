"""An event with its keys and the answers that count: what scores and checks are made of."""

from dataclasses import dataclass

from nearmark.contest.answers import AcceptedAnswer
from nearmark.contest.event import Event
from nearmark.contest.keys import ItemKey


@dataclass(frozen=True)
class ReadEvent:
    """What was read, before anything is scored."""

    event: Event
    keys: dict[str, ItemKey]  # ItemKey by item code
    answers: dict[tuple[str, str], AcceptedAnswer]  # AcceptedAnswer by (pair, item)
