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
from nearmark.printing.purchase_list import PurchaseLine, purchase_lines, purchase_list_pdf
from nearmark.site.common.forms import BaseForm, words, written_number
from nearmark.site.common.responses import file_answer, show
from nearmark.site.event.current import required_event
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import EventRecord, MaterialRecord
from nearmark.site.kit.pouring import in_catalogue, kept_pours
from nearmark.station import Station

USUAL_PACKAGE_G = Decimal(1000)


class PurchaseForm(BaseForm):
    """What the purchase list is made for."""

    places = forms.IntegerField(label="Places", min_value=1, max_value=500)
    pairs = forms.IntegerField(label="Pairs", min_value=1, max_value=5000)
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
    problem: str = ""


@dataclass(frozen=True, slots=True)
class PurchaseView:
    """The page of the purchase list."""

    title: str
    form: forms.Form
    rows: list[Row]
    lines: tuple[PurchaseLine, ...]
    refusal: str
    own: list[MaterialRecord]
    query: str


def purchase(request: HttpRequest) -> HttpResponse:
    """What to buy, with its reasons."""
    record = required_event()
    form, rows = _asked(record, request.GET)
    lines, refusal = _lines(form, rows)
    own = [m for m in record.materials.all() if in_catalogue(m.code) is None]
    view = PurchaseView(
        title="Purchase list",
        form=form,
        rows=rows,
        lines=purchase_lines(lines),
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
            trouble = _trouble(package)
            yield Row(known, code in scooped, package, poured.get(code, Decimal(0)), trouble)


def _trouble(package: str) -> str:
    try:
        return "" if written_number(package) > 0 else "Must be above zero."
    except InputError as refused:
        return words(refused)


def _lines(form: forms.Form, rows: list[Row]) -> tuple[tuple[Purchase, ...], str]:
    if not form.is_valid() or any(row.problem for row in rows):
        return (), ""
    given = form.cleaned_data
    wanted = [row for row in rows if row.scooped or row.poured_g]
    if not any(row.scooped for row in rows):
        return (), "Choose at least one material to scoop."
    try:
        lines = purchase_list(
            [row.material for row in rows if row.scooped],
            Scooping(given["places"], given["pairs"], returned=not given["kept"]),
            package_g={row.material.code: float(written_number(row.package_g)) for row in wanted},
            poured=[(row.material, float(row.poured_g)) for row in rows if row.poured_g],
        )
    except NearmarkError as refused:
        return (), str(refused)
    return lines, ""


def _answered(request: HttpRequest) -> tuple[EventRecord, tuple[PurchaseLine, ...]]:
    record = required_event()
    form, rows = _asked(record, request.GET)
    lines, refusal = _lines(form, rows)
    if not lines:
        raise InputError(
            refusal or "needs places, pairs and package sizes",
            where="purchase list",
            mend="Mend the form first",
        )
    return record, purchase_lines(lines)


def purchase_csv(request: HttpRequest) -> HttpResponse:
    """The list as a table."""
    _, lines = _answered(request)
    heading = ("material", "needed_g", "packages", "places", "each_place_g", "cautions")
    cells = [
        (
            guarded(line.name),
            line.needed_g,
            line.packages,
            line.places,
            line.each_place_g,
            guarded(" ".join(line.cautions)),
        )
        for line in lines
    ]
    content = csv_text(heading, cells).encode("utf-8-sig")
    return file_answer(content, "purchase-list.csv", kind="text/csv; charset=utf-8")


def purchase_pdf(request: HttpRequest) -> HttpResponse:
    """The list to take to the shop."""
    record, lines = _answered(request)
    return file_answer(purchase_list_pdf(load_kit(record), lines), "purchase-list.pdf")
