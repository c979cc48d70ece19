"""The change history, and what to look for in it."""

from urllib.parse import urlencode

from django.db.models import Q
from django.http import HttpRequest, HttpResponse

from nearmark.site.common.responses import show
from nearmark.site.event.history_model import Change

MAX_SHOWN = 200
MAX_WORDS = 60
"""Characters looked for."""


def history(request: HttpRequest) -> HttpResponse:
    """The newest acts first; those of one person, or with some words, when asked for."""
    words = request.GET.get("words", "").strip()[:MAX_WORDS]
    who = request.GET.get("who", "")[:MAX_WORDS]
    before = request.GET.get("before", "")
    found = Change.objects.all()
    if who:
        found = found.filter(who=who)
    for word in words.split():
        found = found.filter(
            Q(what__icontains=word)
            | Q(old__icontains=word)
            | Q(new__icontains=word)
            | Q(why__icontains=word)
        )
    n_found = found.count()
    if before.isascii() and before.isdigit() and len(before) < MAX_WORDS:
        found = found.filter(pk__lt=min(int(before), 2**62))
    changes = list(found[: MAX_SHOWN + 1])
    asked = {"words": words, "who": who}
    older = {**asked, "before": changes[MAX_SHOWN - 1].pk} if len(changes) > MAX_SHOWN else {}
    context = {
        "title": "History",
        "changes": changes[:MAX_SHOWN],
        "n_found": n_found,
        "older": urlencode(older),
        "is_filtered": bool(words or who),
        "people": sorted(set(Change.objects.values_list("who", flat=True).order_by())),
        **asked,
    }
    return show(request, "event_day/history", context)
