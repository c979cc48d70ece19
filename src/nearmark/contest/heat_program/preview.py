"""A plan at once: school by school, without a look at the wishes."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from nearmark.contest.event import Pair, Room
from nearmark.contest.heat_packing import shares
from nearmark.contest.heat_program.frame import HeatFrame
from nearmark.contest.heat_program.groups import Place
from nearmark.contest.heat_records import Heat, heat_name
from nearmark.contest.heats import fill_heats


def preview_heats(
    pairs: Sequence[Pair], frame: HeatFrame, *, kept: Mapping[str, Place] | None = None
) -> tuple[Heat, ...]:
    """Heats filled school by school, and each heat dealt to the rooms.

    >>> field = [Pair(f"P{n}", s, ("Ada",)) for n, s in enumerate("EEFF", start=1)]
    >>> (heat,) = preview_heats(field, HeatFrame((Room("Gym", 2), Room("Library", 2))))
    >>> [(pair.code, pair.room) for pair in heat.pairs]
    [('P1', 'Gym'), ('P2', 'Gym'), ('P3', 'Library'), ('P4', 'Library')]

    Parameters
    ----------
    pairs : shape (n_pairs,)
    kept : (heat number, name of room) by code, optional; placed already
    """
    stay = kept or {}
    heats = _filled(pairs, frame, {code: heat for code, (heat, _) in stay.items()})
    if len(frame.rooms) == 1:
        return with_rooms(heats, frame)
    return tuple(_in_rooms(heat, frame.rooms, stay) for heat in heats)


def with_rooms(heats: Sequence[Heat], frame: HeatFrame) -> tuple[Heat, ...]:
    """Heats whose pairs have a room each: who has one with a place for it stays there.

    >>> one, two = Pair("P1", "Elm", ("A",), room="Gym"), Pair("P2", "Elm", ("B",), room="Gym")
    >>> (heat,) = with_rooms([Heat(1, (one, two))], HeatFrame((Room("Gym", 1), Room("Hall", 1))))
    >>> [pair.room for pair in heat.pairs]
    ['Gym', 'Hall']

    Parameters
    ----------
    heats : any number; none with more pairs than all rooms have places
    """
    now = {pair.code: (heat.number, pair.room) for heat in heats for pair in heat.pairs}
    if len(frame.rooms) > 1:
        return tuple(_in_rooms(heat, frame.rooms, now) for heat in heats)
    name = frame.rooms[0].name
    return tuple(
        Heat(heat.number, tuple(replace(pair, room=name) for pair in heat.pairs)) for heat in heats
    )


def _filled(pairs: Sequence[Pair], frame: HeatFrame, at: Mapping[str, int]) -> tuple[Heat, ...]:
    """Heats that are closed keep who is in them; the others are filled as if they were all."""
    if not frame.closed:
        return fill_heats(pairs, places=frame.places, kept=at)
    inside = [pair for pair in pairs if at.get(pair.code) in frame.closed]
    codes = {pair.code for pair in inside}
    free = [pair for pair in pairs if pair.code not in codes]
    most = max([*frame.closed, *at.values()]) + len(pairs)
    numbers = [number for number in range(1, most + 1) if number not in frame.closed]
    counted = {number: n for n, number in enumerate(numbers, start=1)}
    kept = {pair.code: counted[at[pair.code]] for pair in free if pair.code in at}
    filled = fill_heats(free, places=frame.places, kept=kept)
    begun = fill_heats(inside, places=len(pairs), kept={code: at[code] for code in codes})
    moved = [_numbered(heat, numbers[heat.number - 1]) for heat in filled]
    return tuple(sorted((*begun, *moved), key=lambda heat: heat.number))


def _numbered(heat: Heat, number: int) -> Heat:
    pairs = tuple(replace(pair, heat=heat_name(number)) for pair in heat.pairs)
    return Heat(number, pairs)


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
