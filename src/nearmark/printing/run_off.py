"""The sheet for a run-off: who shares the first place, what they do, and lines to write on."""

from dataclasses import dataclass

from nearmark.contest.awards import DivisionAwards, awards
from nearmark.contest.results import Results
from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, wrappable
from nearmark.words.awards import run_off_decides, run_off_needed
from nearmark.words.day_roles import day_texts


@dataclass(frozen=True, slots=True)
class RunOff:
    """One run-off."""

    division: str  # empty: of all pairs
    needed: str
    pairs: tuple[tuple[str, str], ...]  # code and school


@dataclass(frozen=True, slots=True)
class RunOffView:
    """Every run-off of an event, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    decides: str
    run_offs: tuple[RunOff, ...]


def run_off_pdf(outcome: Results, *, paper: str = "a4") -> bytes:
    """Set the sheets of every run-off, one page each.

    ``paper``: ``a4`` or ``us-letter``. Raises InputError if no first place is shared, or the rule
    set has no run-off.
    """
    return typeset("run_off", run_off_view(outcome), day=outcome.event.day, paper=paper)


def run_off_view(outcome: Results) -> RunOffView:
    """What the sheets say, as text."""
    needed = [found for found in awards(outcome) if found.shared_first and found.run_off]
    if not needed:
        raise InputError(
            "is not needed",
            where="run-off",
            mend="A sheet is printed where a first place is shared and the rule set has a run-off",
        )
    return RunOffView(
        event=wrappable(outcome.event.name, 120),
        day=day_text(outcome.event.day),
        words=day_texts(),
        decides=run_off_decides(),
        run_offs=tuple(map(_run_off, needed)),
    )


def _run_off(found: DivisionAwards) -> RunOff:
    return RunOff(
        division=wrappable(found.division.name, 60),
        needed=wrappable(run_off_needed(found), 600),
        pairs=tuple(
            (wrappable(pair.code, 24), wrappable(pair.school, 60)) for pair in found.shared_first
        ),
    )
