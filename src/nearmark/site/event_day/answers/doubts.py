"""Doubts that are asked before a reading is kept; "save it as it is" keeps it all the same."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from nearmark.contest.doubts import answer_doubts
from nearmark.contest.event import AnswerReading
from nearmark.site.event.answer_models import AnswerEntry
from nearmark.site.event.load import with_answers
from nearmark.site.event.snapshot import EventSnapshot
from nearmark.site.event_day.answers.actions import SubmittedReading
from nearmark.words.doubts import blind_sentence


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked about one reading."""

    ids: tuple[str, ...]  # of the doubts; sent back when the answer is "save it as it is"
    words: str

    def told(self) -> dict[str, Any]:
        """What the script of a page is answered."""
        return {"ids": self.ids, "words": self.words}


def asked_first(
    desk: EventSnapshot, reads: Mapping[str, SubmittedReading], answered: Collection[str]
) -> dict[str, Asked]:
    """Which readings are not kept before somebody has looked again.

    ``reads``: SubmittedReading by name. ``answered``: doubts that were answered with "save it as it
    is". Returns Asked by name.
    """
    if desk.record is None or desk.event is None or not reads:
        return {}
    keys = [read.key for read in reads.values()]
    # What was saved and not heard of is answered as saved.
    kept = set(AnswerEntry.objects.filter(key__in=keys).values_list("key", flat=True))
    event = with_answers(desk.event, desk.record)
    found = {}
    for name, read in reads.items():
        if read.key in kept:
            continue
        w = read.written
        reading = AnswerReading(read.pair, read.item, 1, read.by, w.status, w.value, w.cup, w.scale)
        doubts = answer_doubts(event, [reading])
        if any(doubt.id not in answered for doubt in doubts):
            ids = tuple(doubt.id for doubt in doubts)
            found[name] = Asked(ids, " ".join(blind_sentence(doubt) for doubt in doubts))
    return found
