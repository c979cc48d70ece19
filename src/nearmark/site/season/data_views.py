"""The log of a club: look at it, take it away, bring one."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from nearmark.coaching import Attempt
from nearmark.errors import FilesError, InputError, Problem
from nearmark.event_folder.practice_log import practice_log_of
from nearmark.event_folder.practice_log_writer import practice_log_text
from nearmark.site.common.lookup import PASTED, pasted_or_file
from nearmark.site.common.responses import done, file_answer, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.attempt_columns import attempts_of
from nearmark.site.season.export import club_zip, pupil_zip
from nearmark.site.season.import_actions import LogPreview, import_log, preview_log
from nearmark.site.season.models import Club, PracticeAttempt
from nearmark.site.season.pupil_views import pupil_of
from nearmark.site.season.views import club_of
from nearmark.words.replies import attempts_imported

MAX_SHOWN = 200
REFUSED = 422


@dataclass(frozen=True, slots=True)
class LogImportView:
    """Where a log is pasted or chosen, and what it would bring."""

    title: str
    club: Club
    pasted: str
    problems: Sequence[Problem] = ()
    refusal: InputError | None = None
    preview: LogPreview | None = None  # none until a log could be read
    n_fresh: int = 0
    first_day: date | None = None
    last_day: date | None = None
    good: str = ""  # what is sent back to be imported


@dataclass(frozen=True, slots=True)
class LogView:
    """The newest attempts of a club."""

    title: str
    club: Club
    rows: QuerySet[PracticeAttempt]
    n: int  # of all, of which the newest ``most`` are shown
    most: int


def season_log(request: HttpRequest, club_id: int) -> HttpResponse:
    """The newest attempts first."""
    club = club_of(club_id)
    rows = club.attempts.select_related("pupil").order_by("-day", "-pk")
    view = LogView("Log of practice", club, rows[:MAX_SHOWN], rows.count(), MAX_SHOWN)
    return show(request, "season/log", view)


def log_export(_request: HttpRequest, club_id: int) -> HttpResponse:
    """The log as the CSV file that the command line reads."""
    text = practice_log_text(attempts_of(club_of(club_id)))
    return file_answer(text.encode(), "practice-log.csv", kind="text/csv; charset=utf-8")


def club_export(_request: HttpRequest, club_id: int) -> HttpResponse:
    """Everything that is kept of a club."""
    return file_answer(club_zip(club_of(club_id)), "club.zip", kind="application/zip")


def pupil_export(_request: HttpRequest, pupil_id: int) -> HttpResponse:
    """Everything that is kept of one pupil."""
    return file_answer(pupil_zip(pupil_of(pupil_id)), "pupil.zip", kind="application/zip")


def log_import(request: HttpRequest, club_id: int) -> HttpResponse:
    """Where a log is pasted or chosen; a post shows what it would bring, and keeps nothing."""
    club, pasted = club_of(club_id), request.POST.get("text", "")
    view = LogImportView("Bring a log", club, pasted)
    if request.method != "POST":
        return show(request, "season/import", view)
    try:
        name, content = pasted_or_file(request, "log", kinds="a CSV file")
        text = content.encode("utf-8", "replace") if isinstance(content, str) else content
        log = practice_log_of(name, text)
        view = _previewed(view, log)
    except FilesError as refusal:
        view = replace(view, problems=refusal.problems)
    except InputError as refusal:
        view = replace(view, refusal=refusal)
    status = REFUSED if view.problems or view.refusal else 200
    return show(request, "season/import", view, status=status)


def _previewed(view: LogImportView, log: tuple[Attempt, ...]) -> LogImportView:
    preview = preview_log(view.club, log)
    return replace(
        view,
        preview=preview,
        n_fresh=len(preview.fresh),
        first_day=min((attempt.day for attempt in log), default=None),
        last_day=max((attempt.day for attempt in log), default=None),
        good=practice_log_text(preview.fresh),
    )


@post_only
def log_import_confirm(request: HttpRequest, club_id: int) -> HttpResponse:
    """Keep what the preview showed."""
    club = club_of(club_id)
    log = practice_log_of(PASTED, request.POST.get("good", "").encode("utf-8", "replace"))
    n = import_log(club, log, by=visitor_of(request).name)
    return done(request, attempts_imported(n), "season-club", club.pk)
