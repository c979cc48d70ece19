"""The paper of the day: print it before, and the day runs when every screen dies."""

from dataclasses import dataclass

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from nearmark.errors import InputError
from nearmark.printing import key_sheet_pdf
from nearmark.printing.day_paper import PaperOfDay, paper_of
from nearmark.site.common.responses import file_answer, paper_size, show
from nearmark.site.event.current import required_event
from nearmark.site.event.load import load_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.results.proof_lines import seal_line
from nearmark.site.jobs.models import Job

KEY_SHEET = "key-sheet"


@dataclass(frozen=True, slots=True)
class PaperView:
    """Everything to print."""

    title: str
    sheets: tuple[PaperOfDay, ...]
    paper: str  # its size
    missing: list[str]  # what an event should have before it is printed
    is_ready: bool
    n_pairs: int
    jobs: QuerySet[Job]  # the newest that made all of it, if any


def paper(request: HttpRequest) -> HttpResponse:
    """Everything to print, and the five steps of a day without a screen."""
    record = required_event()
    event = load_event(record)
    missing = [
        what
        for what, is_there in (
            ("pairs", event.pairs),
            ("items", event.items),
            ("heats", any(pair.heat for pair in event.pairs)),
        )
        if not is_there
    ]
    view = PaperView(
        title="Paper for the day",
        sheets=paper_of(event),
        paper=paper_size(request),
        missing=missing,
        is_ready=bool(event.pairs and event.items),
        n_pairs=len(event.pairs),
        jobs=record.jobs.filter(kind=f"paper-{paper_size(request)}").select_related("file")[:1],
    )
    return show(request, "event_day/paper", view)


def paper_file(request: HttpRequest, name: str) -> HttpResponse:
    """One of them as PDF."""
    record = required_event()
    event = load_event(record)
    if name == KEY_SHEET:
        return file_answer(
            key_sheet_pdf(
                current_results(record), paper=paper_size(request), seal=seal_line(record)
            ),
            f"{KEY_SHEET}.pdf",
        )
    sheet = next((sheet for sheet in paper_of(event) if sheet.name == name), None)
    if sheet is None:
        raise InputError("is not printed here", where="paper", value=name[:40])
    names = request.GET.get("names") == "1"
    made = sheet.made(event, paper=paper_size(request), names=names, seal=seal_line(record))
    return file_answer(made, f"{sheet.name}.pdf")
