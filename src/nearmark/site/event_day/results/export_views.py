"""Taking the results away: tables, a workbook, a print, the whole event."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.contest.results import Results
from nearmark.event_folder.results_export import result_tables
from nearmark.event_folder.results_workbook import about_table, results_workbook
from nearmark.printing.words import day_text
from nearmark.site.common.local_time import time_text
from nearmark.site.common.responses import show
from nearmark.site.common.zips import zipped
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.results.audit_actions import audit_words
from nearmark.site.event_day.results.models import Release
from nearmark.site.event_day.results.proof_lines import current_release
from nearmark.words.rules import rules_words

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@dataclass(frozen=True, slots=True)
class ExportsView:
    """What can be taken away."""

    title: str
    outcome: Results
    release: Release | None
    may_name: bool  # whether files with names are offered


def exports(request: HttpRequest) -> HttpResponse:
    """What can be taken away, and what is in it."""
    record = required_event()
    outcome, release = current_results(record), current_release(record)
    view = ExportsView("Download", outcome, release, _may_name(request, record))
    return show(request, "event_day/results/exports", view)


def results_csv(request: HttpRequest) -> HttpResponse:
    """Standings, scores and keys as CSV files in one zip."""
    record = required_event()
    names = _names(request, record)
    tables = (*result_tables(current_results(record), names=names), about_table(_about(record)))
    content = zipped({f"{table.name}.csv": table.csv for table in tables})
    return _file(content, f"results-{record.day}.zip", "application/zip")


def results_xlsx(request: HttpRequest) -> HttpResponse:
    """The same as one workbook."""
    record = required_event()
    tables = result_tables(current_results(record), names=_names(request, record))
    return _file(results_workbook(tables, _about(record)), f"results-{record.day}.xlsx", XLSX)


def _may_name(request: HttpRequest, record: EventRecord) -> bool:
    """Names go to the lead; to the others only where they stand on the public page too."""
    return visitor_of(request).is_lead or record.shows_names


def _names(request: HttpRequest, record: EventRecord) -> bool:
    return request.GET.get("names") == "1" and _may_name(request, record)


def _about(record: EventRecord) -> list[tuple[str, str]]:
    """What a stranger needs to know of these numbers."""
    outcome = current_results(record)
    release = current_release(record)
    state = f"release {release.number}, {time_text(release.at)}" if release else "provisional"
    return [
        ("event", record.name),
        ("day", day_text(record.day)),
        ("rule set", rules_words(outcome.event.rules)),
        ("state", state),
        ("open points", str(len(outcome.open_points))),
        *(("paper audit", words) for words in audit_words(record)),
        *(
            (
                "correction",
                f"{c.what}: {c.old} before, {c.new} now. {c.why}. {'; '.join(c.moved)}"
                if c.old
                else f"{c.what}. {c.why}. {'; '.join(c.moved)}",
            )
            for c in record.corrections.order_by("pk")
        ),
    ]


def _file(content: bytes, name: str, kind: str) -> HttpResponse:
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
