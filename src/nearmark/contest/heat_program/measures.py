"""How good a plan is, read from the plan itself: no number comes from the solver."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence

from nearmark.contest.heat_program.frame import HeatFrame
from nearmark.contest.heat_program.groups import Place
from nearmark.contest.heat_program.levels import Aim
from nearmark.contest.heat_records import Heat, n_cuts


def measures(
    heats: Sequence[Heat],
    frame: HeatFrame,
    *,
    parties: Mapping[str, str],
    before: Mapping[str, Place],
) -> dict[Aim, float]:
    """How far a plan is from what is wanted; less is better, and each aim goes before the next.

    >>> from nearmark.contest.event import Pair
    >>> plan = [Heat(1, (Pair("P1", "Elm", ("A",)),)), Heat(2, (Pair("P2", "Elm", ("B",)),))]
    >>> found = measures(plan, HeatFrame(), parties={}, before={})
    >>> found[Aim.HEATS], found[Aim.CUTS], found[Aim.UNEVEN]
    (2.0, 1.0, 0.0)

    Parameters
    ----------
    parties : school -> coach or the school itself
    before : (heat number, name of room) by code; where pairs were
    """
    placed = [(heat.number, pair) for heat in heats for pair in heat.pairs]
    rooms: dict[str, set[str]] = defaultdict(set)
    at: dict[str, set[int]] = defaultdict(set)
    for number, pair in placed:
        rooms[parties.get(pair.school, pair.school)].add(pair.room)
        at[parties.get(pair.school, pair.school)].add(number)
    return {
        Aim.MOVES: float(sum(_has_moved(n, p.room, before.get(p.code)) for n, p in placed)),
        Aim.HEATS: float(len({number for number, _ in placed})),
        Aim.CUTS: float(n_cuts(heats)),
        Aim.COACHES: float(
            sum(len(names) - 1 for names in rooms.values())
            + sum(max(0, max(numbers) - min(numbers) - 1) for numbers in at.values())
        ),
        Aim.UNEVEN: _uneven(Counter((n, p.room) for n, p in placed), frame),
    }


def _has_moved(heat: int, room: str, before: Place | None) -> bool:
    return before is not None and (heat != before[0] or bool(before[1] and room != before[1]))


def _uneven(loads: Mapping[tuple[int, str], int], frame: HeatFrame) -> float:
    numbers = {number for number, _ in loads}
    n = sum(loads.values())
    return sum(
        abs(loads.get((number, room.name), 0) - n * room.places / frame.places / len(numbers))
        for number in numbers
        for room in frame.rooms
    )
