"""A meeting on one page: by the minute, what to fetch, and a tally in the order of the screen."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, wrappable
from nearmark.words.coaching_meeting import rest_words
from nearmark.words.numbers import plural

MAX_WITH_SENTENCES: Final = 10
"""Children whose sentences still fit the page beside the tally."""


@dataclass(frozen=True, slots=True)
class SheetChild:
    """A child on the page."""

    name: str
    places: Sequence[tuple[int, str | None]]  # ``None``: rests ((slot, thing or None))
    say: str  # one sentence


@dataclass(frozen=True, slots=True)
class MeetingSheet:
    """What the page is made of."""

    club: str
    day: date
    # In min since the beginning ((begins, ends, title, words)).
    parts: Sequence[tuple[int, int, str, Sequence[str]]]
    fetch: Sequence[str]
    slots: Sequence[int]  # when each slot of the rota begins, min
    children: Sequence[SheetChild]


@dataclass(frozen=True, slots=True)
class PartRow:
    """One part, as text."""

    when: str
    title: str
    words: str


@dataclass(frozen=True, slots=True)
class TallyRow:
    """One child, as text; an empty cell: not in that slot."""

    name: str
    say: str
    cells: tuple[str, ...]
    rests: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class MeetingSheetView:
    """The page, ready to be set."""

    club: str
    day: str
    minutes: str
    parts: tuple[PartRow, ...]
    fetch: str
    slots: tuple[str, ...]
    rows: tuple[TallyRow, ...]


def meeting_sheet_pdf(sheet: MeetingSheet, *, paper: str = "a4") -> bytes:
    """Set the page.

    ``paper``: ``a4`` or ``us-letter``. Returns: a PDF of one page for up to 30 children; for the
    coach, with names, without true values.
    """
    return typeset("meeting_sheet", meeting_sheet_view(sheet), day=sheet.day, paper=paper)


def meeting_sheet_view(sheet: MeetingSheet) -> MeetingSheetView:
    """What the page says, as text."""
    has_sentences = len(sheet.children) <= MAX_WITH_SENTENCES
    return MeetingSheetView(
        club=wrappable(sheet.club, 60),
        day=day_text(sheet.day),
        minutes=plural(sheet.parts[-1][1], "minute"),
        parts=tuple(
            PartRow(f"{begins} to {ends}", title, " ".join(words))
            for begins, ends, title, words in sheet.parts
        ),
        fetch=", ".join(wrappable(each, 60) for each in sheet.fetch),
        slots=tuple(f"minute {begins}" for begins in sheet.slots),
        rows=tuple(
            _row(child, len(sheet.slots), has_sentences=has_sentences) for child in sheet.children
        ),
    )


def _row(child: SheetChild, n_slots: int, *, has_sentences: bool) -> TallyRow:
    at = dict(child.places)
    things = [at.get(slot) for slot in range(n_slots)]
    return TallyRow(
        wrappable(child.name, 40),
        child.say if has_sentences else "",
        tuple(
            wrappable(thing, 40) if thing else rest_words().partition(":")[0] if slot in at else ""
            for slot, thing in enumerate(things)
        ),
        tuple(thing is None for thing in things),
    )
