"""The things of a club: what it practises with, how each number came about, and put it right.

True values stand on these pages, so they are not for the pupils' eyes.
"""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from nearmark.errors import RuleError
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord
from nearmark.site.season import thing_actions as acts
from nearmark.site.season.models import Club, Thing, ThingChange
from nearmark.site.season.thing_forms import NUMBERS, CorrectionForm, ThingForm
from nearmark.site.season.views import club_of
from nearmark.station import UNITS, Station


@dataclass(frozen=True, slots=True)
class ThingsView:
    """What a club practises with."""

    title: str
    club: Club
    form: ThingForm
    things: list[Thing]
    put_away: list[Thing]
    takes_keys: bool  # whether the keys of an event may be taken over here


@dataclass(frozen=True, slots=True)
class ChangedNumber:
    """One number of a correction, before and after."""

    label: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class CorrectionLine:
    """One line of the history of a thing."""

    change: ThingChange
    numbers: list[ChangedNumber]


@dataclass(frozen=True, slots=True)
class ThingView:
    """One thing, the form that corrects it, and its history."""

    title: str
    club: Club
    thing: Thing
    unit: str
    form: CorrectionForm
    n_attempts: int
    history: list[CorrectionLine]


@dataclass(frozen=True, slots=True)
class KeysView:
    """The keys of an event that a club may take over."""

    title: str
    club: Club
    event: EventRecord
    keys: list[Thing]


def things(request: HttpRequest, club_id: int) -> HttpResponse:
    """What a club practises with."""
    return show(request, "season/things", _things_view(request, club_of(club_id), ThingForm()))


def _things_view(request: HttpRequest, record: Club, form: ThingForm) -> ThingsView:
    rows = list(record.things.all())
    return ThingsView(
        title="Things to practise with",
        club=record,
        form=form,
        things=[thing for thing in rows if thing.retired_at is None],
        put_away=[thing for thing in rows if thing.retired_at is not None],
        takes_keys=_takes_keys(request, current_event()),
    )


@post_only
def thing_add(request: HttpRequest, club_id: int) -> HttpResponse:
    """Add a thing."""
    record, form = club_of(club_id), ThingForm(request.POST)
    with refusals_on(form):
        named = {name: form.checked()[name] for name in ("station", "name", "size")}
        thing = Thing(club=record, **named, **form.values)
        thing = acts.add_thing(thing, by=visitor_of(request).name)
        return done(request, f"{thing.name} is there.", "season-things", record.pk)
    view = _things_view(request, record, form)
    return show(request, "season/things", view, status=form.http_status)


@post_only
def thing_retire(request: HttpRequest, thing_id: int) -> HttpResponse:
    """Put a thing away, or take it out again."""
    thing = _thing(thing_id)
    acts.retire_thing(thing, by=visitor_of(request).name)
    return done(request, "Saved.", "season-things", thing.club_id)


def thing(request: HttpRequest, thing_id: int) -> HttpResponse:
    """One thing: its numbers, to be put right with a reason, and what was corrected before."""
    found = _thing(thing_id)
    station = Station(found.station)
    if request.method != "POST":
        written = {name: _written(getattr(found, name), "") for name in NUMBERS}
        form = CorrectionForm(station, initial=written)
        return show(request, "season/thing", _thing_view(found, form))
    form = CorrectionForm(station, request.POST)
    with refusals_on(form):
        why = form.checked()["why"]
        acts.correct_thing(found, form.values, why=why, by=visitor_of(request).name)
        return done(request, "Corrected.", "season-thing", found.pk)
    return show(request, "season/thing", _thing_view(found, form), status=form.http_status)


def _thing_view(found: Thing, form: CorrectionForm) -> ThingView:
    labels = {name: str(field.label) for name, field in ThingForm.base_fields.items()}
    return ThingView(
        title=found.name,
        club=found.club,
        thing=found,
        unit=UNITS[Station(found.station)],
        form=form,
        n_attempts=acts.n_logged(found),
        history=[
            CorrectionLine(
                change,
                [
                    ChangedNumber(labels[name], _written(old), _written(change.new[name]))
                    for name, old in change.old.items()
                ],
            )
            for change in found.corrections.all()
        ],
    )


def _written(value: float | None, unknown: str = "not known") -> str:
    return unknown if value is None else f"{value:.10g}"


def _thing(thing_id: int) -> Thing:
    return get_object_or_404(Thing.objects.select_related("club"), pk=thing_id)


def keys(request: HttpRequest, club_id: int) -> HttpResponse:
    """The keys of the event, to be taken over one by one."""
    record, event = club_of(club_id), _event_with_keys(request)
    if request.method == "POST":
        made = acts.take_key(
            record, event, request.POST.get("key", ""), by=visitor_of(request).name
        )
        return done(request, f"{made.name} is there, with its key.", "season-things", record.pk)
    view = KeysView("Take a key from the kit", record, event, acts.keys_to_take(record, event))
    return show(request, "season/keys", view)


def _event_with_keys(request: HttpRequest) -> EventRecord:
    event = current_event()
    if event is None or not _takes_keys(request, event):
        raise RuleError(
            "the keys of the event are not open to you",
            mend="Ask the lead, or wait until the results are out",
        )
    return event


def _takes_keys(request: HttpRequest, event: EventRecord | None) -> bool:
    """The lead knows the keys; a coach may take them when the results are out."""
    if event is None:
        return False
    return visitor_of(request).is_lead or event.released_at is not None
