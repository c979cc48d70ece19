"""What one reader sees of the answers of a heat: own readings and free cells, never another's."""

import re
import uuid
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from nearmark.contest.event import AnswerStatus, PairStatus
from nearmark.contest.rules import RuleSet, Station
from nearmark.errors import InputError
from nearmark.site.acts.answers import Written
from nearmark.site.desk import Desk
from nearmark.site.forms import written_number
from nearmark.site.models import AnswerEntry, ItemRecord, PairRecord

BLANK = "b"
ILLEGIBLE = "?"
_TAKING_PART = frozenset({PairStatus.ENTERED.value, PairStatus.GUEST.value})
_CELL = re.compile(r"([0-9]{1,15})-([0-9]{1,15})")


class CellState(StrEnum):
    """What this reader can do with an answer."""

    FREE = "free"
    OWN = "own"
    FULL = "full"


@dataclass(frozen=True, slots=True)
class Cell:
    """One answer on the sheet of one reader.

    Attributes
    ----------
    name : str
        Of the input: number of the pair and of the item.
    item : str
    state : CellState
    key : str
        Made once a page; travels with the reading.
    own : str
        What this reader wrote.
    typed, refusal : str
        What was typed and refused just now, and why.
    """

    name: str
    item: str
    state: CellState
    key: str
    own: str = ""
    typed: str = ""
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A pair's answers."""

    pair: PairRecord
    cells: tuple[Cell, ...]


class _Made(NamedTuple):
    """A reading that stands."""

    clerk: str
    status: str
    value: Decimal | None


def written_items(desk: Desk) -> list[ItemRecord]:
    """The items whose answers are written on the sheet: all but the weighed ones.

    Parameters
    ----------
    desk : Desk
    """
    return [item for item in desk.items.values() if item.station != Station.MASS.value]


def came(desk: Desk, heat: str | None) -> list[PairRecord]:
    """Pairs that hand in, of one heat or of all.

    Parameters
    ----------
    desk : Desk
    heat : str or None
    """
    pairs = [pair for pair in desk.pairs.values() if pair.status in _TAKING_PART]
    return pairs if heat is None else [pair for pair in pairs if pair.heat == heat]


def cells_named(desk: Desk, names: Iterable[str]) -> dict[str, tuple[PairRecord, ItemRecord]]:
    """The answers that inputs stand for; a name that stands for none is left out.

    Parameters
    ----------
    desk : Desk
    names : iterable of str
        As ``cell_name`` makes them.
    """
    found = {}
    for name in names:
        match = _CELL.fullmatch(name)
        pair = desk.pairs.get(int(match[1])) if match else None
        item = desk.items.get(int(match[2])) if match else None
        if pair is None or item is None or item.station == Station.MASS.value:
            continue
        if pair.status in _TAKING_PART:
            found[name] = (pair, item)
    return found


def sheet(
    pairs: Iterable[PairRecord],
    items: list[ItemRecord],
    reader: str,
    *,
    refused: dict[str, tuple[str, str]],
) -> list[Row]:
    """The grid of one reader.

    Parameters
    ----------
    pairs : iterable of PairRecord
    items : list of ItemRecord
    reader : str
        Name of the account.
    refused : dict of cell name -> (typed, why)

    Returns
    -------
    list of Row
    """
    rows = list(pairs)
    made: dict[tuple[int, int], list[_Made]] = defaultdict(list)
    found = AnswerEntry.objects.filter(pair__in=rows, item__in=items, struck_at=None)
    columns = ("pair_id", "item_id", "clerk", "status", "value")
    for pair_id, item_id, clerk, status, value in found.values_list(*columns):
        made[pair_id, item_id].append(_Made(clerk, status, value))
    return [
        Row(
            pair,
            tuple(_cell(pair, item, made[pair.pk, item.pk], reader, refused) for item in items),
        )
        for pair in rows
    ]


def cell_name(pair: PairRecord, item: ItemRecord) -> str:
    """Name of the input of one answer.

    Parameters
    ----------
    pair : PairRecord
    item : ItemRecord
    """
    return f"{pair.pk}-{item.pk}"


def _cell(
    pair: PairRecord,
    item: ItemRecord,
    made: list[_Made],
    reader: str,
    refused: dict[str, tuple[str, str]],
) -> Cell:
    name = cell_name(pair, item)
    typed, why = refused.get(name, ("", ""))
    own = next((entry for entry in made if entry.clerk == reader), None)
    if own is not None:
        return Cell(name, item.code, CellState.OWN, "", own=_shown(own), typed=typed, refusal=why)
    state = CellState.FREE if len(made) < 2 else CellState.FULL
    return Cell(name, item.code, state, str(uuid.uuid4()), typed=typed, refusal=why)


def _shown(read: _Made) -> str:
    if read.value is not None:
        return f"{read.value:f}"
    return BLANK if read.status == AnswerStatus.BLANK.value else ILLEGIBLE


def read_cell(text: str) -> Written:
    """What was typed into a cell.

    Parameters
    ----------
    text : str
        A number, ``b`` for blank, ``?`` for what cannot be read.

    Raises
    ------
    InputError

    Examples
    --------
    >>> read_cell("2870").value, read_cell("b").status.value
    (Decimal('2870'), 'blank')
    """
    plain = text.strip()
    if plain.casefold() in {BLANK, "-"}:
        return Written(AnswerStatus.BLANK)
    if plain == ILLEGIBLE:
        return Written(AnswerStatus.ILLEGIBLE)
    try:
        return Written(AnswerStatus.ANSWERED, written_number(plain))
    except InputError as refusal:
        if any(sign.isdigit() for sign in plain):
            raise
        raise InputError(
            "is not a number",
            value=plain[:20],
            mend="Type b when nothing is written, ? when nobody can read it",
        ) from refusal


def question(written: Written, item: ItemRecord, rules: RuleSet) -> str:
    """What to ask about an unlikely value; the reading is kept all the same.

    Parameters
    ----------
    written : Written
    item : ItemRecord
    rules : RuleSet
    """
    rule = rules.stations.get(Station(item.station))
    if rule is None or written.value is None or rule.lowest <= written.value <= rule.highest:
        return ""
    return (
        f"{written.value:f} is unusual here ({float(rule.lowest):g} to {float(rule.highest):g}): "
        "is that what stands on the paper?"
    )
