"""Scales and rulers, with what their data sheets say."""

from dataclasses import dataclass

from django.db.models import QuerySet
from django.forms import Form
from django.http import HttpRequest, HttpResponse

from nearmark.site.common.responses import show
from nearmark.site.event.current import required_event
from nearmark.site.event.models import InstrumentRecord
from nearmark.site.kit.thing_views import thing_form


@dataclass(frozen=True, slots=True)
class ScalesView:
    """The page of the scales and rulers."""

    title: str
    instruments: QuerySet[InstrumentRecord]
    form: Form


def scales(request: HttpRequest) -> HttpResponse:
    """All of them, and one more."""
    record = required_event()
    form = thing_form(record, "scale")
    view = ScalesView("Scales and rulers", record.instruments.all(), form)
    return show(request, "kit/scales", view)
