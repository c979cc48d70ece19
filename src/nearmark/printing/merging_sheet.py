"""The merging sheet: the totals of all heats on one list, and how they become places."""

from dataclasses import dataclass

from nearmark.contest.event import Event, Pair, PairStatus
from nearmark.contest.pair_code import checked_codes, with_check
from nearmark.errors import InputError
from nearmark.printing.heat_lists import heat_lists
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, wrappable
from nearmark.words.hand_scoring import divisions_apart, form_texts, merging_steps, tie_column
from nearmark.words.rules import rules_words


@dataclass(frozen=True, slots=True)
class MergingLine:
    """One pair; empty of what is written in by hand."""

    pair: str
    heat: str
    division: str
    is_placed: bool  # a guest, or a child alone where the rules want two, gets no place


@dataclass(frozen=True, slots=True)
class MergingView:
    """The whole sheet, ready to be set."""

    event: str
    day: str
    rules: str
    words: dict[str, str]
    steps: tuple[str, ...]
    has_divisions: bool  # each is ranked by itself
    ties: tuple[str, ...]  # a column for each tie-break of the rule set
    lines: tuple[MergingLine, ...]
    n_first: int


N_FIRST = 5
"""Lines for the first places: three, and two more because places may be shared."""


def merging_sheet_pdf(event: Event, *, paper: str = "a4") -> bytes:
    """Set the sheet on which all heats come together; for helpers, it holds no key.

    ``paper``: ``a4`` or ``us-letter``. Raises InputError if there are no pairs or no items.
    """
    return typeset("merging_sheet", merging_view(event), day=event.day, paper=paper)


def merging_view(event: Event) -> MergingView:
    """What the sheet says, as text."""
    if not event.items:
        raise InputError("has nothing to score", where="items.csv", mend="Enter the items first")
    heats = heat_lists(event)
    checked = checked_codes(pair.code for heat in heats for pair in heat.pairs)
    return MergingView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        rules=wrappable(rules_words(event.rules)),
        words=form_texts(),
        steps=(
            *merging_steps(event.rules),
            *((divisions_apart(),) if event.divisions else ()),
        ),
        has_divisions=bool(event.divisions),
        ties=tuple(map(tie_column, event.rules.tie_breaks)),
        lines=tuple(
            line
            for heat in heats
            for line in (
                *(
                    MergingLine(
                        checked[p.code],
                        heat.title,
                        wrappable(p.division, 24),
                        _is_placed(event, p),
                    )
                    for p in heat.pairs
                ),
                *(
                    MergingLine(with_check(c), heat.title, "", is_placed=True)
                    for c in heat.spare_codes
                ),
            )
        ),
        n_first=N_FIRST,
    )


def _is_placed(event: Event, pair: Pair) -> bool:
    """Whether a pair that comes would get a place; one marked absent may still come."""
    return pair.status is not PairStatus.GUEST and (event.rules.solo_allowed or not pair.is_solo)
