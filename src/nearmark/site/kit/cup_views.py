"""The numbered cups: singly or pasted, and whether a batch may share one tare."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django import forms
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from nearmark.contest.cup_tares import CupTares
from nearmark.contest.doubt import Doubt
from nearmark.contest.doubts import not_closed
from nearmark.contest.kit_doubts import kit_doubts
from nearmark.errors import NearmarkError
from nearmark.kit import BatchTare, batch_tare
from nearmark.site.common.forms import BaseForm, Pieces, choose
from nearmark.site.common.responses import done, post_only, show, typed
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import CupRecord, EventRecord
from nearmark.site.kit import thing_actions as acts
from nearmark.site.kit.doubting import doubts_on
from nearmark.site.kit.pasted_cups import pasted_cups
from nearmark.site.kit.thing_views import thing_form
from nearmark.site.kit.views import instruments
from nearmark.station import Station
from nearmark.words.kit_plans import batch_words


class CupsForm(BaseForm):
    """Many cups at once."""

    lines = forms.CharField(
        label="Cups, one a line",
        max_length=20_000,
        widget=forms.Textarea(attrs={"rows": 8, "inputmode": "decimal", "spellcheck": "false"}),
        help_text="Number and grams, such as 12 8.6 - or the grams alone, numbered for you.",
    )
    first = Pieces(label="First number", required=False, help_text="For lines of grams alone.")
    batch = forms.CharField(label="Batch", max_length=40, required=False, help_text="Such as thin.")
    instrument = forms.ChoiceField(label="Scale")


@dataclass(frozen=True, slots=True)
class Batch:
    """Cups of one batch, and what their tares say together."""

    name: str
    n: int
    words: str
    found: BatchTare | None = None
    odd: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class CupsView:
    """The page of the cups."""

    title: str
    cups: QuerySet[CupRecord]
    batches: list[Batch]
    form: forms.Form
    one_form: forms.Form
    asked: Sequence[Doubt]
    typed: Sequence[tuple[str, str]]
    doubts: Sequence[Doubt]


def cups(request: HttpRequest) -> HttpResponse:
    """All cups, batch by batch."""
    return show(request, "kit/cups", _view(required_event()))


def _view(record: EventRecord, form: BaseForm | None = None) -> CupsView:
    event = load_kit(record)
    form = form or CupsForm(auto_id="cups-%s")
    return CupsView(
        title="Cups",
        cups=record.cups.all(),
        batches=list(_batches(record)),
        form=choose(form, "instrument", instruments(record, "g")),
        one_form=thing_form(record, "cup"),
        asked=form.asked,
        typed=typed(form) if form.asked else (),
        doubts=not_closed(event, (d for d in kit_doubts(event) if d.cup)),
    )


def _batches(record: EventRecord) -> Iterable[Batch]:
    """Each batch with what its tares say; three cups are the fewest that can tell."""
    event = load_kit(record)
    tares = CupTares.of(event)
    target_g = float(event.rules.target_mass_g)
    for name, alike in tares.batches.items():
        try:
            scale = tares.scales[alike[0].instrument]
            masses = [float(cup.tare_g) for cup in alike]
            found = batch_tare(
                masses, scale, target_g=target_g, u_limit=event.rules.u_limit_at(Station.MASS)
            )
        except NearmarkError as refused:
            yield Batch(name, len(alike), str(refused))
            continue
        odd = [alike[position - 1].number for position in found.outlying]
        yield Batch(name, len(alike), batch_words(found), found, odd)


@post_only
def cups_paste(request: HttpRequest) -> HttpResponse:
    """Add all pasted cups, or none."""
    record = required_event()
    form = CupsForm(request.POST, auto_id="cups-%s")
    choose(form, "instrument", instruments(record, "g"))
    with doubts_on(form):
        given = form.checked()
        found = pasted_cups(given["lines"], first=given["first"] or _next_number(record))
        n = acts.add_cups(
            found,
            instrument=given["instrument"],
            batch=given["batch"],
            by=visitor_of(request).name,
            kept=request.POST.getlist("doubt"),
        )
        return done(request, f"{n} cups were added.", "cups")
    return show(request, "kit/cups", _view(record, form), status=form.http_status)


def _next_number(record: EventRecord) -> int:
    """The number after the highest one on a cup."""
    numbers = record.cups.values_list("number", flat=True)
    return max((int(n) for n in numbers if n.isdecimal()), default=0) + 1
