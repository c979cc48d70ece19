"""Who has seen which true value: an attempt at a number that is known is no practice.

At the mass station nothing is given away: the mass asked for is known to all, the hand has to find
it again.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import NamedTuple

from nearmark.coaching.attempt import Attempt
from nearmark.station import Station


class Thing(NamedTuple):
    """Something to be estimated."""

    station: Station
    size: str
    name: str
    true: float  # filled again, it is another thing (unit of the station)


@dataclass(frozen=True, slots=True)
class KnownThing:
    """A thing, and who of some pupils knows its true value."""

    thing: Thing
    pupils: tuple[str, ...]  # who know it, sorted; empty: fresh for all
    n_asked: int  # of whom it was asked

    @property
    def is_fresh(self) -> bool:
        """Whether nobody knows it."""
        return not self.pupils

    @property
    def is_known_to_most(self) -> bool:
        """Whether half of the pupils or more know it: then it is no thing to choose."""
        return bool(self.pupils) and 2 * len(self.pupils) >= self.n_asked


def with_history(log: Iterable[Attempt]) -> tuple[Attempt, ...]:
    """A log with what each attempt could know: a true value seen before, the partner's answer.

    Oldest first.  A mark that is there already stays.

    >>> first = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar of beans", 380, 420)
    >>> [each.is_known for each in with_history([first, replace(first, day=date(2027, 2, 10))])]
    [False, True]

    Parameters
    ----------
    log : attempts of one day in the order in which they were made
    """
    ordered = sorted(log, key=lambda each: each.day)
    said: dict[tuple[str, date, str, float], dict[str, float]] = defaultdict(dict)
    for each in ordered:
        if each.pair:
            said[each.pair, each.day, each.thing, each.true].setdefault(each.pupil, each.estimate)
    seen: set[tuple[str, Station, str, str, float]] = set()
    marked = []
    for each in ordered:
        key = (each.pupil, *each.stratum, each.thing, each.true)
        others = [
            estimate
            for pupil, estimate in said[each.pair, each.day, each.thing, each.true].items()
            if pupil != each.pupil
        ]
        is_known = each.is_known or (each.station is not Station.MASS and key in seen)
        partner = others[0] if each.pair and len(others) == 1 else each.partner
        marked.append(replace(each, is_known=is_known, partner=partner))
        seen.add(key)
    return tuple(marked)


def truths_seen(log: Iterable[Attempt]) -> dict[str, set[tuple[str, float]]]:
    """Names and true values each pupil has seen.

    >>> first = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar of beans", 380, 420)
    >>> truths_seen([first])
    {'Ada': {('jar of beans', 420)}}
    """
    seen: dict[str, set[tuple[str, float]]] = defaultdict(set)
    for each in log:
        if each.station is not Station.MASS:
            seen[each.pupil].add((each.thing, each.true))
    return dict(seen)


def fresh_things(
    pupils: Collection[str],
    things: Iterable[Thing],
    seen: Mapping[str, Collection[tuple[str, float]]],
) -> tuple[KnownThing, ...]:
    """The things, with who of the pupils knows each; the fewest first.

    >>> beans, peas = (Thing(Station.COUNT, "small", name, 420) for name in ("beans", "peas"))
    >>> [(each.thing.name, each.pupils) for each in
    ...  fresh_things(["Ada", "Bo"], [beans, peas], {"Ada": {("beans", 420)}})]
    [('peas', ()), ('beans', ('Ada',))]

    Parameters
    ----------
    things : of equally well known ones the order stays
    seen : mapping of pupil -> collection of (name, true value); as ``truths_seen`` gives it
    """
    asked = sorted(set(pupils))
    found = [
        KnownThing(
            thing,
            tuple(p for p in asked if (thing.name, thing.true) in seen.get(p, ())),
            len(asked),
        )
        for thing in things
    ]
    return tuple(sorted(found, key=lambda each: len(each.pupils)))
