"""The one thread that does long work, in the server's own process: no further service."""

import logging
import threading
import time
from collections.abc import Callable
from typing import Final

from django.conf import settings
from django.db import DatabaseError, connections

from nearmark.errors import NearmarkError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.jobs.kinds import KINDS, JobResult
from nearmark.site.jobs.models import Job, JobFile, JobState

LOOK_EVERY_S: Final = 5.0
"""A job is begun at once when it was asked for here; this catches what was left waiting."""

TELL_EVERY_S: Final = 0.25
"""Progress is a write with a sync: four a second leave the disk to the entries."""

IDLE_FROM_S: Final = 120.0
"""So long after its start the server does nothing that nobody asked for."""

IDLE: Final[list[Callable[[], bool]]] = []
"""What may be done while no work waits; each returns whether it did something."""

_WAKE = threading.Event()
_STARTED = threading.Lock()


class CancelledError(Exception):
    """The work was stopped by a person."""


def start() -> None:
    """Start the thread, once in a process."""
    if _STARTED.acquire(blocking=False):
        threading.Thread(target=_work, name="long work", daemon=True).start()


def wake() -> None:
    """Say that there is something to do."""
    _WAKE.set()


def _work() -> None:
    log = logging.getLogger(__name__)
    is_first, idle_from = True, time.monotonic() + IDLE_FROM_S
    while True:
        try:
            if is_first:
                interrupt_left_running()
                is_first = False
            while run_next():
                pass
            if time.monotonic() >= idle_from:
                use_idle_time()
        except DatabaseError as error:
            log.error("long work: %s", error)  # noqa: TRY400 - the disk is full: one line is enough
            connections.close_all()
        _WAKE.wait(LOOK_EVERY_S)
        _WAKE.clear()


def use_idle_time() -> bool:
    """Do one piece of what nobody asked for, where that is switched on; whether one was done."""
    if not getattr(settings, "NEARMARK_POUR_AHEAD", False):
        return False
    try:
        return any(piece() for piece in IDLE)
    except NearmarkError as refusal:
        logging.getLogger(__name__).warning("idle work: %s", refusal)
        return False


def interrupt_left_running() -> int:
    """Mark what ran when the server stopped; it can be asked for again. Returns how many."""
    with writing():
        return Job.objects.filter(state=JobState.RUNNING).update(
            state=JobState.INTERRUPTED,
            ended_at=clock.now(),
            told="The server stopped while this was done",
        )


def run_next() -> bool:
    """Do the work that has waited longest. Returns whether there was any."""
    job = _claim()
    if job is None:
        return False
    try:
        made = KINDS[job.kind].work(job.event, job.size, _Steps(job))
    except CancelledError:
        _end(job, JobState.CANCELLED)
    except NearmarkError as refusal:
        _end(job, JobState.FAILED, str(refusal))
    except DatabaseError:
        raise
    except Exception:
        logging.getLogger(__name__).exception("long work %s", job.kind)
        _end(job, JobState.FAILED, "Something in Nearmark broke; the terminal says more")
    else:
        try:
            _keep(job, made)
        except NearmarkError as refusal:
            _end(job, JobState.FAILED, str(refusal))
    return True


def _claim() -> Job | None:
    with writing():
        job = Job.objects.filter(state=JobState.WAITING).order_by("pk").first()
        if job is not None:
            Job.objects.filter(pk=job.pk).update(state=JobState.RUNNING)
        return job


class _Steps:
    """Writes the progress down, and stops the work when that was asked for."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.told_at = 0.0

    def __call__(self, n_done: int, n_all: int) -> None:
        if n_done < n_all and time.monotonic() - self.told_at < TELL_EVERY_S:
            return
        self.told_at = time.monotonic()
        with writing():
            row = Job.objects.filter(pk=self.job.pk)
            row.update(n_done=n_done, n_all=n_all)
            if row.filter(cancel_asked=True).exists():
                raise CancelledError


def _end(job: Job, state: JobState, told: str = "") -> None:
    with writing():
        Job.objects.filter(pk=job.pk).update(state=state, ended_at=clock.now(), told=told)


def _keep(job: Job, made: JobResult) -> None:
    with writing():
        if made.keep is not None:
            made.keep(job.asked_by)
        JobFile.objects.create(
            job=job, name=made.name, content_type=made.content_type, content=made.content
        )
        _end(job, JobState.DONE, made.told)
