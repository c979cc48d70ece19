"""Page 1 of the folder: what to do when no screen works, and who does it."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.contest.event import Event
from nearmark.printing.run_sheet import RoleLine, role_lines
from nearmark.printing.typesetting import typeset
from nearmark.printing.wishes import Wishes
from nearmark.printing.words import day_text, wrappable
from nearmark.words.day_papers import PaperKind, paper_is_for, paper_title
from nearmark.words.day_roles import DayText, day_text_of, day_texts


@dataclass(frozen=True, slots=True)
class FolderLine:
    """One paper of the folder."""

    number: str
    title: str
    what_for: str


@dataclass(frozen=True, slots=True)
class ScreensDownView:
    """The page, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    roles: tuple[RoleLine, ...]
    papers: tuple[FolderLine, ...]


def screens_down_pdf(event: Event, wishes: Wishes, kinds: Sequence[PaperKind]) -> bytes:
    """Set the page.

    ``kinds``: what lies in the folder, in its order.
    """
    view = ScreensDownView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        words=day_texts(),
        roles=role_lines(),
        papers=(
            *(
                FolderLine(str(number), paper_title(kind), paper_is_for(kind))
                for number, kind in enumerate(kinds, start=1)
            ),
            FolderLine("", day_text_of(DayText.SEALED), ""),
        ),
    )
    # Never in large print: it has to stay one page.
    return typeset("screens_down", view, day=event.day, paper=wishes.paper)
