"""The things of a club, with who knows the true value of each: what all know is no practice."""

from collections.abc import Iterable
from dataclasses import dataclass

from nearmark.coaching import KnownThing, Stratum, fresh_things
from nearmark.coaching import Thing as CoreThing
from nearmark.site.season.models import Club, Thing
from nearmark.station import Station


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
    known = known_to(club, map(core_thing, by_age))
    return [ThingToChoose(rows[each.thing.name], each) for each in known]


def core_thing(thing: Thing) -> CoreThing:
    """A thing as the core knows it."""
    return CoreThing(Station(thing.station), thing.size, thing.name, thing.true)


def known_to(club: Club, things: Iterable[CoreThing]) -> tuple[KnownThing, ...]:
    """Things with who of a club knows each, the fewest first."""
    seen = truths_seen_in(club)
    return fresh_things(list(seen), things, seen)


def truths_seen_in(club: Club) -> dict[str, set[tuple[str, float]]]:
    """Names and true values that each pupil of a club has seen."""
    pupils = club.pupils.values_list("name", flat=True)
    seen: dict[str, set[tuple[str, float]]] = {name: set() for name in pupils}
    rows = club.attempts.filter(struck_at=None).exclude(station=Station.MASS.value)
    for name, thing, true in rows.values_list("pupil__name", "thing", "true").distinct():
        seen[name].add((thing, true))
    return seen
