"""The divisions of an event: add one, change it, move it up, remove one that nothing uses."""

from collections.abc import Sequence
from typing import Final

from nearmark.errors import InputError, RuleError
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.models import DivisionRecord, EventRecord, PairRecord
from nearmark.words.numbers import plural

MAX_DIVISIONS: Final = 20
"""More would fit no screen of a hall."""


def add_division(name: str, awarded_places: int, *, by: str) -> DivisionRecord:
    """Add a division behind the others."""
    with writing():
        event = open_event()
        if event.divisions.count() >= MAX_DIVISIONS:
            raise RuleError(
                f"there are {MAX_DIVISIONS} divisions already",
                where="division",
                mend="Remove one first",
            )
        row = DivisionRecord(event=event)
        _save(event, row, name, awarded_places)
        note(event, by, f"added the division {row.name}", new=_facts(row))
    return row


def change_division(division_id: int, name: str, awarded_places: int, *, by: str) -> DivisionRecord:
    """Change a division; its pairs and items keep it under its new name."""
    with writing():
        event = open_event()
        row = _known(event, division_id)
        old_name, old = row.name, _facts(row)
        _save(event, row, name, awarded_places)
        if row.name != old_name:
            event.pairs.filter(division=old_name).update(division=row.name)
            for item in event.items.all():
                if old_name in item.divisions:
                    item.divisions = [row.name if d == old_name else d for d in item.divisions]
                    item.save(update_fields=["divisions"])
        note(event, by, f"changed the division {old_name}", old=old, new=_facts(row))
    return row


def move_division_up(division_id: int, *, by: str) -> str:
    """Move a division before the one above it; the first one stays. Returns its name."""
    with writing():
        event = open_event()
        moved = _known(event, division_id)
        rows = list(event.divisions.all())
        at = rows.index(moved)
        if at:
            old = _names(rows)
            rows[at - 1 : at + 1] = rows[at], rows[at - 1]
            # They are in the order in which they were made, so all are made once more.
            event.divisions.all().delete()
            for row in rows:
                DivisionRecord.objects.create(
                    event=event, name=row.name, awarded_places=row.awarded_places
                )
            note(event, by, "changed the order of the divisions", old=old, new=_names(rows))
    return moved.name


def remove_division(division_id: int, *, by: str) -> str:
    """Remove a division that no pair has and no item names. Returns its name."""
    with writing():
        event = open_event()
        row = _known(event, division_id)
        n_pairs, items = uses(event, row.name)
        if n_pairs or items:
            of_items = f", and by {', '.join(items)}" if items else ""
            raise RuleError(
                f"is used by {plural(n_pairs, 'pair')}{of_items}",
                where="division",
                mend="Give its pairs another division and take it off its items first",
            )
        row.delete()
        note(event, by, f"removed the division {row.name}", old=_facts(row))
    return row.name


def uses(event: EventRecord, name: str) -> tuple[int, list[str]]:
    """How many pairs are in a division, and the codes of the items that name it."""
    items = [item.code for item in event.items.all() if name in item.divisions]
    return event.pairs.filter(division=name).count(), items


def set_division(pair_id: int, division: str, *, by: str) -> PairRecord:
    """Give a pair its division. ``division``: name; empty: none."""
    with writing():
        event = open_event()
        pair = known_row(event.pairs, "pair", pk=pair_id)
        check_division(event, division)
        if division != pair.division:
            what = f"changed the division of pair {pair.code}"
            note(event, by, what, old=pair.division, new=division)
            pair.division = division
            pair.save(update_fields=["division"])
    return pair


def check_division(event: EventRecord, division: str) -> None:
    """Refuse a name that is no division of the event; empty is none, and fine."""
    if division and not event.divisions.filter(name=division).exists():
        raise InputError(
            "is not a division of this event",
            where="division",
            value=division[:60],
            mend="Choose one of the list",
        )


def _known(event: EventRecord, division_id: int) -> DivisionRecord:
    return known_row(event.divisions, "division", "Load the page again", pk=division_id)


def _save(event: EventRecord, row: DivisionRecord, name: str, awarded_places: int) -> None:
    name = " ".join(name.split())
    if event.divisions.filter(name__iexact=name).exclude(pk=row.pk).exists():
        raise InputError("is the name of another division", where="name", value=name)
    if "|" in name:
        raise InputError(
            "has a bar, which stands between two divisions in a file",
            where="name",
            value=name,
            mend="Write it without the bar",
        )
    row.name, row.awarded_places = name, awarded_places
    row.save()


def _facts(row: DivisionRecord) -> str:
    return f"{row.name}: awards for {plural(row.awarded_places, 'place')}"


def _names(rows: Sequence[DivisionRecord]) -> str:
    return ", ".join(row.name for row in rows)
