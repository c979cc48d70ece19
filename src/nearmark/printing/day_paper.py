"""Everything that is printed for the day: what it is for, how it is printed, how it is made."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from nearmark.contest.event import Event
from nearmark.printing.answer_sheets import answer_sheets_pdf, spare_sheet_pdf
from nearmark.printing.check_in_list import check_in_list_pdf
from nearmark.printing.cup_numbers import cup_numbers_pdf
from nearmark.printing.hall_cards import badges_pdf, place_cards_pdf
from nearmark.printing.labels import labels_pdf
from nearmark.printing.letters import family_letter_pdf, school_letters_pdf
from nearmark.printing.merging_sheet import merging_sheet_pdf
from nearmark.printing.named_paper import NamedPaper
from nearmark.printing.run_sheet import role_sheets_pdf, run_sheet_pdf
from nearmark.printing.school_lists import school_lists_pdf
from nearmark.printing.screens_down import screens_down_pdf
from nearmark.printing.station_rules import station_rules_pdf
from nearmark.printing.tally_form import tally_form_pdf
from nearmark.printing.wishes import Wishes, planned_times
from nearmark.words.day_papers import PaperKind
from nearmark.words.languages import language
from nearmark.words.translation import spoken_in


@dataclass(frozen=True, slots=True)
class PaperOfDay(NamedPaper):
    """One printed thing."""

    build: Callable[[Event, Wishes], bytes]
    has_names: bool = False  # whether children's names can be on it
    is_for_helpers: bool = False  # whether no child gets it
    is_cut: bool = False  # whether it is cut into cards, so that nothing may be behind it
    has_grid: bool = False  # whether it can be printed on ready-cut label sheets

    def made(self, event: Event, wishes: Wishes = Wishes()) -> bytes:  # noqa: B008 - frozen
        """The PDF, in the language that is wanted."""
        with spoken_in(language(wishes.language)):
            return self.build(event, wishes)


def _screens_down(event: Event, wishes: Wishes) -> bytes:
    return screens_down_pdf(event, wishes, [sheet.kind for sheet in paper_of(event)])


_ALL: Final = (
    PaperOfDay(PaperKind.SCREENS_DOWN, _screens_down, is_for_helpers=True),
    PaperOfDay(PaperKind.RUN_SHEET, run_sheet_pdf, is_for_helpers=True),
    PaperOfDay(PaperKind.ROLE_SHEETS, role_sheets_pdf, is_for_helpers=True),
    PaperOfDay(PaperKind.WHO_WHEN, school_lists_pdf, has_names=True, is_for_helpers=True),
    PaperOfDay(
        PaperKind.CHECK_IN,
        lambda event, w: check_in_list_pdf(
            event, paper=w.paper, names=w.names, large=w.large, times=planned_times(event, w)
        ),
        has_names=True,
    ),
    PaperOfDay(
        PaperKind.ANSWER_SHEETS,
        lambda event, w: answer_sheets_pdf(event, paper=w.paper, names=w.names, large=w.large),
        has_names=True,
    ),
    PaperOfDay(
        PaperKind.SPARE,
        lambda event, w: spare_sheet_pdf(event, paper=w.paper, large=w.large),
    ),
    PaperOfDay(PaperKind.RULES, station_rules_pdf),
    PaperOfDay(
        PaperKind.LABELS,
        lambda event, w: labels_pdf(event, paper=w.paper, grid=w.labels),
        is_cut=True,
        has_grid=True,
    ),
    PaperOfDay(PaperKind.CUPS, lambda event, w: cup_numbers_pdf(event, paper=w.paper), is_cut=True),
    PaperOfDay(PaperKind.PLACE_CARDS, place_cards_pdf, is_cut=True),
    PaperOfDay(PaperKind.BADGES, badges_pdf, is_for_helpers=True, is_cut=True, has_grid=True),
    PaperOfDay(
        PaperKind.TALLY, lambda event, w: tally_form_pdf(event, paper=w.paper), is_for_helpers=True
    ),
    PaperOfDay(
        PaperKind.MERGING,
        lambda event, w: merging_sheet_pdf(event, paper=w.paper),
        is_for_helpers=True,
    ),
    PaperOfDay(PaperKind.SCHOOL_LETTER, school_letters_pdf, has_names=True, is_for_helpers=True),
    PaperOfDay(PaperKind.FAMILY_LETTER, family_letter_pdf, is_for_helpers=True),
)


def paper_of(event: Event) -> tuple[PaperOfDay, ...]:
    """What this event prints, in order; one without a list of cups needs no cup numbers."""
    return tuple(sheet for sheet in _ALL if event.cups or sheet.kind is not PaperKind.CUPS)
