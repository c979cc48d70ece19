"""The change history."""

from django.http import HttpRequest, HttpResponse

from nearmark.site.models import Change
from nearmark.site.pages.asking import show

MOST_SHOWN = 200


def history(request: HttpRequest) -> HttpResponse:
    """The newest acts first."""
    changes = Change.objects.all()[:MOST_SHOWN]
    return show(request, "history", {"title": "History", "changes": changes})
