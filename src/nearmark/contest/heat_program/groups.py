"""Pairs that are the same to the plan, counted together; and what each of them asks for."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from enum import StrEnum

from nearmark.contest.event import Pair
from nearmark.contest.heat_program.frame import HeatFrame, minute_of
from nearmark.contest.heat_records import TAKES_PART
from nearmark.contest.heat_wish import HeatWish
from nearmark.errors import InputError

Cell = tuple[int, int]
"""Heat number, and position of the room."""

Place = tuple[int, str]
"""Heat number, and name of the room; empty: any room, or an event without rooms."""


class Part(StrEnum):
    """One thing that a wish asks for."""

    TIME = "time"
    HEAT = "heat"
    ROOM = "room"
    TOGETHER = "together"
    APART = "apart"


@dataclass(frozen=True, slots=True)
class Breach:
    """A wish that is not kept."""

    row: int  # position of the wish
    part: Part
    minutes: int = 0  # of a time: how much too early, too late, or both together (min)


@dataclass(frozen=True, slots=True)
class Group:
    """Pairs that are the same to the plan."""

    pairs: tuple[Pair, ...]
    rows: tuple[int, ...]  # positions of the wishes of all of them
    kept: Place | None = None  # where they have to stay
    before: Place | None = None  # where they were

    @property
    def size(self) -> int:
        """Number of pairs."""
        return len(self.pairs)

    @property
    def school(self) -> str:
        """School of all of them."""
        return self.pairs[0].school

    @property
    def division(self) -> str:
        """Division of all of them; empty: none."""
        return self.pairs[0].division


@dataclass(frozen=True, slots=True)
class Field:
    """Who is to be placed, and what they ask for."""

    groups: tuple[Group, ...]
    wishes: tuple[HeatWish, ...] = ()
    parties: Mapping[str, str] = field(default_factory=dict)  # school -> its coach, or itself

    @property
    def n_pairs(self) -> int:
        """Pairs to place."""
        return sum(group.size for group in self.groups)

    def named(self, part: Part) -> dict[str, tuple[int, ...]]:
        """The groups of people that go together, or apart: name -> positions of wishes."""
        found: dict[str, list[int]] = defaultdict(list)
        for row, wish in enumerate(self.wishes):
            name = wish.together if part is Part.TOGETHER else wish.apart
            if name:
                found[name].append(row)
        return {name: tuple(rows) for name, rows in found.items()}

    def of_row(self, row: int) -> tuple[int, ...]:
        """Positions of the groups that a wish is of."""
        return tuple(i for i, group in enumerate(self.groups) if row in group.rows)

    def needs_accessible(self, group: Group) -> bool:
        """Whether each pair of a group needs an accessible place."""
        return any(self.wishes[row].needs_accessible for row in group.rows)


def make_field(
    pairs: Sequence[Pair],
    wishes: Sequence[HeatWish],
    *,
    kept: Mapping[str, Place],
    before: Mapping[str, Place],
) -> Field:
    """Count together who is the same to the plan.

    >>> pairs = [Pair("P1", "Elm", ("Ada",)), Pair("P2", "Elm", ("Bo",))]
    >>> [group.size for group in make_field(pairs, (), kept={}, before={}).groups]
    [2]

    Parameters
    ----------
    pairs : shape (n_pairs,); those who take part are placed
    kept, before : (heat number, name of room) by code
        Where pairs have to stay, and where they were.

    Raises
    ------
    InputError : if a wish names nobody, or both a pair and a school
    """
    check_names(pairs, wishes)
    of = defaultdict(list)
    for row, wish in enumerate(wishes):
        of[wish.who].append(row)
    own = {(wish.who, wish.apart) for wish in wishes if wish.apart}
    alike: dict[tuple[object, ...], list[Pair]] = defaultdict(list)
    for pair in (pair for pair in pairs if pair.status in TAKES_PART):
        # A pair with a wish of its own to be apart is not counted in its school's.
        of_school = [row for row in of[pair.school] if (pair.code, wishes[row].apart) not in own]
        rows = [*of[pair.code], *of_school]
        key = (pair.school, pair.division, tuple(rows), kept.get(pair.code), before.get(pair.code))
        alike[key].append(pair)
    groups = [
        Group(tuple(members), key[2], key[3], key[4])  # type: ignore[arg-type]
        for key, members in sorted(alike.items(), key=lambda item: repr(item[0]))
    ]
    coaches = {wish.who: wish.coach for wish in wishes if wish.coach}
    parties = {g.school: f"coach {coaches[g.school]}" for g in groups if g.school in coaches}
    parties |= {g.school: g.school for g in groups if g.school not in coaches}
    return Field(tuple(groups), tuple(wishes), parties)


def check_names(pairs: Sequence[Pair], wishes: Sequence[HeatWish]) -> None:
    """Refuse a wish of nobody, or one that could be of a pair or of a school.

    >>> check_names([Pair("P1", "Elm", ("Ada",))], [HeatWish("Elm", heat=2)])

    Raises
    ------
    InputError : With who is named and what to do
    """
    codes, schools = {pair.code for pair in pairs}, {pair.school for pair in pairs}
    for wish in wishes:
        if wish.who in codes and wish.who in schools:
            what = "is the code of a pair and the name of a school"
            raise InputError(what, where="who of a wish", value=wish.who, mend="Rename one of them")
        if wish.who not in codes | schools:
            close = get_close_matches(wish.who[:60], sorted(codes | schools), n=1)
            mend = f"Did you mean {close[0]}?" if close else "Write the code of a pair or a school"
            raise InputError(
                "is no pair and no school of this event",
                where="who of a wish",
                value=wish.who,
                mend=mend,
            )
        if wish.coach and wish.who in codes:
            raise InputError(
                "is asked for one pair; a coach is of a whole school",
                where=f"coach of {wish.who}",
                value=wish.coach,
                mend="Write the school as who",
            )
    twice = [k for k, n in Counter((w.who, w.coach) for w in wishes if w.coach).items() if n > 1]
    if twice:
        raise InputError("has two rows with a coach", where="wishes", value=twice[0][0])


def breaches(
    wishes: Sequence[HeatWish], group: Group, cell: Cell, frame: HeatFrame
) -> Iterator[Breach]:
    """What a group does not get in a cell: heat, times and room alone.

    Who has to stay where it is gets no heat and no time it asks for.

    >>> group = Group((Pair("P1", "Elm", ("Ada",)),), rows=(0,))
    >>> [breach.part for breach in breaches([HeatWish("P1", heat=2)], group, (1, 0), HeatFrame())]
    [<Part.HEAT: 'heat'>]

    Parameters
    ----------
    cell : (heat number, position of the room)
    """
    heat, at = cell
    for row in group.rows:
        wish = wishes[row]
        if group.kept is None:
            if wish.heat is not None and wish.heat != heat:
                yield Breach(row, Part.HEAT)
            minutes = _minutes_off(wish, heat, frame)
            if minutes:
                yield Breach(row, Part.TIME, minutes)
        if wish.room and wish.room != frame.rooms[at].name and not (group.kept or (0, ""))[1]:
            yield Breach(row, Part.ROOM)


def _minutes_off(wish: HeatWish, heat: int, frame: HeatFrame) -> int:
    early = late = 0
    if wish.earliest is not None:
        early = max(0, minute_of(wish.earliest) - frame.start_minute(heat))
    if wish.latest is not None:
        late = max(0, frame.end_minute(heat) - minute_of(wish.latest))
    return early + late


def is_kept_out(group: Group, cell: Cell, frame: HeatFrame) -> bool:
    """Whether a cell is not where a group has to stay, or is closed to it.

    >>> group = Group((Pair("P1", "Elm", ("Ada",)),), rows=(), kept=(2, ""))
    >>> is_kept_out(group, (1, 0), HeatFrame()), is_kept_out(group, (2, 0), HeatFrame())
    (True, False)

    Parameters
    ----------
    cell : (heat number, position of the room)
    """
    if group.kept is None:
        return cell[0] in frame.closed
    heat, room = group.kept
    return heat != cell[0] or bool(room and room != frame.rooms[cell[1]].name)
