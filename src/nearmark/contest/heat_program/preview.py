"""A plan at once: school by school, without a look at the wishes."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from nearmark.contest.event import Pair, Room
from nearmark.contest.heat_packing import shares
from nearmark.contest.heat_program.frame import HeatFrame
from nearmark.contest.heat_program.groups import Place
from nearmark.contest.heat_records import Heat
from nearmark.contest.heats import fill_heats


def preview_heats(
    pairs: Sequence[Pair], frame: HeatFrame, *, kept: Mapping[str, Place] | None = None
) -> tuple[Heat, ...]:
    """Heats filled school by school, and each heat dealt to the rooms.

    Parameters
    ----------
    pairs : shape (n_pairs,)
    kept : (heat number, name of room) by code, optional
        Placed already.

    Returns
    -------
    tuple of Heat
        By number, each pair with its heat and its room.

    Examples
    --------
    >>> field = [Pair(f"P{n}", s, ("Ada",)) for n, s in enumerate("EEFF", start=1)]
    >>> (heat,) = preview_heats(field, HeatFrame((Room("Gym", 2), Room("Library", 2))))
    >>> [(pair.code, pair.room) for pair in heat.pairs]
    [('P1', 'Gym'), ('P2', 'Gym'), ('P3', 'Library'), ('P4', 'Library')]
    """
    stay = kept or {}
    at = {code: heat for code, (heat, _) in stay.items()}
    heats = fill_heats(pairs, places=frame.places, kept=at)
    if len(frame.rooms) == 1:
        name = frame.rooms[0].name
        return tuple(
            Heat(heat.number, tuple(replace(pair, room=name) for pair in heat.pairs))
            for heat in heats
        )
    return tuple(_in_rooms(heat, frame.rooms, stay) for heat in heats)


def _in_rooms(heat: Heat, rooms: Sequence[Room], kept: Mapping[str, Place]) -> Heat:
    """Who stays in a room stays; the others of each school go to as few rooms as there can be."""
    free = {room.name: room.places for room in rooms}
    of: dict[str, list[str]] = defaultdict(list)
    room_of: dict[str, str] = {}
    for pair in heat.pairs:
        own = kept.get(pair.code, (0, ""))[1]
        if free.get(own, 0) > 0:
            room_of[pair.code] = own
            free[own] -= 1
        else:
            of[pair.school].append(pair.code)
    schools = sorted(of)
    dealt = shares([free[room.name] for room in rooms], [len(of[school]) for school in schools])
    for school, amounts in zip(schools, dealt, strict=True):
        codes = iter(of[school])
        for room, amount in zip(rooms, amounts, strict=True):
            room_of |= {next(codes): room.name for _ in range(amount)}
    return Heat(heat.number, tuple(replace(p, room=room_of[p.code]) for p in heat.pairs))
