"""To ask before a reading is saved: the doubts it adds, and those its typist has kept already."""

from collections.abc import Collection, Sequence

from nearmark.contest.doubts import Doubt, new_doubts
from nearmark.contest.event import Event
from nearmark.site.common.responses import RefusalsOn
from nearmark.words.doubts import doubt_sentence


class DoubtsError(Exception):
    """Something looks like a slip: nothing was saved, the typist is asked."""

    def __init__(self, doubts: Sequence[Doubt]) -> None:
        super().__init__("; ".join(doubt_sentence(doubt) for doubt in doubts))
        self.doubts = tuple(doubts)


class DoubtsOn(RefusalsOn):
    """The same with what is asked about the form before anything is saved."""

    def __exit__(self, kind: object, error: object, trace: object) -> bool:
        if isinstance(error, DoubtsError):
            self.form.asked, self.form.refused_status = error.doubts, 422
        return isinstance(error, DoubtsError) or super().__exit__(kind, error, trace)


doubts_on = DoubtsOn


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
