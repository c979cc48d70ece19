"""One post of a sheet: which answers were typed, and what becomes of each."""

import uuid
from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import islice
from typing import Any, Final

from django.db.models import Q

from nearmark.contest.rules import Station
from nearmark.contest.unlikely import unlikely_answers
from nearmark.errors import NearmarkError
from nearmark.site.acts.answers import Read, record_answers
from nearmark.site.desk import Desk
from nearmark.site.entry_sheet import cells_named, read_cell
from nearmark.site.event_store import rules_of
from nearmark.site.forms import words
from nearmark.site.models import AnswerEntry

MOST_CELLS: Final = 2_000


@dataclass(frozen=True, slots=True)
class Asked:
    """A question that is asked before something is saved.

    Attributes
    ----------
    id : str
        Sent back when the answer is "save it as it is".
    words : str
    """

    id: str
    words: str


@dataclass(slots=True)
class Outcome:
    """What became of the answers of one post.

    Attributes
    ----------
    saved : list of cell name
        On the disk.
    refused : dict of cell name -> why
    asked : dict of cell name -> what is asked before it is saved
    typed : dict of cell name -> text
    """

    saved: list[str] = field(default_factory=list)
    refused: dict[str, str] = field(default_factory=dict)
    asked: dict[str, Asked] = field(default_factory=dict)
    typed: dict[str, str] = field(default_factory=dict)

    @property
    def is_whole(self) -> bool:
        """Whether nothing waits for its typist."""
        return not self.refused and not self.asked

    def told(self) -> dict[str, Any]:
        """What the script of the page is answered."""
        asked = {
            name: {"ids": [asked.id], "words": asked.words} for name, asked in self.asked.items()
        }
        return {"saved": self.saved, "refused": self.refused, "asked": asked}


def keep_cells(
    fields: Mapping[str, object], desk: Desk, reader: str, *, answered: Collection[str]
) -> Outcome:
    """Keep the answers that were typed; each counts or fails alone.

    Parameters
    ----------
    fields : mapping of name -> text
        ``v-CELL`` what was typed, ``k-CELL`` the key of that reading.
    desk : Desk
    reader : str
        Name of the account.
    answered : collection of str
        Doubts that were answered with "save it as it is".

    Returns
    -------
    Outcome
    """
    outcome = Outcome(typed=_typed(fields))
    known = cells_named(desk, outcome.typed)
    reads: dict[str, Read] = {}
    for name, text in outcome.typed.items():
        try:
            pair, item = known[name]
            key = uuid.UUID(str(fields.get(f"k-{name}", "")))
            reads[name] = Read(key, pair.code, item.code, read_cell(text), reader)
        except KeyError:
            outcome.refused[name] = "This pair or item is not here any more."
        except ValueError:
            outcome.refused[name] = "Load the page again, then type it."
        except NearmarkError as refusal:
            outcome.refused[name] = words(refusal)
    for name, doubt in _far_off(desk, reads).items():
        if doubt.id not in answered:
            outcome.asked[name] = doubt
            del reads[name]
    for name, kept in zip(reads, record_answers(list(reads.values())), strict=True):
        if isinstance(kept, NearmarkError):
            outcome.refused[name] = words(kept)
        else:
            outcome.saved.append(name)
    return outcome


def _far_off(desk: Desk, reads: Mapping[str, Read]) -> dict[str, Asked]:
    """A doubt for each answer that is far from what other pairs wrote.

    What somebody else read on the same sheet is left out of it, and the words do not say which way
    the number is off: a second reader must not be led.
    """
    if desk.record is None:
        return {}
    others: dict[int, list[tuple[int, Decimal]]] = defaultdict(list)
    kept = set()
    keys = {read.key for read in reads.values()}
    items = {desk.item_ids[read.item] for read in reads.values()}
    rows = AnswerEntry.objects.filter(Q(key__in=keys) | Q(item__in=items, struck_at=None))
    for key, pair_id, item_id, value in rows.values_list("key", "pair_id", "item_id", "value"):
        if key in keys:
            kept.add(key)
        elif value is not None:
            others[item_id].append((pair_id, value))
    stations = rules_of(desk.record).stations
    found = {}
    for name, read in reads.items():
        # What was saved and not heard of is answered as saved.
        if read.written.value is None or read.key in kept:
            continue
        item = desk.items[desk.item_ids[read.item]]
        pair_id = desk.pair_ids[read.pair]
        field_ = [value for other, value in others[item.pk] if other != pair_id]
        if unlikely_answers([*field_, read.written.value], stations[Station(item.station)])[-1]:
            value = f"{read.written.value:f}"
            found[name] = Asked(
                f"answer {read.pair} {read.item} {value}",
                f"{value} is unusual for {read.item}. Is that what is on the sheet of {read.pair}?",
            )
    return found


def _typed(fields: Mapping[str, object]) -> dict[str, str]:
    found = (
        (name.removeprefix("v-"), str(text))
        for name, text in fields.items()
        if name.startswith("v-") and str(text).strip()
    )
    return dict(islice(found, MOST_CELLS))
