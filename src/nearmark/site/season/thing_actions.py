"""Things to practise with: add one, correct its numbers, take a key from the kit, put it away."""

from collections.abc import Mapping
from typing import Final

from nearmark.coaching.jar_reading import band_of
from nearmark.contest.keys import event_keys
from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.history import note
from nearmark.site.event.load import load_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.reasons import need_reason
from nearmark.site.season.models import PART_COLUMNS, Club, PracticeAttempt, Thing, ThingChange
from nearmark.station import Station

LOGGED: Final = ("true", *PART_COLUMNS)
"""Columns of a thing that each attempt at it keeps a copy of."""


def add_thing(thing: Thing, *, by: str) -> Thing:
    """Add something to practise with. ``thing``: not saved yet."""
    with writing():
        if Thing.objects.filter(club=thing.club, name__iexact=thing.name).exists():
            raise InputError(
                "is there already", where="name", value=thing.name, mend="Add a number or a colour"
            )
        thing.save()
        note(None, by, f"club {thing.club_id}: added a thing", new=f"{thing.name}, {thing.true:g}")
    return thing


def correct_thing(
    thing: Thing, numbers: Mapping[str, float | None], *, why: str, by: str
) -> ThingChange:
    """Put right a number that was wrong; what was logged against it is worked out again.

    A container that was filled again is another thing: it is added under another name.

    ``numbers`` (number or None by column): those left out stay. Raises InputError if there is no
    reason, or nothing is different. Raises RuleError if an open drill asks the thing: its seats
    were given the old number.
    """
    need_reason(why, "Say what was wrong, such as: misread")
    with writing():
        thing = Thing.objects.get(pk=thing.pk)
        changed = {name: new for name, new in numbers.items() if getattr(thing, name) != new}
        if not changed:
            raise InputError("are as before", where="the numbers", mend="Change one, or go back")
        if thing.club.drills.filter(
            items__thing=thing, closed_at=None, expires_at__gt=clock.now()
        ).exists():
            raise RuleError("an open drill asks it", where=thing.name, mend="Close the drill first")
        old = {name: getattr(thing, name) for name in changed}
        logged = _logged(thing)
        for name, new in changed.items():
            setattr(thing, name, new)
        if "true" in changed:
            thing.key_of = ""  # it is not the key any more
        thing.save()
        known = {name: new for name, new in changed.items() if name in LOGGED}
        n = PracticeAttempt.objects.filter(pk__in=logged).update(**known) if known else 0
        note(
            None,
            by,
            f"club {thing.club_id}: corrected a thing",
            old=f"{thing.name}, {_numbers_text(old)}",
            new=f"{_numbers_text(changed)}; attempts worked out again: {n}",
            why=why,
        )
        return ThingChange.objects.create(
            thing=thing, at=clock.now(), by=by, old=old, new=changed, why=why, n_attempts=n
        )


def _logged(thing: Thing) -> list[int]:
    """Attempts at a thing as it is known now, those struck out left as they were."""
    rows = thing.club.attempts.filter(
        station=thing.station, thing=thing.name, true=thing.true, struck_at=None
    )
    return list(rows.values_list("pk", flat=True))


def n_logged(thing: Thing) -> int:
    """How many attempts a correction works out again."""
    return len(_logged(thing))


def _numbers_text(numbers: Mapping[str, float | None]) -> str:
    return ", ".join(
        f"{name} {'unknown' if value is None else format(value, 'g')}"
        for name, value in numbers.items()
    )


def retire_thing(thing: Thing, *, by: str) -> None:
    """Stop offering a thing, or offer it again; attempts at it stay."""
    with writing():
        thing.retired_at = clock.now() if thing.retired_at is None else None
        thing.save()
        what = "put away" if thing.retired_at else "took out again"
        note(None, by, f"club {thing.club_id}: {what} a thing", old=thing.name)


def keys_to_take(club: Club, event: EventRecord) -> list[Thing]:
    """The keys of an event as things of a club that are not there yet, unsaved.

    A mass asked for is no key, and a decided key says nothing of how sure it is.
    """
    there = set(club.things.values_list("key_of", flat=True))
    found = []
    for key in event_keys(load_event(event)).values():
        if key.item.station is Station.MASS or key.key is None or not key.fit:
            continue
        borne = key.borne_by
        thing = Thing(
            club=club,
            station=key.item.station.value,
            name=key.item.name[:100],
            size=band_of(int(key.key)) if key.item.station is Station.COUNT else "",
            true=float(key.key),
            expanded_u=None if borne is None else float(f"{borne.expanded_u:.2g}"),
            key_of=f"{key.item.code}, {event.name}"[:200],
        )
        if thing.key_of not in there:
            found.append(thing)
    return found


def take_key(club: Club, event: EventRecord, key_of: str, *, by: str) -> Thing:
    """Take a key of an event over as a thing of a club, as ``keys_to_take`` gives it."""
    found = {thing.key_of: thing for thing in keys_to_take(club, event)}
    if key_of not in found:
        raise InputError(
            "is not there", where="key", value=key_of[:60], mend="Choose from the list"
        )
    return add_thing(found[key_of], by=by)
