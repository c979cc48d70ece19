"""Numbers to cut out and stick on the cups of the mass station."""

from dataclasses import dataclass

from nearmark.contest.event import Event
from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, wrappable
from nearmark.words.day_roles import day_texts


@dataclass(frozen=True, slots=True)
class CupNumbersView:
    """All numbers, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    numbers: tuple[str, ...]


def cup_numbers_pdf(event: Event, *, paper: str = "a4") -> bytes:
    """Set the numbers of all cups, 28 a page, with cut marks.

    ``paper``: ``a4`` or ``us-letter``. Returns: a PDF; every number is underlined, so that 6 and 9
    cannot be turned into each other. Raises InputError if there are no cups.
    """
    if not event.cups:
        raise InputError("has no cups to number", where="cups.csv", mend="Weigh the cups first")
    view = CupNumbersView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        words=day_texts(),
        numbers=tuple(wrappable(cup.number, 12) for cup in event.cups),
    )
    return typeset("cup_numbers", view, day=event.day, paper=paper)
