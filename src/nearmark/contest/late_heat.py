"""Which heat a pair joins that comes late, so that its school stays together."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from nearmark.contest.heat_records import Heat


@dataclass(frozen=True, slots=True)
class LateHeat:
    """A heat for a pair that comes late."""

    number: int  # heat number
    n_of_school: int = 0  # pairs of the same school in it
    # Heats with pairs of the school that are full (tuple of heat numbers).
    full: tuple[int, ...] = ()
    # Heats with pairs of the school that have started (tuple of heat numbers).
    gone: tuple[int, ...] = ()
    is_new: bool = False  # whether no heat had room, so that this one is added


def late_heat(
    heats: Iterable[Heat], school: str, *, places: int, started: Collection[int] = ()
) -> LateHeat:
    """Choose a heat for a pair that comes late.

    With room: the one with most pairs of the school, else the first; else a new one.

    >>> from nearmark.contest.event import Pair
    >>> heats = [Heat(1, (Pair("P1", "Elm", ("Ada",)),)), Heat(2, (Pair("P2", "Oak", ("Bo",)),))]
    >>> late_heat(heats, "Oak", places=12).number, late_heat(heats, "Oak", places=1).number
    (2, 3)

    Parameters
    ----------
    heats : any number of Heat
    places : pairs per heat
    started : collection of heat numbers; nobody joins these any more
    """
    heats = sorted(heats, key=lambda heat: heat.number)
    of_school = {
        heat.number: sum(pair.school.casefold() == school.casefold() for pair in heat.pairs)
        for heat in heats
    }
    gone = tuple(n for n in of_school if of_school[n] and n in started)
    ahead = [heat for heat in heats if heat.number not in started]
    full = tuple(h.number for h in ahead if of_school[h.number] and len(h.pairs) >= places)
    free = [heat for heat in ahead if len(heat.pairs) < places]
    if not free:
        following = max([0, *of_school, *started]) + 1
        return LateHeat(following, full=full, gone=gone, is_new=True)
    best = max(free, key=lambda heat: (of_school[heat.number], -heat.number))
    return LateHeat(best.number, of_school[best.number], full, gone)
