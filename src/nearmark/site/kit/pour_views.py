"""The pour planner: grams for a count somebody wants, or for one drawn by lot."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.kit import BANDS, Prediction, materials
from nearmark.site.common.forms import BaseForm, DecimalField, Pieces, choose
from nearmark.site.common.lookup import typed_reason
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord
from nearmark.site.jobs import actions as job_acts
from nearmark.site.jobs.kinds import TRIAL
from nearmark.site.jobs.models import Job
from nearmark.site.kit import pour_actions as pours
from nearmark.site.kit import thing_actions as kit_things
from nearmark.site.kit.models import VesselRecord
from nearmark.site.kit.pouring import (
    PourView,
    brim_count,
    kept_pours,
    known_vessels,
    planned_into,
    vessel_sizes,
    view_of_given,
)
from nearmark.station import Station

SHAPES = (
    ("cylinder", "cylinder: inner diameter, height"),
    ("box", "box: inner length, width, height"),
    ("taper", "tapered: bottom diameter, top diameter, height"),
)
BAND_WORDS = [(name, f"{name}: {low} to {high}") for name, (low, high) in BANDS.items()]
MAX_PIECES = 1_000_000
CHOSEN = "chosen"


class VesselForm(BaseForm):
    """A container of one's own."""

    code = forms.CharField(label="Short code", max_length=40)
    name = forms.CharField(label="What it is", max_length=100)
    shape = forms.ChoiceField(label="Shape", choices=SHAPES)
    first_cm = DecimalField(label="First size, cm")
    second_cm = DecimalField(label="Second size, cm")
    third_cm = DecimalField(label="Third size, cm", required=False, help_text="Not for a cylinder.")
    tare_g = DecimalField(label="Empty, g")


class PourForm(BaseForm):
    """What to fill a container with."""

    item = forms.ChoiceField(label="For")
    material = forms.ChoiceField(label="Material")
    vessel = forms.ChoiceField(label="Into", required=False)
    band = forms.ChoiceField(
        label="How many",
        choices=[
            *((name, f"by lot, {words_}") for name, words_ in BAND_WORDS),
            (CHOSEN, "a count I choose"),
        ],
    )
    pieces = Pieces(label="The count", required=False, help_text="Empty when drawn by lot.")
    piece_mass_g = DecimalField(
        label="One piece of your own lot, g",
        required=False,
        help_text="Weigh 100 counted pieces and divide by 100; empty: the catalogue's.",
    )

    def clean_pieces(self) -> Any:
        """Within what anybody pours."""
        pieces = self.cleaned_data["pieces"]
        if pieces is not None and pieces > MAX_PIECES:
            raise ValidationError(f"At most {MAX_PIECES} pieces.")
        return pieces

    def clean(self) -> dict[str, Any]:
        """A count, or a band to draw one from."""
        given = super().clean() or {}
        is_missing = given.get("pieces") is None and "pieces" not in self.errors
        if given.get("band") == CHOSEN and is_missing:
            self.add_error("pieces", "Give the count, or choose a band to draw it from.")
        return given


@dataclass(frozen=True, slots=True)
class Preview:
    """What a plan gives before it is drawn or kept: one count, or the ends of a band."""

    views: Sequence[PourView] = ()
    brim: Prediction | None = None

    @property
    def by_lot(self) -> bool:
        """Whether the count is drawn."""
        return len(self.views) > 1

    @property
    def head(self) -> str:
        """How many grams."""
        grams = [f"{view.pour.mass_g:f}" if view.pour else "" for view in self.views]
        if not grams[0]:
            return "It cannot be poured like this"
        if not self.by_lot:
            return f"Pour {grams[0]} g"
        return f"Between {grams[0]} and {grams[1]} g" if grams[1] else f"{grams[0]} g or more"


@dataclass(frozen=True, slots=True)
class PlannerView:
    """The page of the pour planner."""

    title: str
    form: BaseForm
    kept: Sequence[PourView]
    trials: Sequence[tuple[PourView, Job]]
    own_vessels: QuerySet[VesselRecord]
    has_containers: bool
    vessel_form: BaseForm
    preview: Preview


def pour(request: HttpRequest) -> HttpResponse:
    """What to pour: asked by the address, so that asking keeps nothing."""
    record = required_event()
    asked = bool(request.GET.get("material"))
    form = _choices(PourForm(request.GET if asked else None, initial=_usual(record)), record)
    preview = _preview(record, form) if asked and form.is_valid() else None
    return show(request, "kit/pour", _view(record, form, preview=preview))


