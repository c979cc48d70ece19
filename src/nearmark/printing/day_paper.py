"""Everything that is printed for the day: what it is for, how it is printed, how it is made."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from nearmark.contest.event import Event
from nearmark.printing.answer_sheets import answer_sheets_pdf, spare_sheet_pdf
from nearmark.printing.check_in_list import check_in_list_pdf
from nearmark.printing.cup_numbers import cup_numbers_pdf
from nearmark.printing.labels import labels_pdf
from nearmark.printing.merging_sheet import merging_sheet_pdf
from nearmark.printing.station_rules import station_rules_pdf
from nearmark.printing.tally_form import tally_form_pdf


@dataclass(frozen=True, slots=True)
class PaperOfDay:
    """One printed thing."""

    name: str  # of the file, without ending
    title: str
    what_for: str
    how: str
    # With ``names=...`` too where it has names (callable (event, paper=...) -> PDF).
    build: Callable[..., bytes]
    has_names: bool = False  # whether children's names can stand on it
    has_seal: bool = False  # whether it says when the keys were sealed
    is_for_helpers: bool = False  # whether no child gets it

    def made(self, event: Event, *, paper: str, names: bool = False, seal: str = "") -> bytes:
        """The PDF.

        ``paper``: ``a4`` or ``us-letter``. ``names``: children's names too, where they can stand on
        it. ``seal``: when the keys were sealed, and their hash.
        """
        if self.has_seal:
            return self.build(event, paper=paper, seal=seal)
        if self.has_names:
            return self.build(event, paper=paper, names=names)
        return self.build(event, paper=paper)


_CUPS: Final = PaperOfDay(
    "cup-numbers",
    "Cup numbers",
    "one on each cup, before the cup is weighed empty",
    "once, then cut",
    cup_numbers_pdf,
)

_OF_EVERY_DAY: Final = (
    PaperOfDay(
        "answer-sheets",
        "Answer sheets",
        "one leaf a pair, heat by heat, with its code and QR; scratch work behind",
        "on both sides",
        answer_sheets_pdf,
        has_names=True,
    ),
    PaperOfDay(
        "answer-sheet-spare",
        "Spare answer sheet",
        "a spoilt sheet, or a pair that comes unannounced",
        "on both sides, ten copies",
        spare_sheet_pdf,
    ),
    PaperOfDay(
        "labels",
        "Labels",
        "two of each item, one on the thing and one on the table; they say nothing of the key",
        "once, then cut",
        labels_pdf,
    ),
    _CUPS,
    PaperOfDay(
        "station-rules",
        "Station rules",
        "the wall of each station",
        "once",
        station_rules_pdf,
        has_seal=True,
    ),
    PaperOfDay(
        "check-in",
        "Check-in list",
        "the door: who is expected, who came, whose sheet is back",
        "once",
        check_in_list_pdf,
        has_names=True,
    ),
    PaperOfDay(
        "tally-forms",
        "Tally forms",
        "helpers: two readings, a third, points and totals of each heat, tares of the cups",
        "once; not for the children's eyes",
        tally_form_pdf,
        is_for_helpers=True,
    ),
    PaperOfDay(
        "merging-sheet",
        "Merging sheet",
        "helpers: the totals of all heats on one list, and how they become places",
        "once",
        merging_sheet_pdf,
        is_for_helpers=True,
    ),
)


def paper_of(event: Event) -> tuple[PaperOfDay, ...]:
    """What this event prints; one without a list of cups needs no cup numbers."""
    return tuple(sheet for sheet in _OF_EVERY_DAY if event.cups or sheet is not _CUPS)
