"""Who goes to which thing in which slot of a meeting: an assignment of greatest value.

Maximised over all rotas, in points of the contest:

    sum of value(child, kind, m) over the visits,  m = 1, 2, ... the child's visits of that kind
    + TOGETHER for each pair that visits one thing in common
    - REST x (1 + 2 + ... + r) for a child that rests r times

where value is the priority of ``practice_plan`` after m - 1 more practices, plus UNTRIED for a kind
never tried and OVERDUE for one left out for too long, and never more than the visit before.  So
that, the rules, which no value outweighs:

- a child is at one thing at most, a thing has one child at most in a slot;
- nobody visits a thing twice in a meeting, nor one whose true value is known to that child;
- nobody has one kind twice running;
- no more children scoop than there are scales, no more multiply than there are calculators.

Up to ``MAX_TOGETHER`` children all slots are one integer program and the rota is the best there
is; for more, each slot is the best after those before it, and pairs count for nothing
(``benchmarks/meeting.py`` prints what that costs).
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from nearmark.coaching.kinds import Stratum
from nearmark.coaching.limits import checked
from nearmark.coaching.practice_plan import Need, after_practice
from nearmark.coaching.seen_truth import Thing
from nearmark.integer_program import IntegerProgram
from nearmark.station import Station

UNTRIED: Final = 10.0
OVERDUE: Final = 5.0
TOGETHER: Final = 1.0
REST: Final = 100.0
"""Points of the contest (our own choice): a rest costs more than any visit brings."""

MAX_TOGETHER: Final = 12
MAX_LEARNERS: Final = 60
MAX_SLOTS: Final = 20

Slot = Mapping[str, Thing | None]
"""Child -> thing, ``None``: rests."""


@dataclass(frozen=True, slots=True)
class Equipment:
    """What is at hand and cannot be shared in a slot."""

    scales: int = 1  # children who can scoop at the same time
    # Children who can multiply at the same time; ``None``: one for each.
    calculators: int | None = None


@dataclass(frozen=True, slots=True)
class Learner:
    """A child who is here, and what is known of it."""

    name: str
    needs: tuple[Need, ...] = ()  # one for each kind, as ``practice_plan.needs`` gives them
    # As ``seen_truth.truths_seen`` gives them ((name, true value)).
    seen: Collection[tuple[str, float]] = field(default=frozenset())
    visited: Collection[str] = ()  # names of the things of today's slots before
    before: Stratum | None = None  # kind of the last attempt of today
    rests: int = 0  # slots of today in which the child rested

    def may_visit(self, thing: Thing) -> bool:
        """Whether it is new today and its true value not known; a scoop is new each time."""
        if thing.name in self.visited:
            return False
        return thing.station is Station.MASS or (thing.name, thing.true) not in self.seen


def values(need: Need, n: int) -> tuple[float, ...]:
    """What the next visits of one kind are worth, in points of the contest, never rising.

    >>> low = Need(Station.COUNT, "", -0.3, 0.2, n=4, ago=0, station_ago=0)
    >>> [round(value, 1) for value in values(low, 2)]
    [14.5, 11.2]

    Parameters
    ----------
    n : visits
    """
    found: list[float] = []
    for _ in range(n):
        worth = need.priority + (UNTRIED if need.n == 0 else OVERDUE if need.is_overdue else 0.0)
        found.append(min([worth, *found[-1:]]))
        need = after_practice(need)
    return tuple(found)


def rota(
    learners: Sequence[Learner],
    things: Sequence[Thing],
    n_slots: int,
    *,
    equipment: Equipment | None = None,
    pairs: Iterable[tuple[str, str]] = (),
) -> tuple[Slot, ...]:
    """The rota of greatest value: child -> thing or ``None``, every child in every slot.

    >>> beans, box = Thing(Station.COUNT, "", "beans", 420), Thing(Station.VOLUME, "", "box", 645)
    >>> for slot in rota([Learner("Ada"), Learner("Bo")], [beans, box], 2):
    ...     print({name: thing.name for name, thing in slot.items()})
    {'Ada': 'box', 'Bo': 'beans'}
    {'Ada': 'beans', 'Bo': 'box'}

    Parameters
    ----------
    learners : Learner, shape (n,), no two of one name
    things : Thing, shape (m,)
    n_slots : slots, 0 to 20
    equipment : ``None``: one scale, a calculator each
    pairs : iterable of (str, str); names; pairs of whom one is not here are passed over

    Raises
    ------
    InputError : if a number makes no sense
    """
    checked(len(learners), "children", 0, MAX_LEARNERS, mend="Make two groups")
    checked(n_slots, "slots", 0, MAX_SLOTS)
    at_hand = equipment or Equipment()
    here = {learner.name for learner in learners}
    both = [pair for pair in pairs if set(pair) <= here]
    if len(learners) <= MAX_TOGETHER:
        return _best(learners, things, n_slots, at_hand, both)
    slots: list[Slot] = []
    done: dict[str, list[Thing | None]] = {learner.name: [] for learner in learners}
    for _ in range(n_slots):
        now = [_after(learner, done[learner.name]) for learner in learners]
        (slot,) = _best(now, things, 1, at_hand, ())
        for name, thing in slot.items():
            done[name].append(thing)
        slots.append(slot)
    return tuple(slots)


def after_slots(learner: Learner, done: Sequence[Thing | None]) -> Learner:
    """What some slots of the same meeting leave of a child: no thing twice, rests by turn.

    >>> beans = Thing(Station.COUNT, "", "beans", 420)
    >>> after = after_slots(Learner("Ada"), [beans, None])
    >>> after.visited, after.before, after.rests
    (('beans',), None, 1)

    Parameters
    ----------
    done : Thing or None, shape (n,); in the order of the slots; ``None``: rested
    """
    if not done:
        return learner
    last = done[-1]
    return replace(
        learner,
        visited=(*learner.visited, *(thing.name for thing in done if thing is not None)),
        before=None if last is None else (last.station, last.size),
        rests=learner.rests + done.count(None),
    )


def _after(learner: Learner, done: Sequence[Thing | None]) -> Learner:
    """A child after some slots that were planned just now: what they taught is not known yet."""
    needs = {(need.station, need.size): need for need in learner.needs}
    for thing in done:
        kind = None if thing is None else (thing.station, thing.size)
        if kind in needs:
            needs[kind] = after_practice(needs[kind])
    return replace(after_slots(learner, done), needs=tuple(needs.values()))


def _best(
    learners: Sequence[Learner],
    things: Sequence[Thing],
    n_slots: int,
    equipment: Equipment,
    pairs: Sequence[tuple[str, str]],
) -> tuple[Slot, ...]:
    program = IntegerProgram()
    visits: dict[tuple[int, int, int], int] = {}
    groups: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for c, learner in enumerate(learners):
        for t, thing in enumerate(things):
            if not learner.may_visit(thing):
                continue
            kind = (thing.station, thing.size)
            for s in range(n_slots):
                if s == 0 and kind == learner.before:
                    continue
                x = visits[c, t, s] = program.column(0.0, is_whole=True)
                groups["one thing", c, s].append(x)
                groups["one child", t, s].append(x)
                groups["once", c, t].append(x)
                groups["scales" if thing.station is Station.MASS else "calculators", s].append(x)
                groups["running", c, kind, s].append(x)
                groups["running", c, kind, s - 1].append(x)
                groups["kind", c, kind].append(x)
                groups["child", c].append(x)
    _limit(program, groups, len(learners), equipment)
    _value_visits(program, groups, learners, n_slots)
    _value_pairs(program, groups, learners, things, pairs)
    found = program.best()
    at = {(c, s): things[t] for (c, t, s), x in visits.items() if found[x] > 0.5}
    return tuple(
        {learner.name: at.get((c, s)) for c, learner in enumerate(learners)} for s in range(n_slots)
    )


Groups = Mapping[tuple[object, ...], Sequence[int]]


def _limit(program: IntegerProgram, groups: Groups, n: int, equipment: Equipment) -> None:
    calculators = n if equipment.calculators is None else equipment.calculators
    limits = {"scales": equipment.scales, "calculators": calculators}
    for (rule, *_), columns in groups.items():
        if rule not in ("kind", "child"):
            program.row([(x, 1.0) for x in columns], high=limits.get(str(rule), 1))


def _value_visits(
    program: IntegerProgram, groups: Groups, learners: Sequence[Learner], n_slots: int
) -> None:
    for c, learner in enumerate(learners):
        needs = {(need.station, need.size): need for need in learner.needs}
        for group, columns in groups.items():
            if group[:2] != ("kind", c):
                continue
            need = needs.get(group[2])  # type: ignore[call-overload]
            worth = (0.0,) * n_slots if need is None else values(need, n_slots)
            steps = [(program.column(value), -1.0) for value in worth]
            program.row([*((x, 1.0) for x in columns), *steps], low=0, high=0)
        rests = [program.column(-REST * (learner.rests + r)) for r in range(1, n_slots + 1)]
        all_of = [*groups.get(("child", c), ()), *rests]
        if all_of:
            program.row([(x, 1.0) for x in all_of], low=n_slots, high=n_slots)


def _value_pairs(
    program: IntegerProgram,
    groups: Groups,
    learners: Sequence[Learner],
    things: Sequence[Thing],
    pairs: Sequence[tuple[str, str]],
) -> None:
    number = {learner.name: c for c, learner in enumerate(learners)}
    for pair in pairs:
        in_common = []
        for t in range(len(things)):
            own = [groups.get(("once", number[name], t), ()) for name in pair]
            if all(own):
                z = program.column(TOGETHER)
                in_common.append((z, 1.0))
                for columns in own:
                    program.row([(z, 1.0), *((x, -1.0) for x in columns)], high=0)
        if in_common:
            program.row(in_common, high=1)
