"""Opening, preparing again and deleting whole events."""

from datetime import date

from nearmark.contest.next_event import prepared_again
from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.answer_models import AdjudicationEntry, AnswerEntry, AuditEntry
from nearmark.site.event.history import note
from nearmark.site.event.load import current_event, load_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.event_actions import drawn_seed, keep_event, refuse_while_a_heat_runs
from nearmark.site.kit.models import VesselRecord
from nearmark.site.season.retention_actions import leave_nothing, overwrite_what_is_deleted


def event_of(pk: int) -> EventRecord:
    """One event of the folder. Raises InputError if it is not there."""
    record = EventRecord.objects.filter(pk=pk).first()
    if record is None:
        raise InputError("is not in this folder", where="event", mend="Choose one of the list")
    return record


def open_again(pk: int, *, by: str) -> EventRecord:
    """Make another event the current one; RuleError while a heat of the present one runs."""
    with writing():
        record = event_of(pk)
        before = current_event()
        if before is None or before.pk == record.pk:
            return record
        refuse_while_a_heat_runs(before)
        record.opened_at = clock.now()
        record.save(update_fields=["opened_at"])
        note(record, by, "opened the event", old=before.name, new=record.name)
    return record


def prepare_again(
    pk: int, *, name: str, day: date, is_practice: bool, with_boxes: bool, by: str
) -> EventRecord:
    """Begin the next event from the kit of an earlier one, without its names and answers."""
    with writing():
        before = event_of(pk)
        event = prepared_again(
            load_event(before), name=name, day=day, seed=drawn_seed(), with_boxes=with_boxes
        )
        what = f"prepared the event from {before.name}"
        record = keep_event(event, by=by, what=what, is_practice=is_practice)
        record.heat_places = before.heat_places
        record.save(update_fields=["heat_places"])
        VesselRecord.objects.bulk_create(
            VesselRecord(
                event=record,
                **{f: getattr(v, f) for f in ("code", "name", "shape", "sizes_cm", "tare_g")},
            )
            for v in before.vessels.all()
        )
    return record


def delete_event(pk: int, typed_name: str, *, by: str, why: str) -> str:
    """Delete an event that is not open, with its pairs, names, answers and results.

    ``typed_name``: what the person typed to confirm. Returns the name of the event. Raises
    RuleError if it is the open one, InputError if the name is another.
    """
    overwrite_what_is_deleted()
    with writing():
        record = event_of(pk)
        present = current_event()
        if present is not None and present.pk == record.pk:
            raise RuleError("is the one that is open", where="event", mend="Open another one first")
        if typed_name.split() != record.name.split():
            raise InputError(
                "is not the name of the event", where="name", mend=f"Type: {record.name}"
            )
        for table in (AuditEntry, AdjudicationEntry, AnswerEntry):
            table.objects.filter(pair__event=record).delete()
        record.delete()
        note(None, by, "deleted an event", old=f"{record.name}, {record.day}", why=why)
    leave_nothing()
    return typed_name
