"""The plan of the heats as a program in whole numbers.

Columns: x[g, h, r], pairs of group g in heat h and room r; 0 or 1 are used[h], heat h has pairs;
share[s, h], school s has pairs in heat h; and one choice for each group of people that goes
together, each that goes apart, and each division that is kept to itself.

Rows: every pair has a place; no room has more pairs than places; accessible places are enough for
those who need one; wishes are kept, because what breaks a wish has no column.

An elastic program gives one thing up at a price, so that it has a plan where there is none: pairs
left without a place, places that are not there, or wishes that are not kept.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from enum import StrEnum

from nearmark.contest.heat_program.frame import DivisionRule, HeatFrame
from nearmark.contest.heat_program.groups import Breach, Cell, Field, Part, breaches, is_kept_out
from nearmark.integer_program import IntegerProgram, Term


class Give(StrEnum):
    """What an elastic program gives up."""

    NOTHING = "nothing"
    PAIRS = "pairs"  # pairs without a place
    PLACES = "places"  # places that are not there
    WISHES = "wishes"  # wishes that are not kept


_MINUTE = 1e-4
"""Price of a minute off a time asked for; a whole wish given up costs 1."""

_NOBODY_ASKED = 1e-3
"""Left out rather: pairs with a wish, whose wish is the reason."""


class Model:
    """The program of one field and one day."""

    def __init__(
        self, field: Field, frame: HeatFrame, heats: Sequence[int], give: Give = Give.NOTHING
    ) -> None:
        self.field, self.frame, self.heats, self.give = field, frame, tuple(heats), give
        self.cells: tuple[Cell, ...] = tuple(
            (heat, at) for heat in heats for at in range(len(frame.rooms))
        )
        self.program = IntegerProgram()
        self.price: list[Term] = []  # of what is given up
        self.left_out: dict[int, int] = {}  # group -> column
        self.more: dict[Cell, int] = {}  # places that are not there
        self.more_accessible: dict[int, int] = {}  # position of the room -> column
        self.broken: dict[Breach, int] = {}
        self.broken_names: dict[tuple[Part, str], int] = {}  # groups of people
        self.mixed: int | None = None  # whether divisions go together all the same
        self.x = self._pairs()
        self._place_all()
        self.used = {heat: self._choice() for heat in heats}
        self._limit_rooms()
        self.share = self._shares()
        for name, rows in field.named(Part.TOGETHER).items():
            self._keep_together(name, rows)
        for name, rows in field.named(Part.APART).items():
            self._keep_apart(name, rows)
        if frame.divisions is not DivisionRule.MIXED:
            self._keep_divisions()

    def terms(self, groups: Iterable[int], cells: Iterable[Cell]) -> list[Term]:
        """Pairs of some groups in some cells."""
        cells = tuple(cells)
        return [(self.x[g, cell], 1.0) for g in groups for cell in cells if (g, cell) in self.x]

    def in_heat(self, heat: int) -> list[Cell]:
        """The cells of a heat."""
        return [(heat, at) for at in range(len(self.frame.rooms))]

    def in_room(self, at: int) -> list[Cell]:
        """The cells of a room."""
        return [(heat, at) for heat in self.heats]

    def by_school(self) -> dict[str, list[int]]:
        """Positions of the groups of each school."""
        found: dict[str, list[int]] = defaultdict(list)
        for g, group in enumerate(self.field.groups):
            found[group.school].append(g)
        return found

    def size(self, groups: Iterable[int]) -> int:
        """Pairs of some groups."""
        return sum(self.field.groups[g].size for g in groups)

    def whether(self, terms: Sequence[Term], most: float, also: Sequence[Term] = ()) -> int:
        """A choice that is 1 where a sum of pairs is above 0; ``also``: what may be instead."""
        column = self._choice()
        self.program.row([*terms, (column, -most), *also], high=0)
        return column

    def _choice(self) -> int:
        return self.program.column(is_whole=True)

    def _given_up(self, price: float = 1.0) -> int:
        column = self._choice()
        self.price.append((column, price))
        return column

    def _pairs(self) -> dict[tuple[int, Cell], int]:
        """Columns of pairs where their wishes are kept, or where a breach is paid for."""
        found = {}
        paid: dict[Breach, list[tuple[int, int]]] = defaultdict(list)
        for g, group in enumerate(self.field.groups):
            for cell in self.cells:
                broken = tuple(breaches(self.field.wishes, group, cell, self.frame))
                is_out = is_kept_out(group, cell, self.frame)
                if is_out or (broken and self.give is not Give.WISHES):
                    continue
                found[g, cell] = self.program.column(is_whole=True, high=group.size)
                for breach in broken:
                    paid[breach].append((found[g, cell], group.size))
        self.broken = {b: self._given_up(1.0 + b.minutes * _MINUTE) for b in paid}
        for breach, columns in paid.items():
            # Who gives up twenty minutes has given up ten.
            enough = [
                (column, 1.0)
                for other, column in self.broken.items()
                if (other.row, other.part) == (breach.row, breach.part)
                and other.minutes >= breach.minutes
            ]
            for column, size in columns:
                self.program.row([(column, 1.0), *((c, -size) for c, _ in enough)], high=0)
        return found

    def _place_all(self) -> None:
        for g, group in enumerate(self.field.groups):
            placed = self.terms([g], self.cells)
            if self.give is Give.PAIRS:
                self.left_out[g] = self.program.column(is_whole=True, high=group.size)
                placed.append((self.left_out[g], 1.0))
                self.price.append((self.left_out[g], 1.0 + (not group.rows) * _NOBODY_ASKED))
            self.program.row(placed, low=group.size, high=group.size)

    def _limit_rooms(self) -> None:
        """No more pairs than places, and accessible places for those who need them."""
        everybody = range(len(self.field.groups))
        needy = [g for g in everybody if self.field.needs_accessible(self.field.groups[g])]
        most = self.field.n_pairs
        for heat in self.heats:
            here = self.terms(everybody, self.in_heat(heat))
            self.program.row([*here, (self.used[heat], -1.0)], low=0)
        for at, room in enumerate(self.frame.rooms):
            accessible = room.accessible_places
            if needy and accessible is not None and self.give is Give.PLACES:
                self.more_accessible[at] = self.program.column(is_whole=True, high=most)
                self.price.append((self.more_accessible[at], 1.0))
            for cell in self.in_room(at):
                row = [*self.terms(everybody, [cell]), (self.used[cell[0]], -float(room.places))]
                if self.give is Give.PLACES:
                    self.more[cell] = self.program.column(is_whole=True, high=most)
                    self.price.append((self.more[cell], 1.0))
                    row.append((self.more[cell], -1.0))
                self.program.row(row, high=0)
                if needy and accessible is not None:
                    spare = [(self.more_accessible[at], -1.0)] if self.more_accessible else []
                    self.program.row([*self.terms(needy, [cell]), *spare], high=accessible)

    def _shares(self) -> dict[tuple[str, int], int]:
        found = {}
        for school, groups in self.by_school().items():
            for heat in self.heats:
                here = self.terms(groups, self.in_heat(heat))
                if here:
                    most = self.size(groups)
                    if self.give is not Give.PLACES:
                        most = min(most, self.frame.places)
                    found[school, heat] = self.whether(here, most)
        return found

    def _keep_together(self, name: str, rows: Sequence[int]) -> None:
        """All of them in one heat."""
        groups = sorted({g for row in rows for g in self.field.of_row(row)})
        if not groups:
            return
        choices = {heat: self._choice() for heat in self.heats}
        self.program.row([(column, 1.0) for column in choices.values()], low=1, high=1)
        otherwise = []
        if self.give is Give.WISHES:
            self.broken_names[Part.TOGETHER, name] = self._given_up()
            otherwise = [self.broken_names[Part.TOGETHER, name]]
        for g in groups:
            size = float(self.field.groups[g].size)
            for heat in self.heats:
                here = self.terms([g], self.in_heat(heat))
                may = [(column, -size) for column in (choices[heat], *otherwise)]
                self.program.row([*here, *may], high=0)

    def _keep_apart(self, name: str, rows: Sequence[int]) -> None:
        """Pairs of one row alone in each heat."""
        members = [(row, self.field.of_row(row)) for row in rows]
        instead: list[Term] = []
        if self.give is Give.WISHES:
            self.broken_names[Part.APART, name] = self._given_up()
            instead = [(self.broken_names[Part.APART, name], -float(len(members)))]
        for heat in self.heats:
            here = [
                self.whether(self.terms(groups, self.in_heat(heat)), self.size(groups))
                for _, groups in members
                if groups
            ]
            self.program.row([*((column, 1.0) for column in here), *instead], high=1)

    def _keep_divisions(self) -> None:
        """No heat, or no room of the day, with pairs of two divisions; those in none are free."""
        divisions: dict[str, list[int]] = defaultdict(list)
        for g, group in enumerate(self.field.groups):
            if group.division:
                divisions[group.division].append(g)
        instead: list[Term] = []
        if self.give is Give.WISHES:
            self.mixed = self._given_up()
            instead = [(self.mixed, -float(self.field.n_pairs))]
        if self.frame.divisions is DivisionRule.OWN_HEATS:
            for heat in self.heats:
                here = [
                    (self.whether(self.terms(groups, self.in_heat(heat)), self.size(groups)), 1.0)
                    for groups in divisions.values()
                ]
                self.program.row([*here, *instead], high=1)
            return
        for groups in divisions.values():
            rooms = [
                (self.whether(self.terms(groups, self.in_room(at)), self.size(groups)), 1.0)
                for at in range(len(self.frame.rooms))
            ]
            self.program.row([*rooms, *instead], high=1)
