"""Which wishes a plan does not keep, read from the plan itself."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from nearmark.contest.event import Pair
from nearmark.contest.heat_program.frame import DivisionRule, HeatFrame
from nearmark.contest.heat_program.groups import Field, Part, breaches, is_kept_out
from nearmark.contest.heat_records import Heat


class Fault(StrEnum):
    """What is not kept."""

    TIME = "time"
    HEAT = "heat"
    ROOM = "room"
    TOGETHER = "together"
    APART = "apart"
    ACCESSIBLE = "accessible"
    DIVISIONS = "divisions"
    PLACES = "places"
    KEPT = "kept"  # who has to stay elsewhere, or joins a heat that is closed


@dataclass(frozen=True, slots=True)
class NotKept:
    """One thing that a plan does not keep."""

    fault: Fault
    who: str  # who asked, or the name of a group, a room or a division
    codes: tuple[str, ...]  # pairs it is about


_FAULTS = {Part.TIME: Fault.TIME, Part.HEAT: Fault.HEAT, Part.ROOM: Fault.ROOM}


def not_kept(
    heats: Sequence[Heat],
    field: Field,
    frame: HeatFrame,
) -> tuple[NotKept, ...]:
    """Everything that a plan does not keep of wishes, places and what had to stay.

    >>> from nearmark.contest.heat_program.groups import make_field
    >>> from nearmark.contest.heat_wish import HeatWish
    >>> pair, wish = Pair("P1", "Elm", ("Ada",)), HeatWish("P1", heat=2)
    >>> field = make_field([pair], [wish], kept={}, before={})
    >>> not_kept([Heat(1, (pair,))], field, HeatFrame())
    (NotKept(fault=<Fault.HEAT: 'heat'>, who='P1', codes=('P1',)),)

    Parameters
    ----------
    field : as ``make_field`` counts the pairs of the plan
    """
    at = {pair.code: (heat.number, pair) for heat in heats for pair in heat.pairs}
    return (*_rows(at, field, frame), *_people(at, field), *_rooms(at, field, frame))


_At = Mapping[str, tuple[int, Pair]]


def _rows(at: _At, field: Field, frame: HeatFrame) -> Iterator[NotKept]:
    positions = {room.name: i for i, room in enumerate(frame.rooms)}
    found: dict[tuple[Fault, str], list[str]] = defaultdict(list)
    for group in field.groups:
        for pair in group.pairs:
            heat, placed = at[pair.code]
            cell = (heat, positions[placed.room])
            if is_kept_out(group, cell, frame):
                found[Fault.KEPT, ""].append(pair.code)
            for breach in breaches(field.wishes, group, cell, frame):
                found[_FAULTS[breach.part], field.wishes[breach.row].who].append(pair.code)
    for (fault, who), codes in found.items():
        yield NotKept(fault, who, tuple(codes))


def _codes(field: Field, row: int) -> tuple[str, ...]:
    return tuple(pair.code for g in field.of_row(row) for pair in field.groups[g].pairs)


def _people(at: _At, field: Field) -> Iterator[NotKept]:
    for name, rows in field.named(Part.TOGETHER).items():
        codes = [code for row in rows for code in _codes(field, row)]
        if len({at[code][0] for code in codes}) > 1:
            yield NotKept(Fault.TOGETHER, name, tuple(dict.fromkeys(codes)))
    for name, rows in field.named(Part.APART).items():
        of_row = [_codes(field, row) for row in rows]
        numbers = [number for codes in of_row for number in {at[code][0] for code in codes}]
        if len(set(numbers)) < len(numbers):
            yield NotKept(Fault.APART, name, tuple(code for codes in of_row for code in codes))


def _rooms(at: _At, field: Field, frame: HeatFrame) -> Iterator[NotKept]:
    needy = {
        pair.code for group in field.groups if field.needs_accessible(group) for pair in group.pairs
    }
    cells: dict[tuple[int, str], list[str]] = defaultdict(list)
    for code, (heat, pair) in at.items():
        cells[heat, pair.room].append(code)
    rooms = {room.name: room for room in frame.rooms}
    for (_, name), codes in cells.items():
        room = rooms[name]
        here = [code for code in codes if code in needy]
        if room.accessible_places is not None and len(here) > room.accessible_places:
            yield NotKept(Fault.ACCESSIBLE, name, tuple(here))
        if len(codes) > room.places:
            yield NotKept(Fault.PLACES, name, tuple(codes))
    yield from _divisions(at, frame)


def _divisions(at: _At, frame: HeatFrame) -> Iterator[NotKept]:
    if frame.divisions is DivisionRule.MIXED:
        return
    placed = [(heat, pair) for heat, pair in at.values() if pair.division]
    if frame.divisions is DivisionRule.OWN_HEATS:
        yield from _mixing((heat, pair.division, pair.code) for heat, pair in placed)
    else:
        yield from _mixing((pair.division, pair.room, pair.code) for _, pair in placed)


def _mixing(rows: Iterable[tuple[object, str, str]]) -> Iterator[NotKept]:
    """Things with more than one name to them."""
    names: dict[object, set[str]] = defaultdict(set)
    codes: dict[object, list[str]] = defaultdict(list)
    for thing, name, code in rows:
        names[thing].add(name)
        codes[thing].append(code)
    for thing, several in names.items():
        if len(several) > 1:
            who = thing if isinstance(thing, str) else ", ".join(sorted(several))
            yield NotKept(Fault.DIVISIONS, who, tuple(codes[thing]))
