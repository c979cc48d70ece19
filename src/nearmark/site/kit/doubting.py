"""To ask before a reading is saved: the doubts it adds, and those its typist has kept already."""

from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager

from nearmark.contest.doubts import Doubt, new_doubts
from nearmark.contest.event import Event
from nearmark.site.common.forms import BaseForm
from nearmark.site.common.responses import refusals_on
from nearmark.words.doubts import doubt_sentence


class DoubtsError(Exception):
    """Something looks like a slip: nothing was saved, the typist is asked."""

    def __init__(self, doubts: Sequence[Doubt]) -> None:
        super().__init__("; ".join(doubt_sentence(doubt) for doubt in doubts))
        self.doubts = tuple(doubts)


@contextmanager
def doubts_on(form: BaseForm) -> Iterator[None]:
    """Put on the form what is asked about it, or a refusal; then the page is shown again."""
    with refusals_on(form):
        try:
            yield
        except DoubtsError as asked:
            form.asked, form.refused_status = asked.doubts, 422


def ask_first(before: Event, after: Event, kept: Collection[str]) -> str:
    """Ask about what a change adds, unless its typist has answered: save it as it is.

    ``kept``: ids of doubts that were answered. Returns: for the history: what was kept all the
    same; empty when nothing was asked. Raises DoubtsError: inside ``writing()``, so that nothing of
    the change stays.
    """
    found = new_doubts(before, after)
    if any(doubt.id not in kept for doubt in found):
        raise DoubtsError(found)
    return " ".join(f"Saved as it is: {doubt_sentence(doubt)}" for doubt in found)
