"""The whole story of one pair on paper: who read what and when, cups, keys, scores, corrections."""

from dataclasses import dataclass
from datetime import date

from nearmark.printing.typesetting import typeset


@dataclass(frozen=True, slots=True)
class StoryLine:
    """One thing that happened.

    Attributes
    ----------
    what : str
        Such as ``first reading``.
    value : str
        What was read or written; empty where nothing was.
    remark : str
        A reason, a tare, or why it does not count any more.
    counts : bool
        Whether it still counts: a reading that was struck out does not.
    """

    when: str
    who: str
    what: str
    value: str = ""
    remark: str = ""
    counts: bool = True


@dataclass(frozen=True, slots=True)
class StoryItem:
    """One item, from the readings to the points.

    Attributes
    ----------
    answer : str
        The answer that is scored, in words.
    key : str
        Empty when the item has none.
    key_remark : str
        How sure the key is, or whose decision it is.
    points : str
        Empty when nothing is scored.
    """

    code: str
    name: str
    lines: tuple[StoryLine, ...]
    answer: str
    key: str
    key_remark: str
    points: str


@dataclass(frozen=True, slots=True)
class PairStory:
    """Everything that is known of one pair on the day.

    Attributes
    ----------
    standing : str
        Place and total now, in words.
    state : str
        Whether it is provisional or which release is out.
    events : tuple of StoryLine
        Check-in, heats and every act of the history on this pair, the oldest first.
    releases : tuple of str
        What each release said of the pair.
    made_at : str
        When this was put together.
    """

    event: str
    day: str
    rules: str
    pair: str
    school: str
    children: str
    standing: str
    state: str
    items: tuple[StoryItem, ...]
    events: tuple[StoryLine, ...]
    releases: tuple[str, ...]
    made_at: str


def pair_story_pdf(story: PairStory, *, day: date, paper: str = "a4") -> bytes:
    """Set the story of one pair, for somebody who asks how its points came about.

    Parameters
    ----------
    day : date
        Of the event.
    paper : ``a4`` or ``us-letter``

    Returns
    -------
    bytes
        A PDF.
    """
    return typeset("pair_story", story, day=day, paper=paper)
