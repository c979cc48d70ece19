"""One item of the kit: what to do next, its readings, and the certificate beside them."""

from typing import Any, Final

from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.charts import budget_bar_svg
from nearmark.contest.keys import ItemKey, event_keys
from nearmark.contest.next_step import Way, sample_total, way_to_fit
from nearmark.contest.rules import Station
from nearmark.errors import InputError, RuleError
from nearmark.printing import event_certificate_pdf
from nearmark.site.acts import kit as acts
from nearmark.site.event_store import load_kit
from nearmark.site.forms import ReasonForm
from nearmark.site.kit_forms import (
    DecisionForm,
    EdgeForm,
    EmptyForm,
    FullForm,
    HandCountForm,
    KnownForm,
    SampleForm,
    choose,
    known_of,
)
from nearmark.site.models import EventRecord, ItemRecord, KitRow, PourRow, WeighingRow
from nearmark.site.pages.asking import add_refusal, done, file_answer, post_only, show
from nearmark.site.pages.kit import instruments, materials_to_choose, open_record
from nearmark.site.pouring import material_cautions
from nearmark.site.standing_results import current_results
from nearmark.site.visitor import visitor_of

FORMS: Final[dict[str, tuple[type[Form], str, str]]] = {
    "empty": (EmptyForm, "The empty container", "g"),
    "sample": (SampleForm, "Counted samples", "g"),
    "full": (FullForm, "The full container", "g"),
    "hand-count": (HandCountForm, "Counts by hand", ""),
    "edge": (EdgeForm, "Readings of the edges", "cm"),
}
"""Kind of reading -> form, title, unit of its instrument."""

_KINDS: Final = {
    Station.COUNT: ("empty", "sample", "full", "hand-count"),
    Station.VOLUME: ("edge",),
    Station.MASS: (),
}

SLIPS: Final = {
    "empty": ("typed wrong", "scale not at zero", "lid missing"),
    "sample": ("typed wrong", "miscounted", "dish not tared"),
    "full": ("typed wrong", "scale not at zero", "lid missing"),
    "hand-count": ("typed wrong", "lost count"),
    "edge": ("typed wrong", "ruler slipped"),
}
"""Usual reasons to take the last reading back, one press each."""

BAR_PX = 340


def kit_item(request: HttpRequest, item_id: int) -> HttpResponse:
    """Next step, readings and certificate of one item."""
    record, item = _known(item_id)
    return show(request, "kit_item", _context(record, item))


def _known(item_id: int) -> tuple[EventRecord, ItemRecord]:
    record = open_record()
    return record, acts.known_item(record, item_id)


def _context(record: EventRecord, item: ItemRecord, **bound: Form) -> dict[str, Any]:
    event = load_kit(record)
    key = event_keys(event)[item.code]
    pour = PourRow.objects.filter(item=item, struck_at=None).first()
    way = way_to_fit(event, key, expected_pieces=pour.pieces if pour else None)
    kinds = _KINDS[Station(item.station)]
    material = record.materials.filter(code=item.material).first()
    return {
        "title": f"{item.code}: {item.name}",
        "item": item,
        "key": key,
        "assigned": key.assigned,
        "bar": _bar(key),
        "components": _components(key),
        # While steps are open, what is missing stands at the head already.
        "is_on_the_way": key.key is None and any(not step.is_done for step in way.steps),
        "way": way,
        "next_form": _next_form(record, item, way, bound.get(way.kind)),
        "groups": [_group(record, item, kind, way, bound.get(kind)) for kind in kinds],
        "total": sample_total(event, item.code),
        "last": _last_reading(item, kinds),
        "pour": pour,
        "material": material,
        "cautions": material_cautions(material) if material else (),
        "known_form": known_form(record, item),
        "decision_form": bound.get("decision", DecisionForm(auto_id="decide-%s")),
    }


def known_form(record: EventRecord, item: ItemRecord) -> Form:
    """What is known of an item beside its readings, to be changed.

    Parameters
    ----------
    record : EventRecord
    item : ItemRecord
    """
    form = KnownForm(initial=known_of(item), station=item.station, auto_id="known-%s")
    return choose(form, "material", materials_to_choose(record))


