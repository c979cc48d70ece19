"""The day in a folder: everything of a day on paper as numbered files, and what stays sealed."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import Final

from nearmark.contest.event import Event
from nearmark.contest.results import Results
from nearmark.printing.after_paper import sealed_papers
from nearmark.printing.binding import BoundPart, bound
from nearmark.printing.day_paper import paper_of
from nearmark.printing.wishes import Wishes

SEALED: Final = "sealed"
"""Folder of what shows a key; never printed with the rest."""

ALL_IN_ONE: Final = "all-in-one.pdf"


@dataclass(frozen=True, slots=True)
class FolderFile:
    """One file of the folder, and how it is made."""

    name: str  # with its number; ``sealed/`` before what shows a key
    title: str
    build: Callable[[], bytes]
    is_cut: bool = False

    @property
    def is_sealed(self) -> bool:
        """Whether it shows a key."""
        return self.name.startswith(f"{SEALED}/")


def day_folder(outcome: Results, wishes: Wishes) -> tuple[FolderFile, ...]:
    """All files, the open ones first."""
    event = outcome.event
    sheets = enumerate(paper_of(event), start=1)
    return (
        *(
            FolderFile(
                f"{n:02d}-{s.name}.pdf", s.title, partial(s.made, event, wishes), is_cut=s.is_cut
            )
            for n, s in sheets
        ),
        *(
            FolderFile(f"{SEALED}/{n}-{s.name}.pdf", s.title, partial(s.made, outcome, wishes))
            for n, s in enumerate(sealed_papers(outcome), start=1)
        ),
    )


def all_in_one(event: Event, made: Iterable[tuple[FolderFile, bytes]]) -> bytes:
    """The open files as one PDF, for printing in one go on both sides; nothing sealed is in it."""
    parts = [
        BoundPart(file.title, content, is_cut=file.is_cut)
        for file, content in made
        if not file.is_sealed
    ]
    return bound(parts, title=event.name, day=event.day)
