"""The paper of the day: print it before, and the day runs when every screen dies."""

from dataclasses import dataclass
from datetime import date, time
from functools import lru_cache
from pathlib import Path

from django.conf import settings
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from nearmark.contest.event import Event
from nearmark.errors import InputError
from nearmark.printing.after_paper import AFTER_PAPERS, ResultsPaper, sealed_papers
from nearmark.printing.day_paper import PaperOfDay, paper_of
from nearmark.printing.fonts_in_use import FONTS_FOLDER
from nearmark.printing.handbook import handbook_pdf
from nearmark.printing.label_grids import STATED, STATED_FOR, label_grid
from nearmark.printing.missing_signs import missing_signs
from nearmark.printing.wishes import Wishes
from nearmark.site.common.language import chosen_language, shown_in
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import file_answer, paper_size, show
from nearmark.site.event.current import required_event
from nearmark.site.event.load import load_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.heats.plan_frame import day_of, planned_wishes
from nearmark.site.event_day.results.proof_lines import seal_line
from nearmark.site.jobs.models import Job
from nearmark.words.day_papers import grid_words
from nearmark.words.languages import language_codes, own_name
from nearmark.words.missing_signs import what_to_do_on_the_site
from nearmark.words.translation import ENGLISH


@dataclass(frozen=True, slots=True)
class GridChoice:
    """Ready-cut label sheets that can be chosen."""

    name: str
    words: str


@dataclass(frozen=True, slots=True)
class PaperTab:
    """One choice of a row of choices."""

    query: str
    words: str
    is_current: bool


@dataclass(frozen=True, slots=True)
class PaperView:
    """Everything to print."""

    title: str
    sheets: tuple[PaperOfDay, ...]
    sealed: tuple[ResultsPaper, ...]
    after: tuple[ResultsPaper, ...]
    not_printed: tuple[str, ...]  # names with signs that no font has, and what to do
    grids: tuple[GridChoice, ...]
    paper: str  # its size
    large_query: str  # what an address needs for it
    spoken_query: str  # what an address needs for the language
    sizes: tuple[PaperTab, ...]
    prints: tuple[PaperTab, ...]  # usual and large print
    languages: tuple[PaperTab, ...]  # of what children and families read
    first_start: time | None  # of the plan; ``None``: not planned
    kind: str  # of the long work that makes all of it
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
    size, large = paper_size(request), request.GET.get("large") == "1"
    large_query = "&large=1" if large else ""
    language = chosen_language(request) or ENGLISH.code
    spoken_query = "" if language == ENGLISH.code else f"&language={language}"
    kind = f"paper-{size}{'-large' if large else ''}"
    kind += "" if language == ENGLISH.code else f"-{language}"
    view = PaperView(
        title="Paper for the day",
        sheets=paper_of(event),
        sealed=sealed_papers(current_results(record)),
        after=AFTER_PAPERS,
        not_printed=_not_printed(event),
        grids=tuple(
            GridChoice(name, grid_words(*STATED[name].label_mm(size), grid.rows, grid.columns))
            for name in STATED_FOR[size]
            for grid in [STATED[name]]
        ),
        paper=size,
        large_query=large_query,
        spoken_query=spoken_query,
        sizes=tuple(
            PaperTab(f"?paper={each}{large_query}{spoken_query}", words, each == size)
            for each, words in (("a4", "A4"), ("us-letter", "US letter"))
        ),
        prints=tuple(
            PaperTab(f"?paper={size}{query}{spoken_query}", words, query == large_query)
            for query, words in (("", "Usual print"), ("&large=1", "Large print"))
        ),
        languages=tuple(
            PaperTab(
                f"?paper={size}{large_query}&language={code}", own_name(code), code == language
            )
            for code in language_codes()
        ),
        first_start=day_of(record).first_start,
        kind=kind,
        missing=missing,
        is_ready=bool(event.pairs and event.items),
        n_pairs=len(event.pairs),
        jobs=record.jobs.filter(kind=kind).select_related("file")[:1],
    )
    return show(request, "event_day/paper", view)


def paper_file(request: HttpRequest, name: str) -> HttpResponse:
    """One of them as PDF."""
    record = required_event()
    event = load_event(record)
    language = chosen_language(request) or ENGLISH.code
    with shown_in(language):
        seal = seal_line(record)
    wishes = Wishes(
        paper=paper_size(request),
        language=language,
        names=request.GET.get("names") == "1",
        large=request.GET.get("large") == "1",
        start=_start(request.GET.get("start", "")),
        labels=label_grid(request.GET.get("labels", "cut")),
        seal=seal,
    )
    from_results = (*sealed_papers(current_results(record)), *AFTER_PAPERS)
    page = next((page for page in from_results if page.name == name), None)
    if page is not None:
        return file_answer(page.made(current_results(record), wishes), f"{name}.pdf")
    sheet = next((sheet for sheet in paper_of(event) if sheet.name == name), None)
    if sheet is None:
        raise InputError("is not printed here", where="paper", value=name[:40])
    return file_answer(sheet.made(event, planned_wishes(record, wishes)), f"{sheet.name}.pdf")


def handbook_file(request: HttpRequest, name: str) -> HttpResponse:
    """The handbook of the lead, or the two pages for coaches; no event is needed."""
    return file_answer(_handbook(name, paper_size(request), today()), f"{name}.pdf")


@lru_cache(maxsize=4)
def _handbook(name: str, paper: str, day: date) -> bytes:
    return handbook_pdf(name, day=day, paper=paper)


def _not_printed(event: Event) -> tuple[str, ...]:
    missing = missing_signs(event, names=True)
    if not missing:
        return ()
    folder = Path(getattr(settings, "NEARMARK_DATA", "")) / FONTS_FOLDER
    return (*(one.words for one in missing), what_to_do_on_the_site(str(folder)))


def _start(text: str) -> time | None:
    """A first start as a browser sends it; empty: left open."""
    if not text:
        return None
    try:
        return time.fromisoformat(text)
    except ValueError:
        raise InputError(
            "is no time of day", where="first start", value=text[:40], mend="Write 09:30"
        ) from None
