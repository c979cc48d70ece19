"""The divisions of an event, edited in its settings; and the division of a pair."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import open_event
from nearmark.site.event_day import division_actions as divisions
from nearmark.site.event_day.event_settings import settings_view
from nearmark.site.event_day.forms import DivisionForm, division_form


@post_only
def division_add(request: HttpRequest) -> HttpResponse:
    """Add a division."""
    record = open_event()
    form = DivisionForm(request.POST, auto_id="new-division-%s")
    with refusals_on(form):
        row = divisions.add_division(**form.checked(), by=visitor_of(request).name)
        return _done(request, f"{row.name} was added.")
    view = settings_view(record, new_division=form)
    return show(request, "event_day/event_change", view, status=form.http_status)


@post_only
def division_change(request: HttpRequest, division_id: int) -> HttpResponse:
    """Change a division."""
    record = open_event()
    row = record.divisions.filter(pk=division_id).first()
    form = division_form(row, request.POST)
    with refusals_on(form):
        by = visitor_of(request).name
        row = divisions.change_division(division_id, **form.checked(), by=by)
        return _done(request, f"{row.name} was changed.")
    view = settings_view(record, changed_divisions={division_id: form})
    return show(request, "event_day/event_change", view, status=form.http_status)


@post_only
def division_up(request: HttpRequest, division_id: int) -> HttpResponse:
    """Move a division before the one above it."""
    name = divisions.move_division_up(division_id, by=visitor_of(request).name)
    return _done(request, f"{name} was moved up.")


@post_only
def division_remove(request: HttpRequest, division_id: int) -> HttpResponse:
    """Remove a division that nothing uses."""
    name = divisions.remove_division(division_id, by=visitor_of(request).name)
    return _done(request, f"{name} was removed.")


def _done(request: HttpRequest, words: str) -> HttpResponse:
    return done(request, words, f"{reverse('event-change')}#divisions")


@post_only
def pair_division(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Give a pair its division."""
    asked = request.POST.get("division", "")
    pair = divisions.set_division(pair_id, asked, by=visitor_of(request).name)
    words = f"{pair.code} is in {pair.division}." if asked else f"{pair.code} has no division."
    return done(request, words, "pair", pair_id)
