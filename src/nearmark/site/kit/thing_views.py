"""Adding, changing and taking away: scales, cups, materials, vessels, what is known of an item."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.doubt import Doubt
from nearmark.errors import InputError
from nearmark.site.common.forms import BaseForm, choose
from nearmark.site.common.lookup import typed_reason
from nearmark.site.common.responses import done, post_only, show, typed
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord
from nearmark.site.kit import thing_actions as acts
from nearmark.site.kit.doubting import doubts_on
from nearmark.site.kit.forms import CupForm, KnownForm, MaterialForm, ScaleForm, known_of
from nearmark.site.kit.views import instruments, materials_to_choose
from nearmark.words.numbers import capital

HUNDRED: Final = Decimal(100)


@dataclass(frozen=True, slots=True)
class ThingForm:
    """How one kind of thing is typed."""

    form: type[BaseForm]
    page: str  # address name of the list it is in
    values: Callable[[dict[str, Any]], dict[str, Any]]  # callable cleaned data -> columns
    initial: Callable[[Any], dict[str, Any]]  # callable row -> what the form shows
    title: str
    fixed: tuple[str, ...]  # fields that name it: other rows refer to them, so they stay


@dataclass(frozen=True, slots=True)
class ThingView:
    """The page of one thing; without a row it is a new one."""

    title: str
    kind: str
    form: BaseForm
    row: Any
    back: str
    asked: Sequence[Doubt]
    typed: Sequence[tuple[str, str]]


def _scale_values(given: dict[str, Any]) -> dict[str, Any]:
    zero_or = {name: float(given[name] or 0) for name in ("gain_u", "linearity_u", "zero_u")}
    capacity = given["capacity"]
    resolution = float(given["resolution"])
    columns = {"resolution": resolution, "capacity": None if capacity is None else float(capacity)}
    return {**_named(given, "name", "unit"), **columns, **zero_or}


def _scale_initial(row: Any) -> dict[str, Any]:
    return {
        "resolution": f"{row.resolution:g}",
        "capacity": "" if row.capacity is None else f"{row.capacity:g}",
        "gain_u": f"{100 * row.gain_u:g}",
        "linearity_u": f"{row.linearity_u:g}",
        "zero_u": f"{row.zero_u:g}",
    }


def _named(given: dict[str, Any], *names: str) -> dict[str, Any]:
    """The fields that a form has; those that name a thing are not asked a second time."""
    return {name: given[name] for name in names if name in given}


def _cup_values(given: dict[str, Any]) -> dict[str, Any]:
    return _named(given, "number", "tare_g", "instrument", "batch")


def _cup_initial(row: Any) -> dict[str, Any]:
    return {"tare_g": row.tare_g, "instrument": row.instrument, "batch": row.batch}


def _material_values(given: dict[str, Any]) -> dict[str, Any]:
    lines = [line.strip() for line in given["cautions"].splitlines() if line.strip()]
    shares = {"piece_cv": given["piece_cv"], "moisture_u": given["moisture_u"] or Decimal(0)}
    return {**_named(given, "code", "name"), **shares, "cautions": lines}


def _material_initial(row: Any) -> dict[str, Any]:
    return {
        "name": row.name,
        "piece_cv": "" if row.piece_cv is None else f"{(HUNDRED * row.piece_cv).normalize():f}",
        "moisture_u": f"{(HUNDRED * row.moisture_u).normalize():f}",
        "cautions": "\n".join(row.cautions),
    }


def _item_values(given: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in given.items() if name != "why"}


FORMS: Final = {
    "scale": ThingForm(
        ScaleForm, "scales", _scale_values, _scale_initial, "Scale or ruler", ("name", "unit")
    ),
    "cup": ThingForm(CupForm, "cups", _cup_values, _cup_initial, "Cup", ("number",)),
    "material": ThingForm(
        MaterialForm, "materials", _material_values, _material_initial, "Material", ("code",)
    ),
    "item": ThingForm(KnownForm, "kit", _item_values, known_of, "Item", ()),
}


def thing_form(record: EventRecord, kind: str, *, row: Any = None, post: Any = None) -> BaseForm:
    """The form of a thing: of its row, or of one to be added; with what was posted."""
    how = FORMS[kind]
    divisions = list(record.divisions.values_list("name", flat=True))
    more = {"station": row.station, "divisions": divisions} if kind == "item" else {}
    initial = how.initial(row) if row is not None else {}
    form = how.form(post, initial=initial, auto_id=f"{kind}-%s", **more)
    for name in how.fixed if row is not None else ("why",):
        form.fields.pop(name, None)
    choose(form, "instrument", instruments(record, "g"))
    return choose(form, "material", materials_to_choose(record))


@post_only
def thing_add(request: HttpRequest, kind: str) -> HttpResponse:
    """Add a thing; a refusal shows its form again."""
    how = _how(kind)
    if kind == "item":
        raise InputError("is added in the kit", where="item")
    record = required_event()
    form = thing_form(record, kind, post=request.POST)
    with doubts_on(form):
        by, kept = visitor_of(request).name, request.POST.getlist("doubt")
        row = acts.add_thing(kind, how.values(form.checked()), by=by, kept=kept)
        return done(request, f"{capital(str(row))} was added.", how.page)
    return show(request, "kit/thing", _view(how, kind, form), status=form.http_status)


def thing(request: HttpRequest, kind: str, row_id: int) -> HttpResponse:
    """Change one thing, with a reason."""
    how, record = _how(kind), required_event()
    row = acts.known_thing(record, kind, row_id)
    form = thing_form(record, kind, row=row, post=request.POST or None)
    if request.method == "POST" and form.is_valid():
        given, kept = form.cleaned_data, request.POST.getlist("doubt")
        with doubts_on(form):
            by = visitor_of(request).name
            acts.change_thing(kind, row_id, how.values(given), by=by, why=given["why"], kept=kept)
            return done(request, f"{capital(str(row))} was changed.", _back(how, kind, row_id))
    return show(request, "kit/thing", _view(how, kind, form, row), status=form.http_status)


@post_only
def thing_remove(request: HttpRequest, kind: str, row_id: int) -> HttpResponse:
    """Take a thing away that nothing needs."""
    page = "pour" if kind == "vessel" else _how(kind).page
    why = typed_reason(request)
    called = acts.remove_thing(kind, row_id, by=visitor_of(request).name, why=why)
    return done(request, f"{capital(called)} was taken away.", page)


def _how(kind: str) -> ThingForm:
    how = FORMS.get(kind)
    if how is None:
        raise InputError("is not known", where="kind of thing", value=kind)
    return how


def _back(how: ThingForm, kind: str, row_id: int) -> str:
    return reverse("kit-item", args=[row_id]) if kind == "item" else reverse(how.page)


def _view(how: ThingForm, kind: str, form: BaseForm, row: Any = None) -> ThingView:
    named = f"{how.title} {row}" if row is not None else how.title
    named = named.replace("Cup cup", "Cup")
    back = reverse(how.page) if kind != "item" or row is None else _back(how, kind, row.pk)
    return ThingView(named, kind, form, row, back, form.asked, typed(form) if form.asked else ())
