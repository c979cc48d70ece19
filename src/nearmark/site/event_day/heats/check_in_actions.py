"""Who has come to the desk: one pair or a whole school, and taken back again."""

from collections.abc import Sequence

from nearmark.contest.heat_records import TAKES_PART
from nearmark.errors import InputError
from nearmark.site.common import clock
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.models import EventRecord, PairRecord


def check_in(pair_id: int, *, is_here: bool, by: str) -> PairRecord:
    """Note that a pair has come to the desk, or that this was a slip."""
    with writing():
        event = open_event()
        pair = known_row(event.pairs, "pair", pk=pair_id)
        _note(event, [pair], is_here=is_here, by=by)
    return pair


def check_in_school(school: str, *, by: str, room: str = "") -> list[PairRecord]:
    """Check in those of a school who take part, in a room or in all; who was not here before."""
    with writing():
        event = open_event()
        pairs = event.pairs.filter(school=school, status__in=TAKES_PART)
        rows = list(pairs.filter(room__in=(room, "")) if room else pairs)
        if not rows:
            raise InputError("is not known", where="school", value=school[:60])
        return _note(event, rows, is_here=True, by=by)


def check_out(pair_ids: Sequence[int], *, by: str) -> list[PairRecord]:
    """Take back the check-in of some pairs; those that were here are returned."""
    with writing():
        event = open_event()
        rows = list(event.pairs.filter(pk__in=pair_ids))
        if not rows:
            raise InputError("is not known", where="pair", mend="Load the page again")
        return _note(event, rows, is_here=False, by=by)


def _note(
    event: EventRecord, rows: Sequence[PairRecord], *, is_here: bool, by: str
) -> list[PairRecord]:
    changed = [row for row in rows if is_here is not (row.arrived_at is not None)]
    for row in changed:
        row.arrived_at = clock.now() if is_here else None
    PairRecord.objects.bulk_update(changed, ["arrived_at"])
    way = "in" if is_here else "out again"
    if len(changed) == 1:
        note(event, by, f"checked pair {changed[0].code} {way}")
    elif changed:
        codes = ", ".join(row.code for row in changed)
        note(event, by, f"checked {len(changed)} pairs {way}", new=codes)
    return changed
