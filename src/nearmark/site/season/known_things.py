"""The things of a club, with who knows the true value of each: what all know is no practice."""

from collections.abc import Iterable
from dataclasses import dataclass

from nearmark.coaching import KnownThing, Station, Stratum, fresh_things
from nearmark.coaching import Thing as CoreThing
from nearmark.site.season.models import Club, Thing


@dataclass(frozen=True, slots=True)
class ThingToChoose:
    """A thing, and who of the club knows its true value."""

    thing: Thing
    known: KnownThing

    @property
    def kind(self) -> Stratum:
        """Station and size class."""
        return (Station(self.thing.station), self.thing.size)


def things_to_choose(club: Club) -> list[ThingToChoose]:
    """The things that are offered: known to the fewest first, then the one longest ago."""
    rows = {each.name: each for each in club.things.filter(retired_at=None)}
    last = dict(
        club.attempts.filter(struck_at=None).order_by("day", "pk").values_list("thing", "pk")
    )
    by_age = sorted(rows.values(), key=lambda each: (last.get(each.name, 0), each.name))
    return [ThingToChoose(rows[known.thing.name], known) for known in _known(club, by_age)]


def known_thing(thing: Thing) -> KnownThing:
    """One thing, and who of its club knows it."""
    return _known(thing.club, [thing])[0]


def _known(club: Club, things: Iterable[Thing]) -> tuple[KnownThing, ...]:
    pupils = list(club.pupils.values_list("name", flat=True))
    core = [CoreThing(Station(t.station), t.size, t.name, t.true) for t in things]
    seen: dict[str, set[tuple[str, float]]] = {name: set() for name in pupils}
    rows = club.attempts.filter(struck_at=None).exclude(station=Station.MASS.value)
    for name, thing, true in rows.values_list("pupil__name", "thing", "true").distinct():
        seen[name].add((thing, true))
    return fresh_things(pupils, core, seen)
