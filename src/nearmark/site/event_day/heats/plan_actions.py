"""Who goes when: fill the heats, move a pair, let two change places, take a late one in."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from typing import Final

from nearmark.contest import Heat, fill_heats, move_pair, scheduled, swap_pairs
from nearmark.contest.event import Pair
from nearmark.contest.heat_program import preview_heats, with_rooms
from nearmark.contest.late_heat import LateHeat, late_heat
from nearmark.errors import InputError
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import pairs_of
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event_day.heats.check_in_actions import check_in
from nearmark.site.event_day.heats.plan_frame import frame_of, plan_start
from nearmark.site.event_day.heats.wish_actions import keep_by_hand

MAX_PLACES: Final = 60


def fill(places: int, *, anew: bool, by: str) -> int:
    """Give every pair that takes part a heat.

    ``places``: pairs per heat, 1 to 60. ``anew``: plan all again; pairs of heats that have started
    stay in any case. Returns how many pairs have another heat than before.
    """
    if not 1 <= places <= MAX_PLACES:
        raise InputError(f"must be from 1 to {MAX_PLACES}", where="places", value=places)
    with writing():
        event = open_event()
        event.heat_places = places
        event.save(update_fields=["heat_places"])
        start = plan_start(event)
        kept = start.chosen() if anew else start.now
        n_changed = _save(event, heats := preview_heats(start.pairs, start.frame, kept=kept))
        words = "planned all heats again" if anew else "filled the heats"
        note(event, by, words, new=f"{len(heats)} heats, {n_changed} pairs changed")
    return n_changed


def move(code: str, to: int, *, by: str) -> None:
    """Move one pair to a heat of the plan or to the next one; planned again, it stays there."""
    with writing():
        event = open_event()
        pair = known_row(event.pairs, "pair", code=code)
        pairs = pairs_of(event)
        placed, frame = scheduled(pairs), frame_of(event)
        if code in placed:
            heats = move_pair(heats_of_plan(pairs), code, to, places=frame.places)
            keep_by_hand(event, code, to)
        else:
            known = [p for p in pairs if p.code in placed or p.code == code]
            heats = fill_heats(known, places=frame.places, kept={**placed, code: to})
        heats = with_rooms(heats, frame)
        old = pair.heat
        _save(event, heats)
        pair.refresh_from_db()
        note(event, by, f"moved pair {code}", old=old, new=pair.heat)


def swap(code: str, other: str, *, by: str) -> None:
    """Let two pairs change places."""
    with writing():
        event = open_event()
        heats = swap_pairs(heats_of_plan(pairs_of(event)), code, other)
        for heat in heats:
            for pair in heat.pairs:
                if pair.code in {code, other}:
                    keep_by_hand(event, pair.code, heat.number)
        if _save(event, with_rooms(heats, frame_of(event))):
            note(event, by, f"let pairs {code} and {other} change places")


def take_in(
    add: Callable[[], PairRecord], to: int | None, *, by: str
) -> tuple[PairRecord, LateHeat | None]:
    """Add a pair that comes unannounced, give it a heat and check it in: all of it or nothing.

    ``to`` (heat number or None): ``None``: where its school is, as far as there is room. Returns
    how the heat was chosen; ``None`` when it was given.
    """
    with writing():
        pair = add()
        chosen = None if to is not None else _late_heat(open_event(), pair.school)
        move(pair.code, chosen.number if chosen else to or 0, by=by)
        return check_in(pair.pk, is_here=True, by=by), chosen


def _late_heat(event: EventRecord, school: str) -> LateHeat:
    heats = heats_of_plan(pairs_of(event))
    begun = set(event.heat_runs.values_list("heat", flat=True))
    started = {heat.number for heat in heats if heat.name in begun}
    return late_heat(heats, school, places=frame_of(event).places, started=started)


def heats_of_plan(pairs: Iterable[Pair]) -> tuple[Heat, ...]:
    """The heats with somebody in them; InputError if one is written without a number."""
    pairs = tuple(pairs)
    at = scheduled(pairs)
    members: dict[int, list[Pair]] = defaultdict(list)
    for pair in pairs:
        if pair.code in at:
            members[at[pair.code]].append(pair)
    return tuple(Heat(number, tuple(members[number])) for number in sorted(members))


def _save(event: EventRecord, heats: Sequence[Heat]) -> int:
    """Write heat and room of the pairs in the heats; the others keep theirs."""
    at = {pair.code: (heat.name, pair.room) for heat in heats for pair in heat.pairs}
    rows = [
        row
        for row in event.pairs.all()
        if at.get(row.code, (row.heat, row.room)) != (row.heat, row.room)
    ]
    for row in rows:
        row.heat, row.room = at[row.code]
    PairRecord.objects.bulk_update(rows, ["heat", "room"])
    return len(rows)
