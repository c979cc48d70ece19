"""Scales and rulers, with what their data sheets say."""

from django.http import HttpRequest, HttpResponse

from nearmark.site.common.responses import show
from nearmark.site.event.current import required_event
from nearmark.site.kit.thing_views import thing_form


def scales(request: HttpRequest) -> HttpResponse:
    """All of them, and one more."""
    record = required_event()
    context = {
        "title": "Scales and rulers",
        "instruments": record.instruments.all(),
        "form": thing_form(record, "scale"),
    }
    return show(request, "kit/scales", context)
