"""Asking for long work, stopping it, and asking for the same again."""

from typing import Final

from django.db.models import Q, QuerySet

from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.current import required_event
from nearmark.site.event.history import note
from nearmark.site.event.load import current_event
from nearmark.site.jobs import worker
from nearmark.site.jobs.kinds import KINDS
from nearmark.site.jobs.models import Job, JobState

MAX_OPEN: Final = 4
"""They are done one after the other; a longer queue is a slip of the finger."""

_OPEN: Final = (JobState.WAITING, JobState.RUNNING)


def ask(kind: str, size: int, *, by: str) -> Job:
    """Put a piece of work in the queue. ``kind``: of ``job_kinds.KINDS``."""
    if kind not in KINDS:
        raise InputError("is not known", where="kind of work", value=kind[:40])
    KINDS[kind].check(size)
    with writing():
        event = required_event() if KINDS[kind].needs_event else current_event()
        if Job.objects.filter(state__in=_OPEN).count() >= MAX_OPEN:
            raise RuleError(
                f"{MAX_OPEN} pieces of work are waiting already",
                mend="Wait for one of them, or stop one",
            )
        job = Job.objects.create(
            event=event, kind=kind, size=size, asked_by=by, asked_at=clock.now()
        )
        note(event, by, f"asked for long work: {kind}", new=str(size or ""))
    worker.wake()
    return job


def cancel(job_id: int, *, by: str) -> None:
    """Stop a piece of work; one that runs stops at its next step."""
    with writing():
        job = known(job_id)
        if not job.is_open:
            raise RuleError("this work has ended already")
        job.cancel_asked = True
        if job.state == JobState.WAITING:
            job.state, job.ended_at = JobState.CANCELLED, clock.now()
        job.save()
        note(job.event, by, f"stopped long work: {job.kind}")


def ask_again(job_id: int, *, by: str) -> Job:
    """Ask for the same as before, with the event as it is now."""
    job = known(job_id)
    if job.is_open:
        raise RuleError("this work has not ended yet")
    return ask(job.kind, job.size, by=by)


def known(job_id: int) -> Job:
    """A piece of work of the current event, or of none."""
    return known_row(of_now(), "work", "Load the page again", pk=job_id)


def of_now() -> QuerySet[Job]:
    """The work of the current event, and what was asked for while there was none."""
    return Job.objects.filter(Q(event=current_event()) | Q(event=None))
