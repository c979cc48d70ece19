"""Plans to look at before they are saved, and the way back to the plan before."""

from collections.abc import Mapping, Sequence
from typing import Any

from nearmark.contest import Heat
from nearmark.contest.event import Pair
from nearmark.contest.heat_program import Aim, Level, preview_heats
from nearmark.contest.heat_records import TAKES_PART
from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import pairs_of
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event_day.heats.models import HeatDraft
from nearmark.site.event_day.heats.plan_frame import plan_start

Places = dict[str, list[str]]
"""Code -> heat and room, as they are beside the pairs."""


def draft_at_once(*, by: str) -> HeatDraft:
    """Plan all heats again school by school, to be looked at; nothing is in force yet."""
    with writing():
        event = open_event()
        start = plan_start(event)
        heats = preview_heats(start.pairs, start.frame, kept=start.chosen())
        return keep_draft(event, start.pairs, heats, (), by=by)


def keep_draft(
    event: EventRecord,
    pairs: Sequence[Pair],
    heats: Sequence[Heat],
    levels: Sequence[Level],
    *,
    by: str,
) -> HeatDraft:
    """Keep a plan of the pairs as they were, for the one before; called inside ``writing()``."""
    event.heat_drafts.filter(is_old=False).delete()
    return HeatDraft.objects.create(
        event=event,
        made_at=clock.now(),
        made_by=by,
        places={p.code: [p.heat, p.room] for heat in heats for p in heat.pairs},
        pairs_then=_as_they_are(pairs),
        levels=[[level.aim.value, level.value, level.bound] for level in levels],
    )


def save_draft(draft_id: int, *, by: str) -> int:
    """Put a plan in force, and count the pairs it changes; RuleError if it is out of date."""
    with writing():
        event, draft = _found(draft_id, is_old=False)
        before = pairs_of(event)
        if draft.pairs_then != _as_they_are(before):
            raise RuleError(
                "pairs or heats have changed since this plan was made",
                where="plan",
                mend="Look for a plan again",
            )
        moved = _refuse_started(event, before, draft.places)
        _write(event, draft.places)
        event.heat_drafts.all().delete()
        HeatDraft.objects.create(
            event=event,
            is_old=True,
            made_at=clock.now(),
            made_by=by,
            places={p.code: [p.heat, p.room] for p in before if p.status in TAKES_PART},
            pairs_then=_as_they_are(pairs_of(event)),
        )
        n_heats = len({heat for heat, _ in draft.places.values()})
        note(event, by, "saved a plan of the heats", new=f"{n_heats} heats, {moved} pairs changed")
    return moved


def take_back(draft_id: int, *, by: str) -> int:
    """Put the plan before in force, and count the pairs it changes; RuleError if it is too late."""
    with writing():
        event, old = _found(draft_id, is_old=True)
        now = pairs_of(event)
        if old.pairs_then != _as_they_are(now):
            raise RuleError(
                "pairs or heats have changed since the plan was saved",
                where="plan",
                mend="Move pairs by hand, or look for a plan again",
            )
        moved = _refuse_started(event, now, old.places)
        _write(event, old.places)
        event.heat_drafts.all().delete()
        note(event, by, "took back a plan of the heats", new=f"{moved} pairs changed")
    return moved


def leave_draft(draft_id: int) -> None:
    """Forget a plan that was never in force."""
    with writing():
        _, draft = _found(draft_id, is_old=False)
        draft.delete()


def levels_of(draft: HeatDraft) -> tuple[Level, ...]:
    """How far each aim of a plan is reached; empty: it was made at once."""
    return tuple(Level(Aim(aim), value, bound) for aim, value, bound in draft.levels)


def _found(draft_id: int, *, is_old: bool) -> tuple[EventRecord, HeatDraft]:
    event = open_event()
    draft = event.heat_drafts.filter(pk=draft_id, is_old=is_old).first()
    if draft is None:
        raise InputError("is not there any more", where="plan", mend="Load the page again")
    return event, draft


def _as_they_are(pairs: Sequence[Pair]) -> dict[str, Any]:
    """What a plan is made of, to be compared later."""
    return {p.code: [p.school, p.status.value, p.heat, p.room, p.division] for p in pairs}


def _refuse_started(event: EventRecord, pairs: Sequence[Pair], places: Mapping[str, Any]) -> int:
    """How many pairs change; none of them may be in a heat that has started."""
    moved = [p for p in pairs if p.code in places and [p.heat, p.room] != places[p.code]]
    started = set(event.heat_runs.values_list("heat", flat=True))
    held = [p.code for p in moved if p.heat in started or places[p.code][0] in started]
    if held:
        raise RuleError(
            f"{', '.join(held[:5])} would leave or join a heat that has started",
            where="plan",
            mend="Look for a plan again",
        )
    return len(moved)


def _write(event: EventRecord, places: Mapping[str, Any]) -> None:
    rows = [row for row in event.pairs.all() if row.code in places]
    for row in rows:
        row.heat, row.room = places[row.code]
    PairRecord.objects.bulk_update(rows, ["heat", "room"])
