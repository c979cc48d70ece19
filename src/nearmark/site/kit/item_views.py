"""One item of the kit: its page, its certificate and its history."""

from dataclasses import dataclass

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from nearmark.printing import event_certificate_pdf
from nearmark.site.common.responses import file_answer, show
from nearmark.site.event.current import required_event
from nearmark.site.event.models import Change, EventRecord, ItemRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.kit import actions as acts
from nearmark.site.kit.item_page import item_page
from nearmark.site.kit.item_readings import KINDS_OF
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class HistoryView:
    """Every change of one item."""

    title: str
    item: ItemRecord
    changes: QuerySet[Change]


def kit_item(request: HttpRequest, item_id: int) -> HttpResponse:
    """Next step, readings and certificate of one item."""
    record, item = known(item_id)
    chosen = request.GET.get("read", "")
    kind = chosen if chosen in KINDS_OF[Station(item.station)] else ""
    return show(request, "kit/item", item_page(record, item, kind=kind, after=request.GET))


def known(item_id: int) -> tuple[EventRecord, ItemRecord]:
    """The event and one of its items."""
    record = required_event()
    return record, acts.known_item(record, item_id)


def kit_certificate(_request: HttpRequest, item_id: int) -> HttpResponse:
    """The certificate of one item as PDF."""
    record, item = known(item_id)
    outcome = current_results(record)
    pdf = event_certificate_pdf(outcome, outcome.keys[item.code])
    return file_answer(pdf, f"certificate-{item.pk}.pdf")


def kit_item_history(request: HttpRequest, item_id: int) -> HttpResponse:
    """Every change of one item: the key before and after, who, when, why."""
    _, item = known(item_id)
    view = HistoryView(f"History of {item.code}", item, item.changes.all())
    return show(request, "kit/item_history", view)
