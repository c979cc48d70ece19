"""What is printed from results: sealed before the release, certificates and more after it."""

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
from nearmark.printing.key_sheet import key_sheet_pdf
from nearmark.printing.named_paper import NamedPaper
from nearmark.printing.score_tables import score_tables_pdf
from nearmark.printing.wishes import Wishes
from nearmark.words.day_papers import PaperKind
from nearmark.words.languages import language
from nearmark.words.translation import ENGLISH, spoken_in


@dataclass(frozen=True, slots=True)
class ResultsPaper(NamedPaper):
    """One printed thing that results are on."""

    build: Callable[[Results, Wishes], bytes]
    has_names: bool = True  # whether children's names can be on it
    is_translated: bool = True  # whether it can be had in another language than English

    def made(self, outcome: Results, wishes: Wishes) -> bytes:
        """The PDF; what only the lead reads stays English."""
        with spoken_in(language(wishes.language) if self.is_translated else ENGLISH):
            return self.build(outcome, wishes)


AFTER_PAPERS: Final = (
    ResultsPaper(
        PaperKind.ANNOUNCER, lambda outcome, w: announcer_pdf(outcome, paper=w.paper, names=w.names)
    ),
    ResultsPaper(
        PaperKind.AWARDS,
        lambda outcome, w: award_certificates_pdf(outcome, paper=w.paper, names=w.names),
    ),
    ResultsPaper(
        PaperKind.PARTICIPATION,
        lambda outcome, w: participation_pdf(outcome, paper=w.paper, names=w.names),
    ),
    ResultsPaper(
        PaperKind.PRESS, lambda outcome, w: press_pdf(outcome, paper=w.paper), has_names=False
    ),
)

_KEY_SHEET: Final = ResultsPaper(
    PaperKind.KEY_SHEET,
    lambda outcome, w: key_sheet_pdf(outcome, paper=w.paper, seal=w.seal),
    has_names=False,
    is_translated=False,
)
_SCORE_TABLES: Final = ResultsPaper(
    PaperKind.SCORE_TABLES,
    lambda outcome, w: score_tables_pdf(outcome, paper=w.paper),
    has_names=False,
)


def sealed_papers(outcome: Results) -> tuple[ResultsPaper, ...]:
    """What shows a key and stays sealed until release; score tables only when a key is known."""
    has_key = any(key.key is not None for key in outcome.keys.values())
    return (_KEY_SHEET, _SCORE_TABLES) if has_key else (_KEY_SHEET,)
