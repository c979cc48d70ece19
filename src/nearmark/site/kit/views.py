"""The kit room: every item with its key and what to do next, and who may see keys."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.text import get_text_list

from nearmark.contest.doubts import not_closed
from nearmark.contest.keys import ItemKey, event_keys
from nearmark.contest.kit_doubts import kit_doubts
from nearmark.contest.measuring_steps import MeasuringSteps
from nearmark.contest.next_step import measuring_steps
from nearmark.site.common.forms import BaseForm, choose
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.access import Role
from nearmark.site.door.models import Account
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import EventRecord
from nearmark.site.kit import thing_actions as kit_things
from nearmark.site.kit.forms import ItemForm
from nearmark.station import Station


class KitLine(NamedTuple):
    """An item, and what it needs next."""

    key: ItemKey
    pk: int
    way: MeasuringSteps
    n_doubts: int


@dataclass(frozen=True, slots=True)
class KitView:
    """The page of all items."""

    title: str
    lines: Sequence[KitLine]
    n_settled: int
    has_measured: bool  # whether there is more than cups of a set mass
    first: KitLine | None
    leads: str
    item_form: BaseForm


def kit(request: HttpRequest) -> HttpResponse:
    """All items, and what each needs next."""
    return show(request, "kit/kit", _view())


def instruments(record: EventRecord, unit: str) -> list[tuple[str, str]]:
    """Scales or rulers to choose from, by their ``unit``: ``g`` or ``cm``."""
    names = record.instruments.filter(unit=unit).values_list("name", flat=True)
    return [(name, name) for name in names]


def materials_to_choose(record: EventRecord) -> list[tuple[str, str]]:
    """Materials of the event, and none."""
    return [("", "none"), *record.materials.values_list("code", "name")]


def _view(form: BaseForm | None = None) -> KitView:
    record = required_event()
    event = load_kit(record)
    ids = dict(record.items.values_list("code", "pk"))
    keys = event_keys(event)
    doubts = not_closed(event, kit_doubts(event))
    asked = Counter(doubt.item for doubt in doubts)
    lines = [
        KitLine(key, ids[code], measuring_steps(event, key, doubts=doubts), asked[code])
        for code, key in keys.items()
    ]
    leads = Account.objects.filter(role=Role.LEAD).order_by("pk").values_list("name", flat=True)
    waiting = [
        line for line in lines if line.key.key is None or _is_open(line.key) or line.n_doubts
    ]
    return KitView(
        title="Kit",
        lines=lines,
        n_settled=len(lines) - len(waiting),
        has_measured=any(line.key.item.station is not Station.MASS for line in lines),
        first=waiting[0] if waiting else None,
        leads=get_text_list(list(leads), "and"),
        item_form=choose(form or ItemForm(), "material", materials_to_choose(record)),
    )


def _is_open(key: ItemKey) -> bool:
    return not key.fit and (key.decision is None or key.assigned is None)


@post_only
def kit_item_add(request: HttpRequest) -> HttpResponse:
    """Add an item."""
    form = choose(ItemForm(request.POST), "material", materials_to_choose(required_event()))
    with refusals_on(form):
        item = kit_things.add_thing("item", form.checked(), by=visitor_of(request).name)
        address = reverse("kit-item", args=[item.pk])
        is_target = item.station == Station.MASS.value
        now = "Its target is set by the rule set." if is_target else "Measure it now."
        return done(request, f"{item.code} was added. {now}", address)
    return show(request, "kit/kit", _view(form), status=form.http_status)
