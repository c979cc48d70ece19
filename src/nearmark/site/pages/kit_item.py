"""One item of the kit: its readings, and the certificate beside them."""

from typing import Any

from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.charts import budget_bar_svg
from nearmark.contest.keys import ItemKey, event_keys
from nearmark.contest.results import results
from nearmark.contest.rules import Station
from nearmark.errors import InputError, RuleError
from nearmark.printing import event_certificate_pdf
from nearmark.site.acts import kit as acts
from nearmark.site.event_store import current_event, load_event
from nearmark.site.forms import (
    DecisionForm,
    EdgeForm,
    HandCountForm,
    ReasonForm,
    SampleForm,
    WeighingForm,
)
from nearmark.site.models import EventRecord, ItemRecord
from nearmark.site.pages.asking import add_refusal, done, post_only, show
from nearmark.site.pages.kit import choose
from nearmark.site.visitor import visitor_of

FORMS: dict[str, tuple[type[Form], str, str]] = {
    "sample": (SampleForm, "A counted sample", "g"),
    "weighing": (WeighingForm, "The container on the scale", "g"),
    "hand-count": (HandCountForm, "A count by hand", ""),
    "edge": (EdgeForm, "One reading of an edge", "cm"),
}
"""Kind of reading -> form, title, unit of its instrument."""

_KINDS = {
    Station.COUNT: ("sample", "weighing", "hand-count"),
    Station.VOLUME: ("edge",),
    Station.MASS: (),
}

BAR_PX = 340


def kit_item(request: HttpRequest, item_id: int) -> HttpResponse:
    """Readings and certificate of one item."""
    record, item = _known(item_id)
    return show(request, "kit_item", _context(record, item))


def _known(item_id: int) -> tuple[EventRecord, ItemRecord]:
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="Set one up first")
    return record, acts.known_item(record, item_id)


def _context(record: EventRecord, item: ItemRecord, **bound: Form) -> dict[str, Any]:
    key = event_keys(load_event(record))[item.code]
    kinds = _KINDS[Station(item.station)]
    groups = [_group(record, item, kind, bound.get(kind)) for kind in kinds]
    return {
        "title": f"{item.code}: {item.name}",
        "item": item,
        "key": key,
        "assigned": key.assigned,
        "bar": _bar(key),
        "components": _components(key),
        "groups": groups,
        "decision_form": bound.get("decision", DecisionForm()),
    }


def _group(record: EventRecord, item: ItemRecord, kind: str, bound: Form | None) -> dict[str, Any]:
    form_class, title, unit = FORMS[kind]
    rows = list(acts.KINDS[kind].objects.filter(item=item))
    live = [row for row in rows if row.struck_at is None]
    form = bound or form_class(initial=_last(kind, live))
    return {
        "kind": kind,
        "title": title,
        "form": choose(form, record, unit),
        "rows": rows,
        "n": len(live),
    }


def _last(kind: str, live: list[Any]) -> dict[str, Any]:
    """What is likely the same in the next reading of a kind."""
    if not live:
        return {}
    if kind == "sample":
        return {"pieces": live[-1].pieces, "instrument": live[-1].instrument}
    if kind == "edge":
        return {"side": live[-1].side, "instrument": live[-1].instrument}
    return {}


def _bar(key: ItemKey) -> str:
    return "" if key.assigned is None else budget_bar_svg(key.assigned.budget, width_px=BAR_PX)


def _components(key: ItemKey) -> list[tuple[str, float, float, float]]:
    """Name, contribution, degrees of freedom and share in percent of what adds something."""
    if key.assigned is None:
        return []
    budget = key.assigned.budget
    return [
        (c.name, c.contribution, c.dof, 100 * budget.share(c))
        for c in budget.components
        if c.contribution > 0
    ]


@post_only
def kit_reading_add(request: HttpRequest, item_id: int, kind: str) -> HttpResponse:
    """Add one reading; the certificate is new at once."""
    record, item = _known(item_id)
    if kind not in _KINDS[Station(item.station)]:
        raise InputError("does not belong to this item", where="kind of reading", value=kind)
    form_class, _, unit = FORMS[kind]
    form = choose(form_class(request.POST), record, unit)
    status = 422
    if form.is_valid():
        try:
            row = acts.add_reading(item_id, kind, form.cleaned_data, by=visitor_of(request).name)
        except (InputError, RuleError) as refusal:
            status = add_refusal(form, refusal)
        else:
            return done(request, f"Saved: {row}.", reverse("kit-item", args=[item_id]))
    return show(request, "kit_item", _context(record, item, **{kind: form}), status=status)


@post_only
def kit_reading_strike(request: HttpRequest, kind: str, row_id: int) -> HttpResponse:
    """Strike a reading out."""
    form = ReasonForm(request.POST)
    why = form.cleaned_data["why"] if form.is_valid() else ""
    if kind not in acts.KINDS:
        raise InputError("is not known", where="kind of reading", value=kind)
    item = acts.strike_reading(kind, row_id, by=visitor_of(request).name, why=why)
    return done(request, "Struck out; it stays in the history.", _address(item))


def _address(item: ItemRecord) -> str:
    return reverse("kit-item", args=[item.pk])


@post_only
def kit_decide(request: HttpRequest, item_id: int) -> HttpResponse:
    """Decide on a key."""
    record, item = _known(item_id)
    form = DecisionForm(request.POST)
    status = 422
    if form.is_valid():
        given = form.cleaned_data
        try:
            acts.decide(
                item_id,
                given["value"],
                by=visitor_of(request).name,
                why=given["why"],
                withdraw=given["withdraw"],
            )
        except (InputError, RuleError) as refusal:
            status = add_refusal(form, refusal)
        else:
            return done(request, "Decided.", _address(item))
    return show(request, "kit_item", _context(record, item, decision=form), status=status)


def kit_certificate(request: HttpRequest, item_id: int) -> HttpResponse:
    """The certificate of one item as PDF."""
    del request
    record, item = _known(item_id)
    outcome = results(load_event(record))
    pdf = event_certificate_pdf(outcome, outcome.keys[item.code])
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="certificate-{item.pk}.pdf"'
    return response