def _usual(record: EventRecord) -> dict[str, str]:
    """The first container without a plan."""
    planned = {view.row.item_id for view in kept_pours(record) if view.row is not None}
    waiting = record.items.filter(station=Station.COUNT.value).exclude(pk__in=planned).first()
    if waiting is None:
        return {"band": "medium"}
    return {"item": waiting.code, "material": waiting.material, "band": "medium"}


def _choices(form: BaseForm, record: EventRecord) -> BaseForm:
    items = record.items.filter(station=Station.COUNT.value)
    choose(form, "item", [(i.code, f"{i.code} {i.name}") for i in items])
    choose(form, "material", [(each.code, each.name) for each in materials()])
    sizes = known_vessels(record).values()
    return choose(form, "vessel", [("", "any container"), *((v.code, v.name) for v in sizes)])


def _preview(record: EventRecord, form: BaseForm) -> Preview:
    given = form.cleaned_data
    ends = BANDS.get(given["band"]) or (given["pieces"],)
    views = [view_of_given(record, pieces, given) for pieces in ends]
    vessel = views[0].vessel
    brim = (
        brim_count(given["material"], vessel, piece_mass_g=given["piece_mass_g"])
        if vessel
        else None
    )
    return Preview(views, brim)


def _view(
    record: EventRecord,
    form: BaseForm,
    *,
    preview: Preview | None = None,
    vessel_form: BaseForm | None = None,
) -> PlannerView:
    kept = kept_pours(record)
    return PlannerView(
        title="Pour planner",
        form=form,
        kept=kept,
        trials=_trials(record, kept),
        own_vessels=record.vessels.all(),
        has_containers=record.items.filter(station=Station.COUNT.value).exists(),
        vessel_form=vessel_form or VesselForm(auto_id="vessel-%s"),
        preview=preview or Preview(),
    )


def _trials(record: EventRecord, kept: list[PourView]) -> list[tuple[PourView, Job]]:
    """The newest trial of each plan that has one."""
    plans = {view.row.pk: view for view in kept if view.row is not None}
    jobs = Job.objects.filter(event=record, kind=TRIAL, size__in=plans).order_by("pk")
    newest = {job.size: job for job in jobs}
    return [(view, newest[pk]) for pk, view in plans.items() if pk in newest]


@post_only
def pour_try(request: HttpRequest, row_id: int) -> HttpResponse:
    """Pour a plan on the computer, in the background."""
    planned_into(row_id)
    job_acts.ask(TRIAL, row_id, by=visitor_of(request).name)
    return done(request, "It is being poured on the computer.", reverse("pour") + "#jobs")


@post_only
def pour_keep(request: HttpRequest) -> HttpResponse:
    """Draw if it goes by lot, and keep the plan."""
    record = required_event()
    form = _choices(PourForm(request.POST), record)
    with refusals_on(form):
        row = pours.keep_pour(form.checked(), by=visitor_of(request).name)
        return done(request, f"{row.item.code}: {row}.", reverse("pour") + "#kept")
    return show(request, "kit/pour", _view(record, form), status=form.http_status)


@post_only
def pour_strike(request: HttpRequest, row_id: int) -> HttpResponse:
    """Give a plan up."""
    why = typed_reason(request)
    pours.strike_pour(row_id, by=visitor_of(request).name, why=why)
    return done(request, "The plan was given up; it stays in the history.", "pour")


@post_only
def vessel_add(request: HttpRequest) -> HttpResponse:
    """Add a container of one's own."""
    record = required_event()
    form = VesselForm(request.POST, auto_id="vessel-%s")
    with refusals_on(form):
        given = form.checked()
        sizes = vessel_sizes(
            given["shape"], (given["first_cm"], given["second_cm"], given["third_cm"])
        )
        values = {name: given[name] for name in ("code", "name", "shape")}
        values |= {"sizes_cm": sizes, "tare_g": float(given["tare_g"])}
        kit_things.add_thing("vessel", values, by=visitor_of(request).name)
        return done(request, f"{given['name']} was added.", "pour")
    fresh = _choices(PourForm(initial=_usual(record)), record)
    view = _view(record, fresh, vessel_form=form)
    return show(request, "kit/pour", view, status=form.http_status)
