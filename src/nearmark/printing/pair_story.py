"""The whole story of one pair on paper: who read what and when, cups, keys, scores, corrections."""

from dataclasses import dataclass
from datetime import date

from nearmark.printing.typesetting import typeset


@dataclass(frozen=True, slots=True)
class StoryLine:
    """One thing that happened."""

    when: str
    who: str
    what: str  # such as ``first reading``
    value: str = ""  # what was read or written; empty where nothing was
    remark: str = ""  # a reason, a tare, or why it does not count any more
    counts: bool = True  # whether it still counts: a reading that was struck out does not


@dataclass(frozen=True, slots=True)
class StoryItem:
    """One item, from the readings to the points."""

    code: str
    name: str
    lines: tuple[StoryLine, ...]
    answer: str  # the answer that is scored, in words
    key: str  # empty when the item has none
    key_remark: str  # how sure the key is, or whose decision it is
    points: str  # empty when nothing is scored


@dataclass(frozen=True, slots=True)
class PairStory:
    """Everything that is known of one pair on the day."""

    event: str
    day: str
    rules: str
    pair: str
    school: str
    children: str
    standing: str  # place and total now, in words
    state: str  # whether it is provisional or which release is out
    items: tuple[StoryItem, ...]
    # Check-in, heats and every act of the history on this pair, the oldest first.
    events: tuple[StoryLine, ...]
    releases: tuple[str, ...]  # what each release said of the pair
    made_at: str  # when this was put together


def pair_story_pdf(story: PairStory, *, day: date, paper: str = "a4") -> bytes:
    """Set the story of one pair, for somebody who asks how its points came about.

    ``paper``: ``a4`` or ``us-letter``.
    """
    return typeset("pair_story", story, day=day, paper=paper)
