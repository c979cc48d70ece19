"""The day in a folder: everything of a day on paper as numbered files, and what stays sealed."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import Final

from nearmark.contest.event import Event
from nearmark.contest.results import Results
from nearmark.printing.binding import BoundPart, bound
from nearmark.printing.day_paper import paper_of
from nearmark.printing.key_sheet import key_sheet_pdf
from nearmark.printing.score_tables import score_tables_pdf
from nearmark.printing.wishes import Wishes
from nearmark.words.day_papers import PaperKind, paper_title

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
    """All files, the open ones first; score tables only when a key is known."""
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
            FolderFile(f"{SEALED}/{n}-{kind.value}.pdf", paper_title(kind), build)
            for n, (kind, build) in enumerate(_sealed(outcome, wishes), start=1)
        ),
    )


def _sealed(outcome: Results, wishes: Wishes) -> Iterable[tuple[PaperKind, Callable[[], bytes]]]:
    paper = wishes.paper
    yield PaperKind.KEY_SHEET, partial(key_sheet_pdf, outcome, paper=paper, seal=wishes.seal)
    if any(key.key is not None for key in outcome.keys.values()):
        yield PaperKind.SCORE_TABLES, partial(score_tables_pdf, outcome, paper=paper)


def all_in_one(event: Event, made: Iterable[tuple[FolderFile, bytes]]) -> bytes:
    """The open files as one PDF, for printing in one go on both sides; nothing sealed is in it."""
    parts = [
        BoundPart(file.title, content, is_cut=file.is_cut)
        for file, content in made
        if not file.is_sealed
    ]
    return bound(parts, title=event.name, day=event.day)