def _next_form(record: EventRecord, item: ItemRecord, way: Way, bound: Form | None) -> Form | None:
    """The form of the next reading, ready to be typed into."""
    if way.kind not in FORMS:
        return None
    form_class, _, unit = FORMS[way.kind]
    initial = _as_last(item, way.kind)
    initial |= {"pieces": way.pieces} if way.pieces else {}
    initial |= {"side": way.side.value} if way.side else {}
    form = bound or form_class(initial=initial, auto_id="next-%s")
    empty = [name for name in form.fields if not form[name].value() or form[name].errors]
    if empty:
        form.fields[empty[0]].widget.attrs["autofocus"] = True
    return choose(form, "instrument", instruments(record, unit))


def _as_last(item: ItemRecord, kind: str) -> dict[str, Any]:
    """What is likely the same in the next reading of a kind."""
    last = _rows(item, kind).filter(struck_at=None).last()
    names = {"sample": ("pieces", "instrument"), "edge": ("side", "instrument")}
    kept = names.get(kind, ("instrument",))
    return {name: getattr(last, name) for name in kept if hasattr(last, name)}


def _rows(item: ItemRecord, kind: str) -> Any:
    """Rows of a kind; a weighing of both full and empty stands with the full ones."""
    rows = acts.KINDS[kind].objects.filter(item=item)
    if acts.KINDS[kind] is WeighingRow:
        return rows.filter(gross_g__isnull=kind == "empty")
    return rows


def _group(
    record: EventRecord, item: ItemRecord, kind: str, way: Way, bound: Form | None
) -> dict[str, Any]:
    form_class, title, unit = FORMS[kind]
    rows = list(_rows(item, kind))
    # The next reading is typed at the head of the page; every other kind may be added below.
    fresh = form_class(initial=_as_last(item, kind), auto_id=f"{kind}-%s")
    form = (
        None
        if kind == way.kind
        else choose(bound or fresh, "instrument", instruments(record, unit))
    )
    return {
        "kind": kind,
        "title": title,
        "form": form,
        "rows": rows,
        "n": sum(row.struck_at is None for row in rows),
        "elsewhere": kind == "empty" and _both_at_once(item),
    }


def _both_at_once(item: ItemRecord) -> bool:
    """Whether full and empty were weighed in one row, as an event folder may hold them."""
    both = WeighingRow.objects.filter(item=item, struck_at=None)
    return both.exclude(gross_g=None).exclude(tare_g=None).exists()


def _last_reading(item: ItemRecord, kinds: tuple[str, ...]) -> dict[str, Any] | None:
    """The newest reading that counts, and the slips it may hold."""
    newest: list[tuple[KitRow, str]] = []
    for kind in kinds:
        row = _rows(item, kind).filter(struck_at=None).last()
        if row is not None:
            newest.append((row, kind))
    if not newest:
        return None
    row, kind = max(newest, key=lambda pair: (pair[0].at, pair[0].pk))
    return {"row": row, "kind": kind, "slips": SLIPS[kind]}


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
    form = choose(
        form_class(request.POST, auto_id="next-%s"), "instrument", instruments(record, unit)
    )
    status = 422
    if form.is_valid():
        try:
            row = acts.add_reading(item_id, kind, form.cleaned_data, by=visitor_of(request).name)
        except (InputError, RuleError) as refusal:
            status = add_refusal(form, refusal)
        else:
            return done(request, f"Saved: {row}.", _address(item))
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
    form = DecisionForm(request.POST, auto_id="decide-%s")
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
    outcome = current_results(record)
    pdf = event_certificate_pdf(outcome, outcome.keys[item.code])
    return file_answer(pdf, f"certificate-{item.pk}.pdf")


def kit_item_history(request: HttpRequest, item_id: int) -> HttpResponse:
    """Every change of one item: the key before and after, who, when, why."""
    _, item = _known(item_id)
    context = {"title": f"History of {item.code}", "item": item, "changes": item.changes.all()}
    return show(request, "kit_item_history", context)
