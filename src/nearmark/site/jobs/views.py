"""Long work: ask for it, see how far it is, stop it, take the result."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse, JsonResponse

from nearmark.errors import InputError
from nearmark.site.common.responses import done, file_answer, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.jobs import actions as acts
from nearmark.site.jobs.kinds import KINDS, Kind
from nearmark.site.jobs.models import Job, JobFile

MAX_SHOWN = 20


@dataclass(frozen=True, slots=True)
class JobsView:
    """What can be asked for, what runs, what came of it."""

    title: str
    jobs: list[tuple[Job, str]]  # with the title of its kind
    kinds: list[tuple[str, Kind]]


def jobs(request: HttpRequest) -> HttpResponse:
    """What can be asked for, what runs, what came of it."""
    view = JobsView(
        title="Long work",
        jobs=[(job, KINDS[job.kind].title) for job in _newest() if job.kind in KINDS],
        kinds=[(name, kind) for name, kind in KINDS.items() if not kind.asked_elsewhere],
    )
    return show(request, "jobs/jobs", view)


def _newest() -> list[Job]:
    return list(acts.of_now().select_related("file")[:MAX_SHOWN])


def jobs_state(_request: HttpRequest) -> HttpResponse:
    """The same for the script of the page: number -> state and steps."""
    return JsonResponse(
        {str(j.pk): {"state": j.state, "done": j.n_done, "all": j.n_all} for j in _newest()}
    )


@post_only
def job_ask(request: HttpRequest) -> HttpResponse:
    """Ask for a piece of work."""
    kind = request.POST.get("kind", "")
    text = request.POST.get("size", "").strip()
    try:
        # A field for a time sends 09:30 or nothing; the work knows it as 930 or 0.
        size = int(text.replace(":", "", 1) or 0)
    except ValueError as error:
        raise InputError(
            "is not a whole number", where="size", value=text[:40], mend="Write it in digits"
        ) from error
    acts.ask(kind, size, by=visitor_of(request).name)
    return done(request, "It is being worked on; go on with something else.", "jobs")


@post_only
def job_cancel(request: HttpRequest, job_id: int) -> HttpResponse:
    """Stop it."""
    acts.cancel(job_id, by=visitor_of(request).name)
    return done(request, "It stops at its next step.", "jobs")


@post_only
def job_again(request: HttpRequest, job_id: int) -> HttpResponse:
    """Ask for the same once more."""
    acts.ask_again(job_id, by=visitor_of(request).name)
    return done(request, "It is being worked on again.", "jobs")


def job_file(_request: HttpRequest, job_id: int) -> HttpResponse:
    """The result."""
    file = JobFile.objects.filter(job=acts.known(job_id)).first()
    if file is None:
        raise InputError("has no result", where="work", value=job_id, mend="Wait until it is done")
    return file_answer(bytes(file.content), file.name, kind=file.content_type)
