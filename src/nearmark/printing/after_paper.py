"""What is printed after the contest: certificates, what is read out, a line for the press."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from nearmark.contest.results import Results
from nearmark.printing.award_papers import (
    announcer_pdf,
    award_certificates_pdf,
    participation_pdf,
    press_pdf,
)
from nearmark.printing.wishes import Wishes
from nearmark.words.day_papers import PaperKind, how_to_print, paper_is_for, paper_title
from nearmark.words.languages import language
from nearmark.words.translation import spoken_in


@dataclass(frozen=True, slots=True)
class AfterPaper:
    """One printed thing that results are on."""

    kind: PaperKind
    build: Callable[[Results, Wishes], bytes]
    has_names: bool = True  # whether children's names can be on it

    @property
    def name(self) -> str:
        """Of the file, without ending."""
        return self.kind.value

    @property
    def title(self) -> str:
        """What it is called."""
        return paper_title(self.kind)

    @property
    def what_for(self) -> str:
        """What it is for."""
        return paper_is_for(self.kind)

    @property
    def how(self) -> str:
        """How it is printed."""
        return how_to_print(self.kind)

    def made(self, outcome: Results, wishes: Wishes) -> bytes:
        """The PDF, in the language that is wanted."""
        with spoken_in(language(wishes.language)):
            return self.build(outcome, wishes)


AFTER_PAPERS: Final = (
    AfterPaper(
        PaperKind.ANNOUNCER, lambda outcome, w: announcer_pdf(outcome, paper=w.paper, names=w.names)
    ),
    AfterPaper(
        PaperKind.AWARDS,
        lambda outcome, w: award_certificates_pdf(outcome, paper=w.paper, names=w.names),
    ),
    AfterPaper(
        PaperKind.PARTICIPATION,
        lambda outcome, w: participation_pdf(outcome, paper=w.paper, names=w.names),
    ),
    AfterPaper(
        PaperKind.PRESS, lambda outcome, w: press_pdf(outcome, paper=w.paper), has_names=False
    ),
)
