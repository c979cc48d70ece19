"""A meeting by the minute: warm-up, lessons or stations, closing; for the children who are here.

The rota is that of ``meeting_rota``.  Its true values are shown at the closing, so that the last
child at a thing knows no more than the first.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from nearmark.coaching.kinds import Stratum
from nearmark.coaching.meeting_rota import Equipment, Learner, Slot, rota
from nearmark.coaching.practice_plan import kinds_of, needs
from nearmark.coaching.pupil_habit import PupilHabit
from nearmark.coaching.seen_truth import Thing
from nearmark.coaching.teaching_order import STATION_OF, Lesson
from nearmark.coaching.timetable import USUAL_MIN, Part, PartKind, timetable
from nearmark.errors import InputError
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class Partners:
    """Two who sit together, or the three that are left."""

    names: tuple[str, ...]  # tuple of str to (3,)
    thing: Thing | None  # what all of them estimated in this meeting, to be compared at the closing


@dataclass(frozen=True, slots=True)
class Refill:
    """A kind of thing of which something new is needed."""

    station: Station
    size: str
    n_pupils: int  # of those here for whom nothing of it is fresh


@dataclass(frozen=True, slots=True)
class MeetingPlan:
    """A meeting."""

    parts: tuple[Part, ...]  # in order; their minutes add up to the meeting
    warm_up: Station  # what to warm up for: the station that has least of the meeting
    slots: tuple[Slot, ...]  # the rota; ``None``: rests (tuple of mapping child -> Thing or None)
    partners: tuple[Partners, ...]
    refills: tuple[Refill, ...]

    @property
    def fetch(self) -> tuple[Thing, ...]:
        """The things of the rota, by station and name."""
        used = {thing for slot in self.slots for thing in slot.values() if thing is not None}
        return tuple(sorted(used, key=lambda t: (list(Station).index(t.station), t.name)))

    @property
    def most_scales(self) -> int:
        """Scales in use at the same time."""
        return max((_n_at(slot, mass=True) for slot in self.slots), default=0)

    @property
    def most_calculators(self) -> int:
        """Calculators in use at the same time, but for lessons."""
        return max((_n_at(slot, mass=False) for slot in self.slots), default=0)


def _n_at(slot: Slot, *, mass: bool) -> int:
    return sum(t is not None and (t.station is Station.MASS) is mass for t in slot.values())


def learners_here(
    names: Iterable[str],
    habits: Mapping[str, Sequence[PupilHabit]],
    things: Iterable[Thing],
    seen: Mapping[str, Collection[tuple[str, float]]],
) -> list[Learner]:
    """Who is here, with what each needs and knows.

    >>> (ada,) = learners_here(["Ada"], {}, [], {})
    >>> [need.station.value for need in ada.needs]
    ['mass', 'count', 'volume']

    Parameters
    ----------
    habits : of the whole club: what others have tried is to be tried by all
    seen : mapping of pupil -> collection of (name, true value); as ``truths_seen`` gives it
    """
    kinds = kinds_of(habits) | {(thing.station, thing.size) for thing in things}
    return [
        Learner(name, needs(habits.get(name, ()), kinds), seen.get(name, frozenset()))
        for name in names
    ]


def plan_meeting(
    learners: Sequence[Learner],
    things: Sequence[Thing],
    *,
    minutes: int = USUAL_MIN,
    equipment: Equipment | None = None,
    pairs: Iterable[tuple[str, str]] = (),
    lessons: Sequence[Lesson] = (),
) -> MeetingPlan:
    """Plan a meeting for the children who are here.

    >>> things = [Thing(Station.COUNT, "", "beans", 420), Thing(Station.VOLUME, "", "box", 645)]
    >>> plan = plan_meeting([Learner("Ada"), Learner("Bo")], things, minutes=12)
    >>> [part.begins_min for part in plan.parts], [thing.name for thing in plan.fetch]
    ([0, 2, 6, 10], ['beans', 'box'])
    >>> plan.partners[0].names, plan.partners[0].thing.name
    (('Ada', 'Bo'), 'beans')

    Parameters
    ----------
    learners : Learner, shape (n,), n >= 1, no two of one name
    things : Thing, shape (m,)
    minutes : min, 8 to 84
    equipment : ``None``: one scale, a calculator each
    pairs : iterable of (str, str); who take part together
    lessons : Lesson, shape (k,); for a club that never scored; taught first

    Raises
    ------
    InputError : if nobody is here, a name is there twice, or a number makes no sense
    """
    names = [learner.name for learner in learners]
    if not names:
        raise InputError("is nobody", where="who is here", mend="Tick at least one child")
    if len(set(names)) < len(names):
        raise InputError("one is there twice", where="who is here", mend="Name each once")
    parts = timetable(minutes, lessons)
    n_slots = sum(part.kind is PartKind.STATIONS for part in parts)
    known = [pair for pair in pairs if set(pair) <= set(names)]
    slots = rota(learners, things, n_slots, equipment=equipment, pairs=known)
    return MeetingPlan(
        parts,
        _warm_up(parts, slots),
        slots,
        seated(names, known, slots),
        refills(learners, things) if n_slots else (),
    )


def partners(names: Sequence[str], pairs: Iterable[tuple[str, str]]) -> tuple[tuple[str, ...], ...]:
    """Who sits with whom: the pairs that are here, then the others in order.

    Each name once; one who is left over joins the last two.

    >>> partners(["Ada", "Bo", "Cy", "Di", "Ed"], [("Bo", "Di")])
    (('Bo', 'Di'), ('Ada', 'Cy', 'Ed'))
    """
    groups: list[tuple[str, ...]] = []
    left = list(names)
    for first, second in pairs:
        if first in left and second in left:
            groups.append((first, second))
            left = [name for name in left if name not in (first, second)]
    # A pair that takes part together stays two.
    n_pairs = len(groups)
    groups += [tuple(left[i : i + 2]) for i in range(0, len(left), 2)]
    if len(groups) - n_pairs > 1 and len(groups[-1]) == 1:
        (last,) = groups.pop()
        groups[-1] = (*groups[-1], last)
    return tuple(groups)


def seated(
    names: Sequence[str], pairs: Iterable[tuple[str, str]], slots: Sequence[Slot]
) -> tuple[Partners, ...]:
    """Who sits with whom at the closing, with what they compare.

    >>> beans = Thing(Station.COUNT, "", "beans", 420)
    >>> seated(["Ada", "Bo"], [], [{"Ada": beans}, {"Bo": beans}])[0].thing.name
    'beans'

    Parameters
    ----------
    names : str, shape (n,)
    slots : mapping of child -> Thing or None, shape (n_slots,)
        The rota as it was; a child who came later is not in the first ones.
    """
    groups = partners(names, pairs)
    return tuple(Partners(group, _in_common(group, slots)) for group in groups)


def _in_common(group: Sequence[str], slots: Sequence[Slot]) -> Thing | None:
    """What all of a group estimate in a meeting: of several the one that comes first by name."""
    own = [{slot.get(name) for slot in slots} - {None} for name in group]
    shared = [thing for thing in set.intersection(*own) if thing is not None]
    return min(shared, key=lambda thing: thing.name, default=None) if len(group) > 1 else None


def _warm_up(parts: Sequence[Part], slots: Sequence[Slot]) -> Station:
    n = Counter(thing.station for slot in slots for thing in slot.values() if thing is not None)
    n.update(STATION_OF[part.lesson] for part in parts if part.lesson is not None)
    return min(reversed(Station), key=lambda station: n[station])


def refills(learners: Sequence[Learner], things: Sequence[Thing]) -> tuple[Refill, ...]:
    """Kinds of which nothing is fresh for half of the children or more.

    >>> from nearmark.coaching.practice_plan import needs
    >>> knows = Learner("Ada", needs([], []), seen={("beans", 420)})
    >>> found = refills([knows], [Thing(Station.COUNT, "", "beans", 420)])
    >>> [(each.station.value, each.n_pupils) for each in found]
    [('mass', 1), ('count', 1), ('volume', 1)]
    """
    kinds: dict[Stratum, int] = {}
    for learner in learners:
        fresh = {(thing.station, thing.size) for thing in things if learner.may_visit(thing)}
        for need in learner.needs:
            kind = (need.station, need.size)
            kinds[kind] = kinds.get(kind, 0) + (kind not in fresh)
    return tuple(Refill(*kind, n) for kind, n in kinds.items() if n and 2 * n >= len(learners))
