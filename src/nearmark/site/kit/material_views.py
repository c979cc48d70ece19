"""The materials of the event, and the catalogue to take more from."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from django.db.models import QuerySet
from django.forms import Form
from django.http import HttpRequest, HttpResponse

from nearmark.errors import InputError
from nearmark.kit import CatalogueMaterial, Load, cautions, materials
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord, ItemRecord, MaterialRecord
from nearmark.site.kit import thing_actions as acts
from nearmark.site.kit.pouring import (
    in_catalogue,
    kept_pours,
    material_cautions,
    material_near,
    said_once,
)
from nearmark.site.kit.thing_views import thing_form

MAX_QUERY_LENGTH: Final = 60


@dataclass(frozen=True, slots=True)
class UsedMaterial:
    """A material of the event, where it is, and what to be careful of."""

    row: MaterialRecord
    items: QuerySet[ItemRecord]
    cautions: Sequence[str]
    near: str  # which codes of the catalogue it may be; empty for one of the catalogue


@dataclass(frozen=True, slots=True)
class MaterialsView:
    """The page of the materials; what was found in the catalogue says whether it is used."""

    title: str
    materials: list[UsedMaterial]
    wanted: str
    found: list[tuple[CatalogueMaterial, Sequence[str], bool]]
    n_all: int
    form: Form


@dataclass(frozen=True, slots=True)
class CautionsView:
    """The page of all cautions; a load is ``None`` where its plan has none."""

    title: str
    materials: list[UsedMaterial]
    loads: list[tuple[ItemRecord, Load | None]]


def materials_page(request: HttpRequest) -> HttpResponse:
    """What the event uses, and what could be taken from the catalogue."""
    record = required_event()
    wanted = request.GET.get("q", "")[:MAX_QUERY_LENGTH].strip()
    used = set(record.materials.values_list("code", flat=True))
    view = MaterialsView(
        title="Materials",
        materials=[_used(record, row) for row in record.materials.all()],
        wanted=wanted,
        found=[(each, said_once(cautions(each)), each.code in used) for each in _found(wanted)],
        n_all=len(materials()),
        form=thing_form(record, "material"),
    )
    return show(request, "kit/materials", view)


def _used(record: EventRecord, row: MaterialRecord) -> UsedMaterial:
    items = record.items.filter(material=row.code)
    return UsedMaterial(row, items, material_cautions(row), material_near(row))


def _found(wanted: str) -> list[CatalogueMaterial]:
    """Materials with all words of the question in name, code, shape or tags."""
    words = wanted.casefold().split()
    return [each for each in materials() if all(word in _searched(each) for word in words)]


def _searched(each: CatalogueMaterial) -> str:
    parts = (each.code, each.name, each.shape, *each.tags, *each.allergens)
    return " ".join(parts).casefold()


@post_only
def material_take(request: HttpRequest) -> HttpResponse:
    """Take a material of the catalogue into the event."""
    code = request.POST.get("code", "")
    known = in_catalogue(code)
    if known is None:
        raise InputError("is not in the catalogue", where="material", value=code[:MAX_QUERY_LENGTH])
    spread = Decimal(repr(known.spread.value)) if known.spread.is_published else None
    values: dict[str, Any] = {
        "code": known.code,
        "name": known.name,
        "piece_cv": spread,
        "moisture_u": Decimal(0),
        "cautions": [],
    }
    acts.add_thing("material", values, by=visitor_of(request).name)
    return done(request, f"{known.name} was added to the event.", "materials")


def cautions_page(request: HttpRequest) -> HttpResponse:
    """Everything to be careful of, to read and to print."""
    record = required_event()
    pours = {view.row.item_id: view for view in kept_pours(record) if view.row is not None}
    loads = [(item, pours[item.pk].load) for item in record.items.all() if item.pk in pours]
    used = [_used(record, row) for row in record.materials.all()]
    return show(request, "kit/cautions", CautionsView("Cautions", used, loads))
