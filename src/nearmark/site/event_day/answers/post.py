"""One post of a sheet: which answers were typed, and what becomes of each."""

import uuid
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, Final

from django.http import HttpRequest

from nearmark.errors import NearmarkError
from nearmark.site.common.forms import words
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.snapshot import EventSnapshot
from nearmark.site.event_day.answers.actions import SubmittedReading, record_answers
from nearmark.site.event_day.answers.doubts import Asked, asked_first
from nearmark.site.event_day.answers.sheet import cells_named, read_cell
from nearmark.words.desk import load_again, no_such_cell

MAX_CELLS: Final = 2_000


@dataclass(slots=True)
class Outcome:
    """What became of the answers of one post."""

    saved: list[str] = field(default_factory=list)  # on the disk
    refused: dict[str, str] = field(default_factory=dict)  # why by cell name
    # What is asked before it is saved, by cell name.
    asked: dict[str, Asked] = field(default_factory=dict)
    typed: dict[str, str] = field(default_factory=dict)  # text by cell name

    @property
    def is_whole(self) -> bool:
        """Whether nothing waits for its typist."""
        return not self.refused and not self.asked

    def told(self) -> dict[str, Any]:
        """What the script of the page is answered."""
        asked = {name: asked.told() for name, asked in self.asked.items()}
        return {"saved": self.saved, "refused": self.refused, "asked": asked}


def keep_cells(
    fields: Mapping[str, object], desk: EventSnapshot, reader: str, *, answered: Collection[str]
) -> Outcome:
    """Keep the answers that were typed; each counts or fails alone.

    ``fields`` (text by name): ``v-CELL`` what was typed, ``k-CELL`` the key of that reading.
    ``reader``: name of the account. ``answered``: doubts that were answered with "save it as it
    is".
    """
    outcome = Outcome(typed=_typed(fields))
    known = cells_named(desk, outcome.typed)
    reads: dict[str, SubmittedReading] = {}
    for name, text in outcome.typed.items():
        try:
            pair, item = known[name]
            key = uuid.UUID(str(fields.get(f"k-{name}", "")))
            reads[name] = SubmittedReading(key, pair.code, item.code, read_cell(text), reader)
        except KeyError:
            outcome.refused[name] = no_such_cell()
        except ValueError:
            outcome.refused[name] = load_again()
        except NearmarkError as refusal:
            outcome.refused[name] = words(refusal)
    outcome.asked = asked_first(desk, reads, answered)
    reads = {name: read for name, read in reads.items() if name not in outcome.asked}
    for name, kept in zip(reads, record_answers(list(reads.values())), strict=True):
        if isinstance(kept, NearmarkError):
            outcome.refused[name] = words(kept)
        else:
            outcome.saved.append(name)
    return outcome


def _typed(fields: Mapping[str, object]) -> dict[str, str]:
    found = (
        (name.removeprefix("v-"), str(text))
        for name, text in fields.items()
        if name.startswith("v-") and str(text).strip()
    )
    return dict(islice(found, MAX_CELLS))


def is_of_another(request: HttpRequest) -> bool:
    """Whether an entry was typed on the page of another account: two tabs, two people."""
    account = visitor_of(request).account
    typed_by = request.POST.get("reader")
    return bool(typed_by) and account is not None and typed_by != str(account.pk)
