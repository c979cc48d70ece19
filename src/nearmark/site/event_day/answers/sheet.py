"""What one reader sees of the answers of a heat: own readings and free cells, never another's."""

import re
import uuid
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Any, NamedTuple

from nearmark.contest.division import is_asked
from nearmark.contest.event import AnswerStatus
from nearmark.contest.heat_records import in_order
from nearmark.contest.pair_code import with_check
from nearmark.errors import InputError
from nearmark.site.common.forms import written_number
from nearmark.site.event.answer_models import AnswerEntry
from nearmark.site.event.models import ItemRecord, PairRecord
from nearmark.site.event.snapshot import EventSnapshot
from nearmark.site.event_day.answers.actions import PaperAnswer
from nearmark.station import Station
from nearmark.words.heats import heat_words
from nearmark.words.translation import digits

BLANK = "b"
ILLEGIBLE = "?"
_CELL = re.compile(r"([0-9]{1,15})-([0-9]{1,15})")


class CellState(StrEnum):
    """What this reader can do with an answer."""

    FREE = "free"
    OWN = "own"
    FULL = "full"


@dataclass(frozen=True, slots=True)
class Cell:
    """One answer on the sheet of one reader."""

    name: str  # of the input: number of the pair and of the item
    item: ItemRecord
    state: CellState
    key: str  # of the reading: made once a page, or that of one's own reading
    own: str = ""  # what this reader wrote


@dataclass(frozen=True, slots=True)
class Sheet:
    """A pair's answers, in the order in which they are printed."""

    pair: PairRecord
    checked: str  # its code as it is on the paper
    cells: tuple[Cell, ...]

    @property
    def free(self) -> list[str]:
        """Codes of the items that this reader has still to type."""
        return [cell.item.code for cell in self.cells if cell.state is CellState.FREE]

    @property
    def data(self) -> dict[str, Any]:
        """For the script of the page."""
        return {
            "code": self.pair.code,
            "checked": self.checked,
            "school": self.pair.school,
            "heat": heat_words(self.pair.heat),
            "cells": {
                str(cell.item.pk): {"state": cell.state.value, "own": cell.own, "key": cell.key}
                for cell in self.cells
            },
        }


@dataclass(frozen=True, slots=True)
class HeatSheets:
    """The sheets of a heat; ``heat`` is empty for pairs without one."""

    heat: str
    sheets: tuple[Sheet, ...]

    @property
    def n_left(self) -> int:
        """How many of them this reader has still to type."""
        return sum(bool(sheet.free) for sheet in self.sheets)


class _Made(NamedTuple):
    """A reading that counts."""

    key: uuid.UUID
    clerk: str
    status: str
    value: Decimal | None


def written_items(desk: EventSnapshot) -> list[ItemRecord]:
    """The items whose answers are written on the sheet: all but the weighed ones."""
    return [item for item in desk.items.values() if item.station != Station.MASS.value]


def cells_named(
    desk: EventSnapshot, names: Iterable[str]
) -> dict[str, tuple[PairRecord, ItemRecord]]:
    """The answers that names made by ``cell_name`` stand for; one that means none is left out."""
    found = {}
    for name in names:
        match = _CELL.fullmatch(name)
        pair = desk.pairs.get(int(match[1])) if match else None
        item = desk.items.get(int(match[2])) if match else None
        if pair is None or item is None or item.station == Station.MASS.value:
            continue
        if pair.takes_part and is_asked(item, pair.division):
            found[name] = (pair, item)
    return found


def heat_sheets(desk: EventSnapshot, reader: str) -> list[HeatSheets]:
    """Every sheet as the account named ``reader`` may see it, in the order of the day."""
    items = written_items(desk)
    made: dict[tuple[int, int], list[_Made]] = defaultdict(list)
    found = AnswerEntry.objects.filter(pair__in=desk.pairs, item__in=items, struck_at=None)
    columns = ("pair_id", "item_id", "key", "clerk", "status", "value")
    for pair_id, item_id, *read in found.values_list(*columns):
        made[pair_id, item_id].append(_Made(*read))
    by_heat: dict[str, list[Sheet]] = defaultdict(list)
    for pair in desk.pairs.values():
        if pair.takes_part:
            asked = (item for item in items if is_asked(item, pair.division))
            cells = tuple(_cell(pair, item, made[pair.pk, item.pk], reader) for item in asked)
            by_heat[pair.heat].append(Sheet(pair, on_paper(pair.code), cells))
    return [HeatSheets(heat, tuple(by_heat[heat])) for heat in in_order(by_heat)]


def on_paper(code: str) -> str:
    """A pair's code as it is printed; the code alone where it can carry no check character."""
    try:
        return with_check(code)
    except InputError:
        return code


def cell_name(pair: PairRecord, item: ItemRecord) -> str:
    """Name of the input of one answer."""
    return f"{pair.pk}-{item.pk}"


def _cell(pair: PairRecord, item: ItemRecord, made: list[_Made], reader: str) -> Cell:
    name = cell_name(pair, item)
    own = next((entry for entry in made if entry.clerk == reader), None)
    if own is not None:
        return Cell(name, item, CellState.OWN, str(own.key), own=_shown(own))
    state = CellState.FREE if len(made) < 2 else CellState.FULL
    return Cell(name, item, state, str(uuid.uuid4()))


def _shown(read: _Made) -> str:
    if read.value is not None:
        return digits(f"{read.value:f}")
    return BLANK if read.status == AnswerStatus.BLANK.value else ILLEGIBLE


def read_cell(text: str) -> PaperAnswer:
    """What was typed into a cell.

    ``text``: a number, ``b`` for blank, ``?`` for what cannot be read.

    >>> read_cell("2870").value, read_cell("b").status.value
    (Decimal('2870'), 'blank')
    """
    plain = text.strip()
    if plain.casefold() in {BLANK, "-"}:
        return PaperAnswer(AnswerStatus.BLANK)
    if plain == ILLEGIBLE:
        return PaperAnswer(AnswerStatus.ILLEGIBLE)
    try:
        return PaperAnswer(AnswerStatus.ANSWERED, written_number(plain))
    except InputError as refusal:
        if any(sign.isdigit() for sign in plain):
            raise
        raise InputError(
            "is not a number",
            value=plain[:20],
            mend="Type b when nothing is written, ? when nobody can read it",
        ) from refusal
