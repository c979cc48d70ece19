"""The kit room: every item with its key, scales and rulers, cups."""

from typing import Any

from django.forms import ChoiceField, Form
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.keys import event_keys
from nearmark.contest.rules import Station
from nearmark.errors import InputError, RuleError
from nearmark.measurement.instruments import Instrument
from nearmark.site.acts import kit as acts
from nearmark.site.event_store import current_event, load_event
from nearmark.site.forms import CupForm, InstrumentForm, ItemForm
from nearmark.site.models import EventRecord
from nearmark.site.pages.asking import add_refusal, done, post_only, show
from nearmark.site.visitor import visitor_of


def kit(request: HttpRequest) -> HttpResponse:
    """All items and what they are measured with."""
    return show(request, "kit", _context())


def choose(form: Form, record: EventRecord, unit: str) -> Form:
    """Let a form choose among the event's scales or rulers.

    Parameters
    ----------
    form : Form
        With a field ``instrument``, or without.
    record : EventRecord
    unit : str
        ``g`` or ``cm``.
    """
    field = form.fields.get("instrument")
    if isinstance(field, ChoiceField):
        field.choices = [(i.name, i.name) for i in record.instruments.filter(unit=unit)]
    return form


def _event() -> EventRecord:
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="Set one up first")
    return record


def _context(**forms: Form) -> dict[str, Any]:
    record = _event()
    ids = dict(record.items.values_list("code", "pk"))
    keys = [(key, ids[code]) for code, key in event_keys(load_event(record)).items()]
    return {
        "title": "Kit",
        "keys": keys,
        "instruments": record.instruments.all(),
        "cups": record.cups.all(),
        "item_form": ItemForm(),
        "instrument_form": InstrumentForm(),
        "cup_form": choose(CupForm(), record, "g"),
        **forms,
    }


@post_only
def kit_item_add(request: HttpRequest) -> HttpResponse:
    """Add an item."""
    form = ItemForm(request.POST)
    status = 422
    if form.is_valid():
        given = form.cleaned_data
        try:
            item = acts.add_item(
                given["code"],
                Station(given["station"]),
                given["name"],
                "",
                by=visitor_of(request).name,
            )
        except (InputError, RuleError) as refusal:
            status = add_refusal(form, refusal)
        else:
            address = reverse("kit-item", args=[item.pk])
            return done(request, f"{item.code} is there: measure it now.", address)
    return show(request, "kit", _context(item_form=form), status=status)


@post_only
def kit_instrument_add(request: HttpRequest) -> HttpResponse:
    """Add a scale or a ruler."""
    form = InstrumentForm(request.POST)
    status = 422
    if form.is_valid():
        given = form.cleaned_data
        try:
            instrument = Instrument(given["name"], given["unit"], float(given["resolution"]))
            acts.add_instrument(instrument, by=visitor_of(request).name)
        except (InputError, RuleError) as refusal:
            status = add_refusal(form, refusal)
        else:
            return done(request, f"{instrument.name} was added.", reverse("kit"))
    return show(request, "kit", _context(instrument_form=form), status=status)


@post_only
def kit_cup_add(request: HttpRequest) -> HttpResponse:
    """Add a cup."""
    form = choose(CupForm(request.POST), _event(), "g")
    status = 422
    if form.is_valid():
        given = form.cleaned_data
        try:
            acts.add_cup(
                given["number"], given["tare_g"], given["instrument"], by=visitor_of(request).name
            )
        except (InputError, RuleError) as refusal:
            status = add_refusal(form, refusal)
        else:
            return done(request, f"Cup {given['number']} was added.", reverse("kit"))
    return show(request, "kit", _context(cup_form=form), status=status)
