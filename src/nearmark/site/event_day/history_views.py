"""The change history, and what to look for in it."""

from dataclasses import dataclass
from urllib.parse import urlencode

from django.db.models import Q
from django.http import HttpRequest, HttpResponse

from nearmark.site.common.responses import show
from nearmark.site.event.models import Change

MAX_SHOWN = 200
MAX_WORDS = 60
"""Characters looked for."""


@dataclass(frozen=True, slots=True)
class HistoryView:
    """The newest acts first."""

    title: str
    words: str  # looked for
    who: str  # whose acts; empty: everybody's
    is_filtered: bool
    changes: list[Change]
    n_found: int
    older: str  # query of the address with the lines before these; empty when there are none
    people: list[str]


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
    older = {}
    if len(changes) > MAX_SHOWN:
        older = {"words": words, "who": who, "before": changes[MAX_SHOWN - 1].pk}
    view = HistoryView(
        title="History",
        words=words,
        who=who,
        is_filtered=bool(words or who),
        changes=changes[:MAX_SHOWN],
        n_found=n_found,
        older=urlencode(older),
        people=sorted(set(Change.objects.values_list("who", flat=True).order_by())),
    )
    return show(request, "event_day/history", view)
