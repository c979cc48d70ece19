"""One post of the grid: which cells were typed, and what becomes of each."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, Final

from nearmark.errors import NearmarkError
from nearmark.site.acts.answers import Read, record_answers
from nearmark.site.desk import Desk
from nearmark.site.entry_sheet import cells_named, question, read_cell
from nearmark.site.event_store import rules_of
from nearmark.site.forms import words

MOST_CELLS: Final = 2_000
STRIKE: Final = "strike"
"""Name of the field that takes a reading back instead of adding one."""


@dataclass(slots=True)
class Outcome:
    """What became of the cells of one post.

    Attributes
    ----------
    saved : list of cell name
        On the disk.
    refused : dict of cell name -> (typed, why)
    questions : dict of cell name -> what to ask about a saved but unlikely value
    """

    saved: list[str] = field(default_factory=list)
    refused: dict[str, tuple[str, str]] = field(default_factory=dict)
    questions: dict[str, str] = field(default_factory=dict)

    def told(self) -> dict[str, Any]:
        """What the script of the page is answered."""
        why = {name: why for name, (_, why) in self.refused.items()}
        return {"saved": self.saved, "refused": why, "questions": self.questions}


def keep_cells(fields: Mapping[str, object], desk: Desk, reader: str) -> Outcome:
    """Keep the cells that were typed; each stands or falls alone.

    Parameters
    ----------
    fields : mapping of name -> text
        ``v-CELL`` what was typed, ``k-CELL`` the key of that reading.
    desk : Desk
    reader : str
        Name of the account.

    Returns
    -------
    Outcome
    """
    outcome = Outcome()
    typed = _typed(fields)
    known = cells_named(desk, typed)
    reads: dict[str, Read] = {}
    for name, text in typed.items():
        try:
            pair, item = known[name]
            key = uuid.UUID(str(fields.get(f"k-{name}", "")))
            reads[name] = Read(key, pair.code, item.code, read_cell(text), reader)
        except KeyError:
            outcome.refused[name] = (text, "This pair or item is not here any more.")
        except ValueError:
            outcome.refused[name] = (text, "Load the page again, then type it.")
        except NearmarkError as refusal:
            outcome.refused[name] = (text, words(refusal))
    for name, kept in zip(reads, record_answers(list(reads.values())), strict=True):
        if isinstance(kept, NearmarkError):
            outcome.refused[name] = (typed[name], words(kept))
        else:
            outcome.saved.append(name)
            pair, item = known[name]
            asked = (
                question(reads[name].written, item, rules_of(desk.record)) if desk.record else ""
            )
            if asked:
                outcome.questions[name] = f"{pair.code}, {item.code}: {asked}"
    return outcome


def _typed(fields: Mapping[str, object]) -> dict[str, str]:
    found = (
        (name.removeprefix("v-"), str(text))
        for name, text in fields.items()
        if name.startswith("v-") and str(text).strip()
    )
    return dict(islice(found, MOST_CELLS))
