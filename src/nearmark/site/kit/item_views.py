"""One item of the kit: what to do next, its readings, and the certificate beside them."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any, Final

from django.forms import Form
from django.http import HttpRequest, HttpResponse

from nearmark.charts import budget_bar_svg
from nearmark.contest.asked import without_asked
from nearmark.contest.doubt import Doubt, DoubtKind, doubt_id
from nearmark.contest.doubts import not_closed
from nearmark.contest.keys import ItemKey, event_keys
from nearmark.contest.kit_doubts import kit_doubts
from nearmark.contest.measuring_steps import MeasuringSteps
from nearmark.contest.next_step import measuring_steps, sample_total
from nearmark.contest.rules import Station
from nearmark.printing import event_certificate_pdf
from nearmark.site.common.responses import file_answer, show, typed
from nearmark.site.event.current import required_event
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import EventRecord, ItemRecord
from nearmark.site.event.reading_models import KitRow, WeighingRow
from nearmark.site.event.results_cache import current_results
from nearmark.site.kit import actions as acts
from nearmark.site.kit.forms import (
    DecisionForm,
    EdgeForm,
    EmptyForm,
    FacesForm,
    FullForm,
    HandCountForm,
    KnownForm,
    SampleForm,
    choose,
    known_of,
)
from nearmark.site.kit.models import PourRow
from nearmark.site.kit.pouring import material_cautions
from nearmark.site.kit.views import instruments, materials_to_choose

FORMS: Final[dict[str, tuple[type[Form], str, str]]] = {
    "empty": (EmptyForm, "The empty container", "g"),
    "sample": (SampleForm, "Counted samples", "g"),
    "full": (FullForm, "The full container", "g"),
    "hand-count": (HandCountForm, "Counts by hand", ""),
    "edge": (EdgeForm, "Readings of the edges", "cm"),
    "faces": (FacesForm, "Inside or outside", ""),
}
"""Kind of reading -> form, title, unit of its instrument."""

_AS_DOUBTED: Final = {
    "empty": DoubtKind.CONTAINER,
    "sample": DoubtKind.SAMPLE,
    "full": DoubtKind.CONTAINER,
    "hand-count": DoubtKind.HAND_COUNT,
    "edge": DoubtKind.EDGE,
}

KINDS_OF: Final = {
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
    record, item = known(item_id)
    chosen = request.GET.get("read", "")
    kind = chosen if chosen in KINDS_OF[Station(item.station)] else ""
    return show(request, "kit/item", item_page(record, item, kind=kind, after=request.GET))


def known(item_id: int) -> tuple[EventRecord, ItemRecord]:
    """The event and one of its items."""
    record = required_event()
    return record, acts.known_item(record, item_id)


def item_page(  # noqa: PLR0913 - all by name but the first two
    record: EventRecord,
    item: ItemRecord,
    *,
    kind: str = "",
    form: Form | None = None,
    asked: Sequence[Doubt] = (),
    decision: Form | None = None,
    after: Mapping[str, Any] = MappingProxyType({}),
) -> dict[str, Any]:
    """All that the page of an item shows.

    Parameters
    ----------
    kind : str
        What is typed at the head of the page; empty: the next step.
    form : Form or None
        Of that kind, as typed.
    asked : Doubt, shape (n,)
        About what was typed, or about the decision.
    decision : Form or None
        As typed.
    after : mapping of what stands in the address
    """
    event = load_kit(record)
    key = event_keys(event)[item.code]
    own = [doubt for doubt in kit_doubts(event) if doubt.item == item.code]
    doubts = not_closed(event, own)
    pour = PourRow.objects.filter(item=item, struck_at=None).first()
    way = measuring_steps(event, key, expected_pieces=pour.pieces if pour else None, doubts=doubts)
    # The form never changes under the hands: from samples to the full container one goes on.
    goes_on = not kind and after.get("after") == "sample" and way.kind == "full"
    kind = "" if goes_on else kind or way.kind
    kinds = KINDS_OF[Station(item.station)]
    material = record.materials.filter(code=item.material).first()
    groups = [_group(record, item, group, kind, doubts) for group in kinds]
    odd = [row for group in groups for row in group["rows"] if row["doubt"]]
    told = {row["doubt"].id for row in odd}
    return {
        "title": f"{item.code}: {item.name}",
        "item": item,
        "key": key,
        "assigned": without_asked(key.assigned, own) if key.assigned else None,
        "bar": _bar(key),
        "components": _components(key),
        # While steps are open, what is missing stands at the head already.
        "is_on_the_way": key.key is None and any(not step.is_done for step in way.steps),
        "way": way,
        "goes_on": goes_on,
        "kind": kind,
        "kind_title": "" if kind == way.kind else FORMS[kind][1] if kind else "",
        "next_form": _next_form(record, item, way, kind, form),
        "again": _again(item) if kind == "sample" else None,
        "asked": asked,
        "typed": typed(form) if asked and form else (),
        "kinds": kinds,
        "groups": groups,
        "total": sample_total(event, item.code),
        "last": None if odd else _last_reading(item, kinds),
        "odd": odd,
        "other_doubts": [doubt for doubt in doubts if doubt.id not in told],
        "pour": pour,
        "material": material,
        "cautions": material_cautions(material) if material else (),
        "known_form": known_form(record, item),
        "decision_form": decision or DecisionForm(auto_id="decide-%s"),
        "asked_decision": asked if decision else (),
        "typed_decision": typed(decision) if asked and decision else (),
    }


def _again(item: ItemRecord) -> int | None:
    """Pieces of the last sample of this item: offered, never filled in."""
    last = _rows(item, "sample").filter(struck_at=None).last()
    return last.pieces if last else None


def known_form(record: EventRecord, item: ItemRecord) -> Form:
    """What is known of an item beside its readings, to be changed."""
    form = KnownForm(initial=known_of(item), station=item.station, auto_id="known-%s")
    return choose(form, "material", materials_to_choose(record))


def _next_form(
    record: EventRecord, item: ItemRecord, way: MeasuringSteps, kind: str, bound: Form | None
) -> Form | None:
    """The form of the next reading, ready to be typed into."""
    if kind not in FORMS:
        return None
    form_class, _, unit = FORMS[kind]
    initial = _as_last(item, kind)
    initial |= {"side": way.side.value} if way.side else {}
    form = bound or form_class(initial=initial, auto_id="next-%s")
    empty = [name for name in form.fields if not form[name].value() or form[name].errors]
    if empty:
        form.fields[empty[0]].widget.attrs["autofocus"] = True
    return choose(form, "instrument", instruments(record, unit))


def _as_last(item: ItemRecord, kind: str) -> dict[str, Any]:
    """What is likely the same in the next reading of a kind; never a number one has to know."""
    if kind == "faces":
        return {}
    last = _rows(item, kind).filter(struck_at=None).last()
    kept = ("side", "instrument") if kind == "edge" else ("instrument",)
    return {name: getattr(last, name) for name in kept if hasattr(last, name)}


def _rows(item: ItemRecord, kind: str) -> Any:
    """Rows of a kind; a weighing of both full and empty stands with the full ones."""
    rows = acts.KINDS[kind].objects.filter(item=item)
    if acts.KINDS[kind] is WeighingRow:
        return rows.filter(gross_g__isnull=kind == "empty")
    return rows


def _group(
    record: EventRecord, item: ItemRecord, kind: str, at_head: str, doubts: Sequence[Doubt]
) -> dict[str, Any]:
    form_class, title, unit = FORMS[kind]
    rows = list(_rows(item, kind))
    by_id = {doubt.id: doubt for doubt in doubts}
    # The next reading is typed at the head of the page; every other kind may be added below.
    fresh = form_class(initial=_as_last(item, kind), auto_id=f"{kind}-%s")
    return {
        "kind": kind,
        "title": title,
        "form": None if kind == at_head else choose(fresh, "instrument", instruments(record, unit)),
        "rows": [
            {"row": row, "kind": kind, "doubt": _doubt_of(row, kind, by_id), "slips": SLIPS[kind]}
            for row in rows
        ],
        "n": sum(row.struck_at is None for row in rows),
        "elsewhere": kind == "empty" and _both_at_once(item),
    }


def _doubt_of(row: KitRow, kind: str, by_id: Mapping[str, Doubt]) -> Doubt | None:
    """The doubt about one reading that counts."""
    if row.struck_at is not None:
        return None
    if kind == "hand-count":
        ends = f":{row.pieces}"  # type: ignore[attr-defined]
        counts = f"{DoubtKind.HAND_COUNT.value}:"
        return next(
            (d for i, d in by_id.items() if i.startswith(counts) and i.endswith(ends)), None
        )
    columns = {
        "sample": [("pieces", "mass_g")],
        "edge": [("side", "reading_cm")],
    }.get(kind, [("gross_g",), ("tare_g",)])
    ids = [
        doubt_id(_AS_DOUBTED[kind], row.item.code, *(getattr(row, name) for name in names))
        for names in columns
    ]
    return next((by_id[id_] for id_ in ids if id_ in by_id), None)


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


def kit_certificate(request: HttpRequest, item_id: int) -> HttpResponse:
    """The certificate of one item as PDF."""
    del request
    record, item = known(item_id)
    outcome = current_results(record)
    pdf = event_certificate_pdf(outcome, outcome.keys[item.code])
    return file_answer(pdf, f"certificate-{item.pk}.pdf")


def kit_item_history(request: HttpRequest, item_id: int) -> HttpResponse:
    """Every change of one item: the key before and after, who, when, why."""
    _, item = known(item_id)
    context = {"title": f"History of {item.code}", "item": item, "changes": item.changes.all()}
    return show(request, "kit/item_history", context)
