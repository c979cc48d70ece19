"""The purchase list: asked by the address, shown as a page, a table and a PDF."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django import forms
from django.http import HttpRequest, HttpResponse, QueryDict

from nearmark.errors import InputError, NearmarkError
from nearmark.event_folder.guard import guarded
from nearmark.event_folder.writer import csv_text
from nearmark.kit import CatalogueMaterial, Purchase, Scooping, purchase_list
from nearmark.kit.purchase import costs, cups_needed
from nearmark.kit.transport import (
    USUAL_LIMIT_KG,
    USUAL_TARE_KG,
    FilledThing,
    filled_buckets,
    packed_boxes,
)
from nearmark.printing.purchase_list import PurchaseLine, purchase_lines, purchase_list_pdf
from nearmark.site.common.forms import BaseForm, DecimalField, words, written_number
from nearmark.site.common.responses import file_answer, show
from nearmark.site.event.current import required_event
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import EventRecord, MaterialRecord
from nearmark.site.kit.pouring import in_catalogue, kept_pours
from nearmark.station import Station
from nearmark.words.material import box_words, cost_words, cups_words, transport_words

USUAL_PACKAGE_G = Decimal(1000)


class PurchaseForm(BaseForm):
    """What the purchase list is made for."""

    places = forms.IntegerField(label="Places", min_value=1, max_value=500)
    pairs = forms.IntegerField(label="Pairs", min_value=1, max_value=5000)
    heavy = forms.IntegerField(
        label="Pairs that take much, %",
        min_value=0,
        max_value=100,
        required=False,
        help_text="They take twice as much as others.",
    )
    bucket_l = DecimalField(
        label="A bucket holds, L",
        required=False,
        help_text="Empty: the bucket is large enough for the whole day.",
    )
    limit_kg = DecimalField(
        label="A box for the car may weigh, kg",
        required=False,
        help_text=f"What every helper can carry. Empty: {USUAL_LIMIT_KG:g} kg.",
    )
    currency = forms.CharField(label="Currency", max_length=20, required=False)
    kept = forms.BooleanField(
        label="What was scooped does not go back into the bucket", required=False
    )


@dataclass(frozen=True, slots=True)
class Row:
    """One material as the form asks about it."""

    material: CatalogueMaterial
    scooped: bool
    package_g: str
    poured_g: Decimal
    price: str = ""  # of one package, as it was typed; empty: none
    problem: str = ""
    price_problem: str = ""


@dataclass(frozen=True, slots=True)
class Extras:
    """What is bought, numbered and carried beside the materials, in words."""

    cups: str = ""  # empty: the event has no cup to weigh
    cost: str = ""  # empty without a price
    transport: tuple[str, ...] = ()
    boxes: tuple[str, ...] = ()

    @property
    def sentences(self) -> tuple[str, ...]:
        """What is printed: not the boxes, whose masses would tell what a container holds."""
        return tuple(filter(None, (self.cups, self.cost, *self.transport)))


@dataclass(frozen=True, slots=True)
class PurchaseView:
    """The page of the purchase list."""

    title: str
    form: forms.Form
    rows: list[Row]
    lines: tuple[PurchaseLine, ...]
    has_costs: bool
    extras: Extras
    refusal: str
    own: list[MaterialRecord]
    query: str


def purchase(request: HttpRequest) -> HttpResponse:
    """What to buy, with its reasons."""
    record = required_event()
    form, rows = _asked(record, request.GET)
    lines, refusal = _lines(form, rows)
    own = [m for m in record.materials.all() if in_catalogue(m.code) is None]
    shown = purchase_lines(lines, _prices(rows))
    extras = Extras()
    try:
        extras = _extras(record, form, rows, lines) if lines else extras
    except NearmarkError as refused:
        refusal = str(refused)
    view = PurchaseView(
        title="Purchase list",
        form=form,
        rows=rows,
        lines=shown,
        has_costs=any(line.cost for line in shown),
        extras=extras,
        refusal=refusal,
        own=own,
        query=request.GET.urlencode(),
    )
    return show(request, "kit/purchase", view, status=422 if form.errors or refusal else 200)


def _asked(record: EventRecord, asked: QueryDict) -> tuple[forms.Form, list[Row]]:
    """The form and its rows; before anything was asked, what the event itself says."""
    usual = {"places": record.heat_places, "pairs": max(1, record.pairs.count())}
    form = PurchaseForm(asked or usual)
    scooped = asked.getlist("scoop") if asked else _scooped_items(record)
    return form, list(_rows(record, asked, set(scooped)))


def _scooped_items(record: EventRecord) -> list[str]:
    items = record.items.filter(station=Station.MASS.value)
    return list(items.values_list("material", flat=True))


def _rows(record: EventRecord, asked: QueryDict, scooped: set[str]) -> Iterable[Row]:
    poured: dict[str, Decimal] = {}
    for view in kept_pours(record):
        if view.pour is not None:
            code = view.material.code
            poured[code] = poured.get(code, Decimal(0)) + view.pour.mass_g
    codes = [*record.materials.values_list("code", flat=True), *poured]
    for code in dict.fromkeys(codes):
        known = in_catalogue(code)
        if known is not None:
            package = asked.get(f"package-{code}", f"{USUAL_PACKAGE_G}")[:30]
            price = asked.get(f"price-{code}", "").strip()[:30]
            yield Row(
                material=known,
                scooped=code in scooped,
                package_g=package,
                poured_g=poured.get(code, Decimal(0)),
                price=price,
                problem=_trouble(package),
                price_problem=_trouble(price) if price else "",
            )


def _trouble(package: str) -> str:
    try:
        return "" if written_number(package) > 0 else "Must be above zero."
    except InputError as refused:
        return words(refused)


def _lines(form: forms.Form, rows: list[Row]) -> tuple[tuple[Purchase, ...], str]:
    if not form.is_valid() or any(row.problem or row.price_problem for row in rows):
        return (), ""
    wanted = [row for row in rows if row.scooped or row.poured_g]
    if not any(row.scooped for row in rows):
        return (), "Choose at least one material to scoop."
    try:
        lines = purchase_list(
            [row.material for row in rows if row.scooped],
            _scooping(form),
            package_g={row.material.code: float(written_number(row.package_g)) for row in wanted},
            poured=[(row.material, float(row.poured_g)) for row in rows if row.poured_g],
        )
    except NearmarkError as refused:
        return (), str(refused)
    return lines, ""


def _scooping(form: forms.Form) -> Scooping:
    given = form.cleaned_data
    return Scooping(
        given["places"],
        given["pairs"],
        returned=not given["kept"],
        heavy_share=(given["heavy"] or 0) / 100,
        bucket_l=float(given["bucket_l"] or 0),
    )


def _prices(rows: list[Row]) -> dict[str, Decimal]:
    return {
        row.material.code: written_number(row.price)
        for row in rows
        if row.price and not row.price_problem
    }


def _extras(
    record: EventRecord, form: forms.Form, rows: list[Row], lines: tuple[Purchase, ...]
) -> Extras:
    given, prices = form.cleaned_data, _prices(rows)
    scooping = _scooping(form)
    n_items = record.items.filter(station=Station.MASS.value).count()
    limit_kg = float(given["limit_kg"]) if given["limit_kg"] else USUAL_LIMIT_KG
    things = [*filled_buckets(lines, scooping), *_poured_things(record)]
    plan = packed_boxes(things, limit_kg=limit_kg)
    return Extras(
        cups=cups_words(cups_needed(given["pairs"], n_items)) if n_items else "",
        cost=cost_words(costs(lines, prices), given["currency"]) if prices else "",
        transport=transport_words(plan),
        boxes=tuple(map(box_words, plan.boxes)),
    )


def _poured_things(record: EventRecord) -> Iterable[FilledThing]:
    """The containers that are planned, each with its vessel."""
    for view in kept_pours(record):
        if view.pour is not None:
            tare_kg = view.vessel.tare_g / 1000 if view.vessel else USUAL_TARE_KG
            mass_kg = float(view.pour.mass_g) / 1000 + tare_kg
            yield FilledThing(view.row.item.code if view.row else view.material.name, mass_kg)


def _answered(request: HttpRequest) -> tuple[EventRecord, tuple[PurchaseLine, ...], Extras]:
    record = required_event()
    form, rows = _asked(record, request.GET)
    lines, refusal = _lines(form, rows)
    if not lines:
        raise InputError(
            refusal or "needs places, pairs and package sizes",
            where="purchase list",
            mend="Mend the form first",
        )
    shown = purchase_lines(lines, _prices(rows))
    return record, shown, _extras(record, form, rows, lines)


def purchase_csv(request: HttpRequest) -> HttpResponse:
    """The list as a table."""
    _, lines, _ = _answered(request)
    heading = ("material", "needed_g", "packages", "places", "each_place_g", "cost", "cautions")
    cells = [
        (
            guarded(line.name),
            line.needed_g,
            line.packages,
            line.places,
            line.each_place_g,
            line.cost,
            guarded(" ".join(line.cautions)),
        )
        for line in lines
    ]
    content = csv_text(heading, cells).encode("utf-8-sig")
    return file_answer(content, "purchase-list.csv", kind="text/csv; charset=utf-8")


def purchase_pdf(request: HttpRequest) -> HttpResponse:
    """The list to take to the shop."""
    record, lines, extras = _answered(request)
    content = purchase_list_pdf(load_kit(record), lines, extras=extras.sentences)
    return file_answer(content, "purchase-list.pdf")
