"""What is typed on the page of an item: readings, faces of a box, decisions on its key."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.next_step import sample_total
from nearmark.errors import InputError
from nearmark.site.common.forms import choose
from nearmark.site.common.lookup import typed_reason
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import EventRecord
from nearmark.site.event.reading_models import KitRow, SampleRow
from nearmark.site.kit import actions as acts
from nearmark.site.kit.doubting import doubts_on
from nearmark.site.kit.forms import DecisionForm, FacesForm
from nearmark.site.kit.item_page import item_page
from nearmark.site.kit.item_readings import FORMS, KINDS_OF
from nearmark.site.kit.item_views import known
from nearmark.site.kit.views import instruments
from nearmark.station import Station
from nearmark.words.next_step import total_words


@post_only
def kit_reading_add(request: HttpRequest, item_id: int, kind: str) -> HttpResponse:
    """Add one reading, asked about if it looks like a slip; the certificate is new at once."""
    record, item = known(item_id)
    if kind not in KINDS_OF[Station(item.station)]:
        raise InputError("does not belong to this item", where="kind of reading", value=kind)
    form_class, _, unit = FORMS[kind]
    form = choose(
        form_class(request.POST, auto_id="next-%s"), "instrument", instruments(record, unit)
    )
    with doubts_on(form):
        by, kept = visitor_of(request).name, request.POST.getlist("doubt")
        row = acts.add_reading(item_id, kind, form.checked(), by=by, kept=kept)
        address = reverse("kit-item", args=[item.pk])
        return done(request, _saved(record, row), f"{address}?after={kind}")
    view = item_page(record, item, kind=kind, form=form)
    return show(request, "kit/item", view, status=form.http_status)


def _saved(record: EventRecord, row: KitRow) -> str:
    """What was saved; of samples how many there are now, and of how many pieces."""
    if not isinstance(row, SampleRow):
        return f"Saved: {row}."
    total = sample_total(load_kit(record), row.item.code)
    return f"Saved: {row}. Now {total_words(total)}." if total else f"Saved: {row}."


@post_only
def kit_faces(request: HttpRequest, item_id: int) -> HttpResponse:
    """Say between which faces a box is read."""
    record, item = known(item_id)
    form = FacesForm(request.POST, auto_id="next-%s")
    with doubts_on(form):
        values, kept = form.columns(), request.POST.getlist("doubt")
        acts.state_faces(item_id, values, by=visitor_of(request).name, kept=kept)
        return done(request, f"Saved: read {values['faces']}.", "kit-item", item.pk)
    view = item_page(record, item, kind="faces", form=form)
    return show(request, "kit/item", view, status=form.http_status)


@post_only
def kit_reading_strike(request: HttpRequest, kind: str, row_id: int) -> HttpResponse:
    """Strike a reading out."""
    why = typed_reason(request)
    if kind not in acts.KINDS:
        raise InputError("is not known", where="kind of reading", value=kind)
    item = acts.strike_reading(kind, row_id, by=visitor_of(request).name, why=why)
    return done(request, "Struck out; it stays in the history.", "kit-item", item.pk)


@post_only
def kit_decide(request: HttpRequest, item_id: int) -> HttpResponse:
    """Decide on a key."""
    record, item = known(item_id)
    form = DecisionForm(request.POST, auto_id="decide-%s")
    with doubts_on(form):
        by, kept = visitor_of(request).name, request.POST.getlist("doubt")
        acts.decide(item_id, **form.checked(), by=by, kept=kept)
        return done(request, "Decided.", "kit-item", item.pk)
    view = item_page(record, item, decision=form)
    return show(request, "kit/item", view, status=form.http_status)
