"""Who goes elsewhere in a new plan."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.contest.event import Pair
from nearmark.contest.heat_records import Heat


@dataclass(frozen=True, slots=True)
class HeatMove:
    """A pair that has another heat or another room than before."""

    code: str
    school: str
    old: tuple[str, str]  # heat and room as written; empty: none
    new: tuple[str, str]


def heat_moves(pairs: Sequence[Pair], heats: Sequence[Heat]) -> tuple[HeatMove, ...]:
    """Pairs that a plan sends elsewhere; one that only gets a room within its heat does not move.

    >>> pair = Pair("P1", "Elm", ("Ada",), heat="heat 1")
    >>> moved = Pair("P1", "Elm", ("Ada",), heat="heat 2")
    >>> heat_moves([pair], [Heat(2, (moved,))])
    (HeatMove(code='P1', school='Elm', old=('heat 1', ''), new=('heat 2', '')),)

    Parameters
    ----------
    pairs : shape (n_pairs,); as they are now
    heats : any number; as planned; who is in none keeps what it has
    """
    planned = {pair.code: pair for heat in heats for pair in heat.pairs}
    return tuple(
        HeatMove(old.code, old.school, (old.heat, old.room), (new.heat, new.room))
        for old in pairs
        if (new := planned.get(old.code)) and _goes_elsewhere(old, new)
    )


def _goes_elsewhere(old: Pair, new: Pair) -> bool:
    return old.heat != new.heat or bool(old.room and old.room != new.room)
