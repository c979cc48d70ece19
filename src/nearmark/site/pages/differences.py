"""Where two readings differ: a third person reads the paper."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import AnswerReading
from nearmark.contest.rules import Station
from nearmark.errors import InputError, RuleError
from nearmark.site.acts.answers import Written, adjudicate
from nearmark.site.entry_sheet import read_cell
from nearmark.site.event_store import current_event
from nearmark.site.pages.asking import done, post_only, show
from nearmark.site.standing_results import current_results
from nearmark.site.visitor import visitor_of


@dataclass(frozen=True, slots=True)
class Difference:
    """One answer read in two ways."""

    pair: str
    item: str
    name: str
    readings: tuple[AnswerReading, ...]
    needs_cup: bool
    is_own: bool


def differences(request: HttpRequest) -> HttpResponse:
    """Every answer that waits for a third person."""
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="The lead sets one up first")
    outcome = current_results(record)
    event = outcome.event
    names = {item.code: item for item in event.items}
    reader = visitor_of(request).name
    found = []
    for answer in outcome.answers.values():
        if answer.state is not AnswerState.CONFLICT:
            continue
        readings = tuple(r for r in event.answers if (r.pair, r.item) == (answer.pair, answer.item))
        item = names[answer.item]
        found.append(
            Difference(
                answer.pair,
                answer.item,
                item.name,
                readings,
                needs_cup=item.station is Station.MASS,
                is_own=any(r.clerk == reader for r in readings),
            )
        )
    return show(request, "differences", {"title": "Differences", "differences": found})


@post_only
def difference_decide(request: HttpRequest) -> HttpResponse:
    """Decide one of them."""
    given = request.POST
    text = given.get("value", "")
    if not text.strip():
        raise InputError("is empty", where="what the paper shows", mend="Type it, b or ?")
    seen = read_cell(text)
    written = Written(seen.status, seen.value, given.get("cup", "").strip()[:200])
    pair, item = given.get("pair", ""), given.get("item", "")
    why = given.get("why", "").strip()[:200]
    adjudicate(pair, item, written, by=visitor_of(request).name, why=why)
    return done(request, f"{pair}, {item} is decided.", reverse("differences"))
