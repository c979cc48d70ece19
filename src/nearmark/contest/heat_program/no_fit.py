"""Why no plan keeps everything: who has no place, and the least changes that would fit."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import time

from nearmark.contest.heat_program.frame import HeatFrame, heat_numbers
from nearmark.contest.heat_program.groups import Cell, Field, Part
from nearmark.contest.heat_program.model import Give, Model
from nearmark.integer_program import Solution


@dataclass(frozen=True, slots=True)
class Unplaced:
    """Pairs of one school that find no place."""

    school: str
    n: int  # pairs
    n_of_school: int  # pairs of the school
    codes: tuple[str, ...]  # of the pairs, where it is certain which
    # The times they ask for; ``None``: they ask for none.
    earliest: time | None = None
    latest: time | None = None


@dataclass(frozen=True, slots=True)
class MorePlaces:
    """Places that are not there and would fit."""

    n: int
    room: str  # empty: the event has no rooms
    heat: int | None  # ``None``: accessible places of a room, in every heat
    is_accessible: bool = False


@dataclass(frozen=True, slots=True)
class WishChange:
    """A wish given up, so that everybody has a place."""

    part: Part
    who: str  # who asked, or the name of the group of people
    # Of a time, what would fit; ``None``: no change at this end.
    earliest: time | None = None
    latest: time | None = None


@dataclass(frozen=True, slots=True)
class NoFit:
    """Why no plan keeps everything."""

    unplaced: tuple[Unplaced, ...]
    # Each of these alone would fit; empty or ``None``: it would not, or was not found in the time.
    more_places: tuple[MorePlaces, ...] = ()
    changes: tuple[WishChange, ...] = ()
    mixes_divisions: bool = False  # whether ``changes`` need the divisions to go together
    n_heats: int | None = None  # heats with which everybody fits, where they were limited


def why_no_fit(field: Field, frame: HeatFrame, heats: Sequence[int], time_limit_s: float) -> NoFit:
    """Find who has no place, and the least changes that would fit.

    >>> from nearmark.contest.event import Pair, Room
    >>> from nearmark.contest.heat_program.groups import make_field
    >>> pairs = [Pair("P1", "Elm", ("A",)), Pair("P2", "Oak", ("B",))]
    >>> field = make_field(pairs, (), kept={}, before={})
    >>> why_no_fit(field, HeatFrame((Room("", 1),)), (1,), 5).more_places
    (MorePlaces(n=1, room='', heat=1, is_accessible=False),)

    Parameters
    ----------
    heats : heat numbers; those that a plan may use
    time_limit_s : s; for everything together
    """
    limit = time_limit_s / 4
    unplaced = _elastic(field, frame, heats, Give.PAIRS, limit)
    model, solution = _elastic(field, frame, heats, Give.PLACES, limit)
    more = () if solution.columns is None else _more_places(model, solution)
    changes: tuple[WishChange, ...] = ()
    mixes = False
    model, solution = _elastic(field, frame, heats, Give.WISHES, limit)
    if solution.columns is not None:
        changes = _changes(model, solution)
        mixes = model.mixed is not None and _is_on(solution, model.mixed)
    return NoFit(_unplaced(*unplaced), more, changes, mixes, _more_heats(field, frame, limit))


def _elastic(
    field: Field, frame: HeatFrame, heats: Sequence[int], give: Give, limit: float
) -> tuple[Model, Solution]:
    model = Model(field, frame, heats, give)
    return model, model.program.least(model.price, time_limit_s=limit)


def _is_on(solution: Solution, column: int) -> bool:
    return solution.sum([(column, 1.0)]) > 0.5


def _n(solution: Solution, column: int) -> int:
    return round(solution.sum([(column, 1.0)]))


def _unplaced(model: Model, solution: Solution) -> tuple[Unplaced, ...]:
    if solution.columns is None:
        return ()
    sizes = Counter[str]()
    for group in model.field.groups:
        sizes[group.school] += group.size
    of: dict[tuple[str, time | None, time | None], list[tuple[int, tuple[str, ...]]]]
    of = defaultdict(list)
    for g, column in model.left_out.items():
        n = _n(solution, column)
        if n:
            group = model.field.groups[g]
            codes = tuple(pair.code for pair in group.pairs) if n == group.size else ()
            wishes = [model.field.wishes[row] for row in group.rows]
            earliest = max((w.earliest for w in wishes if w.earliest), default=None)
            latest = min((w.latest for w in wishes if w.latest), default=None)
            of[group.school, earliest, latest].append((n, codes))
    return tuple(
        Unplaced(
            school,
            sum(n for n, _ in rows),
            sizes[school],
            tuple(code for _, codes in rows for code in codes),
            earliest,
            latest,
        )
        for (school, earliest, latest), rows in of.items()
    )


def _more_places(model: Model, solution: Solution) -> tuple[MorePlaces, ...]:
    rooms = model.frame.rooms
    places = [
        MorePlaces(_n(solution, column), rooms[at].name, heat)
        for (heat, at), column in model.more.items()
        if _n(solution, column)
    ]
    accessible = [
        MorePlaces(_n(solution, column), rooms[at].name, None, is_accessible=True)
        for at, column in model.more_accessible.items()
        if _n(solution, column)
    ]
    return (*places, *accessible)


def _changes(model: Model, solution: Solution) -> tuple[WishChange, ...]:
    found = []
    for row, part in dict.fromkeys((b.row, b.part) for b in model.broken):
        columns = [c for b, c in model.broken.items() if (b.row, b.part) == (row, part)]
        if any(_is_on(solution, column) for column in columns):
            found.append(_change(model, solution, row, part))
    found += [
        WishChange(part, name)
        for (part, name), column in model.broken_names.items()
        if _is_on(solution, column)
    ]
    return tuple(found)


def _change(model: Model, solution: Solution, row: int, part: Part) -> WishChange:
    wish = model.field.wishes[row]
    if part is not Part.TIME:
        return WishChange(part, wish.who)
    heats = [heat for heat, _ in _cells(model, solution, row)]
    first = model.frame.start_minute(min(heats))
    last = model.frame.end_minute(max(heats))
    earliest, latest = _clock(first), _clock(last)
    return WishChange(
        part,
        wish.who,
        earliest if wish.earliest is not None and earliest < wish.earliest else None,
        latest if wish.latest is not None and latest > wish.latest else None,
    )


def _cells(model: Model, solution: Solution, row: int) -> list[Cell]:
    return [
        cell
        for (g, cell), column in model.x.items()
        if row in model.field.groups[g].rows and _is_on(solution, column)
    ]


def _clock(minute: int) -> time:
    return time(minute // 60 % 24, minute % 60)


def _more_heats(field: Field, frame: HeatFrame, limit: float) -> int | None:
    """How many heats would do, where their number was limited."""
    if frame.max_heats is None:
        return None
    free = replace(frame, max_heats=None)
    for more in range(frame.max_heats + 1, frame.max_heats + 7):
        numbers = heat_numbers(replace(frame, max_heats=more), field.n_pairs, (), None, 0)
        solution = Model(field, free, numbers).program.least([], time_limit_s=limit / 4)
        if solution.columns is not None:
            return more
        if not solution.is_infeasible:
            return None
    return None
