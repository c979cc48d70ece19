"""One aim after the other, each held while the next is reached for.

The solver tries the whole program first.  Where it cannot prove its plan the best in its share of
the time, the plan is improved a few heats at a time: who is in other heats stays there.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain, combinations
from math import ceil, floor
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.event import Pair
from nearmark.contest.heat_program.frame import HeatFrame
from nearmark.contest.heat_program.groups import Cell, Field, Place
from nearmark.contest.heat_program.levels import EARLY, Aim, Level, terms_of
from nearmark.contest.heat_program.measures import measures
from nearmark.contest.heat_program.model import Model
from nearmark.contest.heat_records import Heat, heat_name
from nearmark.integer_program import Term

_WHOLE: Final = {
    Aim.MOVES: 0.3,
    Aim.HEATS: 0.3,
    Aim.CUTS: 0.3,
    Aim.COACHES: 0.25,
    Aim.UNEVEN: 0.2,
}
"""Of the time that is left, for the whole program, by aim."""

_PARTS: Final = {
    Aim.MOVES: 0.3,
    Aim.HEATS: 0.2,
    Aim.CUTS: 0.3,
    Aim.COACHES: 0.5,
    Aim.UNEVEN: 0.5,
}
"""Of the time that is left then, for a few heats at a time."""

_PART_S: Final = 2.0
"""For one try with a few heats."""

_SLACK: Final = 1e-6


class Search:
    """The best plan so far, and what is held."""

    def __init__(
        self,
        model: Model,
        before: Mapping[str, Place],
        *,
        end: float,
        now: Callable[[], float],
    ) -> None:
        self.model, self.before, self.end, self.now = model, before, end, now
        self.field: Field = model.field
        self.frame: HeatFrame = model.frame
        self.aims = [aim for aim in Aim if aim is not Aim.MOVES or before]
        self.heats: tuple[Heat, ...] | None = None
        self.values: dict[Aim, float] = {}

    def offer(self, heats: tuple[Heat, ...]) -> None:
        """Take a plan that keeps everything, where it is better than the one so far."""
        values = measures(heats, self.frame, parties=self.field.parties, before=self.before)
        if self.heats is None or self._ranked(values) < self._ranked(self.values):
            self.heats, self.values = heats, values

    def _ranked(self, values: Mapping[Aim, float]) -> list[float]:
        return [round(values[aim], 6) for aim in self.aims]

    def run(self, tell: Callable[[int, int], None]) -> tuple[Level, ...]:
        """How far each aim was reached; the plan is ``heats``, ``None`` where none was found."""
        bounds = {}
        for n, aim in enumerate(self.aims):
            tell(n, len(self.aims))
            bounds[aim] = self._reach(aim)
        tell(len(self.aims), len(self.aims))
        if self.heats is None:
            return ()
        return tuple(
            Level(aim, self.values[aim], min(bounds[aim], self.values[aim])) for aim in self.aims
        )

    def _reach(self, aim: Aim) -> float:
        """Make one aim as small as it can be, and hold it there; returns what nothing is below."""
        bound = self._least_of_all(aim)
        terms, constant = terms_of(aim, self.model, len(self.heats or (0,)))
        if self.heats is not None and self.values[aim] <= bound + _SLACK and self._is_early(aim):
            self._hold(aim, terms, constant)
            return bound
        solution = self.model.program.least(terms, time_limit_s=self._time(_WHOLE[aim]))
        if solution.columns is not None:
            self.offer(dealt(self.model, solution.columns))
        bound = max(bound, _whole(aim, solution.bound + constant))
        if self.heats is None:
            return bound
        self._improve(aim, terms, bound)
        self._hold(aim, terms, constant)
        return bound

    def _is_early(self, aim: Aim) -> bool:
        """Whether the heats are the first ones, where that is asked for."""
        numbers = tuple(heat.number for heat in self.heats or ())
        return aim is not Aim.HEATS or numbers == self.model.heats[: len(numbers)]

    def _time(self, share: float) -> float:
        return max(0.2, (self.end - self.now()) * share)

    def _least_of_all(self, aim: Aim) -> float:
        """What no plan is below, without any search."""
        if aim is Aim.HEATS:
            return float(ceil(self.field.n_pairs / self.frame.places))
        if aim is Aim.CUTS:
            sizes = [self.model.size(groups) for groups in self.model.by_school().values()]
            return float(sum(ceil(size / self.frame.places) - 1 for size in sizes))
        if aim is Aim.UNEVEN and self.heats:
            return _least_uneven(self.frame, self.field.n_pairs, len(self.heats))
        return 0.0

    def _hold(self, aim: Aim, terms: Sequence[Term], constant: float) -> None:
        """Whatever comes next, this aim does not become worse."""
        if aim is Aim.HEATS:
            numbers = {heat.number for heat in self.heats or ()}
            high = sum(1 + EARLY * (number - 1) for number in numbers) + EARLY / 2
        else:
            high = self.values[aim] - constant + 0.5
        self.model.program.row(terms, high=high)

    def _improve(self, aim: Aim, terms: Sequence[Term], bound: float) -> None:
        """A few heats at a time, until nothing more is won or the time is over."""
        end = self.now() + (self.end - self.now()) * _PARTS[aim]
        is_better = True
        while is_better:
            is_better = False
            for numbers in self._parts():
                if self.now() >= end or self.values[aim] <= bound + _SLACK:
                    return
                old = self._ranked(self.values)
                self._improve_part(terms, numbers, min(_PART_S, max(0.2, end - self.now())))
                is_better |= self._ranked(self.values) < old

    def _parts(self) -> Iterator[tuple[int, ...]]:
        numbers = [heat.number for heat in self.heats or ()]
        return chain(combinations(numbers, 2), combinations(numbers, 3))

    def _improve_part(self, terms: Sequence[Term], numbers: Sequence[int], limit: float) -> None:
        counts = counted(self.model, self.heats or ())
        fixed = {
            column: float(counts.get(key, 0))
            for key, column in self.model.x.items()
            if key[1][0] not in numbers
        }
        solution = self.model.program.least(terms, time_limit_s=limit, fixed=fixed)
        if solution.columns is not None:
            self.offer(dealt(self.model, solution.columns))


def _whole(aim: Aim, bound: float) -> float:
    """A bound in whole numbers, where the aim counts things."""
    if bound < -_FAR:
        return 0.0
    if aim is Aim.UNEVEN:
        return bound
    if aim is Aim.HEATS:
        bound -= 0.5  # early heats weigh less than half a heat, together
    return max(0.0, float(ceil(bound - _SLACK)))


_FAR: Final = 1e9


def _least_uneven(frame: HeatFrame, n_pairs: int, n_heats: int) -> float:
    """How uneven so many heats are at least, in pairs, because pairs are whole."""
    shares = [n_pairs * room.places / frame.places / n_heats for room in frame.rooms] * n_heats
    whole = [floor(share) for share in shares]
    # One more pair where that takes a room nearest to its share.
    for _ in range(n_pairs - sum(whole)):
        at = max(range(len(shares)), key=lambda i: shares[i] - whole[i])
        whole[at] += 1
    return sum(abs(n - share) for n, share in zip(whole, shares, strict=True))


def dealt(model: Model, columns: NDArray[np.float64]) -> tuple[Heat, ...]:
    """Deal the pairs of each group, in their order, to the cells.

    >>> from nearmark.contest.heat_program.groups import make_field
    >>> pairs = [Pair("P1", "Elm", ("Ada",)), Pair("P2", "Elm", ("Bo",))]
    >>> model = Model(make_field(pairs, (), kept={}, before={}), HeatFrame(), (1,))
    >>> heats = dealt(model, np.array([2.0, 1.0, 1.0]))
    >>> [heat.codes for heat in heats], counted(model, heats)
    ([('P1', 'P2')], {(0, (1, 0)): 2})

    Parameters
    ----------
    columns : whole numbers, shape (n_columns,); of the model
    """
    members: dict[int, list[Pair]] = {heat: [] for heat in model.heats}
    for g, group in enumerate(model.field.groups):
        waiting = iter(group.pairs)
        for heat, at in model.cells:
            room = model.frame.rooms[at].name
            column = model.x.get((g, (heat, at)))
            n = 0 if column is None else round(columns[column])
            for _ in range(n):
                members[heat].append(replace(next(waiting), heat=heat_name(heat), room=room))
    return tuple(Heat(number, tuple(pairs)) for number, pairs in members.items() if pairs)


def counted(model: Model, heats: Sequence[Heat]) -> dict[tuple[int, Cell], int]:
    """Pairs of each group in each cell: what ``dealt`` makes a plan of.

    >>> from nearmark.contest.heat_program.groups import make_field
    >>> field = make_field([Pair("P1", "Elm", ("Ada",))], (), kept={}, before={})
    >>> counted(Model(field, HeatFrame(), (1,)), ())
    {}
    """
    positions = {room.name: at for at, room in enumerate(model.frame.rooms)}
    group_of = {pair.code: g for g, group in enumerate(model.field.groups) for pair in group.pairs}
    found: dict[tuple[int, Cell], int] = {}
    for heat in heats:
        for pair in heat.pairs:
            key = (group_of[pair.code], (heat.number, positions[pair.room]))
            found[key] = found.get(key, 0) + 1
    return found
