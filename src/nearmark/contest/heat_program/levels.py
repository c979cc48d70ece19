"""What makes one plan better than another, in the order of importance."""

from collections import defaultdict
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nearmark.contest.heat_program.model import Model
from nearmark.integer_program import Term


class Aim(StrEnum):
    """What is made as small as it can be; each before the next."""

    MOVES = "moves"  # pairs that were placed and go elsewhere; only where a plan is changed
    HEATS = "heats"  # heats with pairs; of as many heats, early ones
    CUTS = "cuts"  # (school, heat) with pairs, beyond one for each school
    # Rooms of each coach's schools, all coaches together, and heats between their first and their
    # last beyond one; a school without a coach counts for itself.
    COACHES = "coaches"
    UNEVEN = "uneven"  # pairs beyond or below an even share of a room in a heat, together


@dataclass(frozen=True, slots=True)
class Level:
    """How far one aim is reached."""

    aim: Aim
    value: float  # of the plan (unit of the aim)
    bound: float  # no plan that is as good in the aims before has less (unit of the aim)

    @property
    def gap(self) -> float:
        """What a better plan could save at the most; 0: this one is best."""
        return max(0.0, self.value - self.bound)

    @property
    def is_proven(self) -> bool:
        """Whether no plan is better here."""
        return self.gap < _ALIKE


_ALIKE = 1e-6

EARLY: Final = 1e-4
"""A heat counts 1 and so much for each before it: of as many heats, early ones."""


def terms_of(aim: Aim, model: Model, n_heats: int) -> tuple[list[Term], float]:
    """What is made small for an aim: a sum of columns, and what is added to it.

    >>> from nearmark.contest.event import Pair
    >>> from nearmark.contest.heat_program.frame import HeatFrame
    >>> from nearmark.contest.heat_program.groups import make_field
    >>> pairs = [Pair("P1", "Elm", ("Ada",)), Pair("P2", "Oak", ("Bo",))]
    >>> model = Model(make_field(pairs, (), kept={}, before={}), HeatFrame(), (1, 2))
    >>> [factor for _, factor in terms_of(Aim.HEATS, model, 1)[0]]
    [1.0, 1.0001]

    Parameters
    ----------
    n_heats : heats with pairs
    """
    if aim is Aim.MOVES:
        return _moves(model), 0.0
    if aim is Aim.HEATS:
        return [(column, 1.0 + EARLY * (heat - 1)) for heat, column in model.used.items()], 0.0
    if aim is Aim.CUTS:
        shares = [(column, 1.0) for column in model.share.values()]
        return shares, -float(len(model.by_school()))
    if aim is Aim.COACHES:
        parties = set(model.field.parties.values())
        return _coaches(model), -float(len(parties) if len(model.frame.rooms) > 1 else 0)
    return _uneven(model, n_heats), 0.0


def _moves(model: Model) -> list[Term]:
    """Pairs that go elsewhere than they were; who was nowhere moves to anywhere."""
    found = []
    for (g, cell), column in model.x.items():
        before = model.field.groups[g].before
        if before is None:
            continue
        heat, room = before
        if heat != cell[0] or (room and room != model.frame.rooms[cell[1]].name):
            found.append((column, 1.0))
    return found


def _coaches(model: Model) -> list[Term]:
    """Rooms of each coach, and heats that lie between first and last.

    One room and two heats leave nothing to choose.
    """
    parties: dict[str, list[str]] = defaultdict(list)
    by_school = model.by_school()
    for school in by_school:
        parties[model.field.parties[school]].append(school)
    found: list[Term] = []
    for schools in parties.values():
        groups = [g for school in schools for g in by_school[school]]
        if len(model.frame.rooms) > 1:
            for at in range(len(model.frame.rooms)):
                here = model.terms(groups, model.in_room(at))
                if here:
                    found.append((model.whether(here, model.size(groups)), 1.0))
        if len(model.heats) > 2 and model.size(groups) > 1:
            found.append((_between(model, schools), 1.0))
    return found


def _between(model: Model, schools: list[str]) -> int:
    """Heats between the first and the last of some schools, beyond neighbours."""
    low, high = model.heats[0], model.heats[-1]
    first = model.program.column(high=high)
    last = model.program.column(high=high)
    far = model.program.column(high=high - low)
    for school in schools:
        for heat in model.heats:
            share = model.share.get((school, heat))
            if share is not None:
                model.program.row([(last, 1.0), (share, -float(heat))], low=0)
                # first <= heat where the share is there, else first <= the last heat of all.
                model.program.row([(first, 1.0), (share, float(high - heat))], high=high)
    model.program.row([(last, 1.0), (first, -1.0), (far, -1.0)], high=1)
    return far


def _uneven(model: Model, n_heats: int) -> list[Term]:
    """Pairs beyond or below an even share, of every room in every heat that has pairs."""
    found: list[Term] = []
    for cell in model.cells:
        heat, at = cell
        share = model.field.n_pairs * model.frame.rooms[at].places / model.frame.places / n_heats
        off = model.program.column(high=model.field.n_pairs)
        here = model.terms(range(len(model.field.groups)), [cell])
        model.program.row([*here, (model.used[heat], -share), (off, -1.0)], high=0)
        model.program.row([*here, (model.used[heat], -share), (off, 1.0)], low=0)
        found.append((off, 1.0))
    return found
