"""The first page of the event day: what next, and what is missing."""

from collections import Counter
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.contest.answers import AnswerState
from nearmark.contest.results import Results
from nearmark.printing.words import day_text
from nearmark.site.common.responses import show
from nearmark.site.copies.snapshots import troubles_of_copies
from nearmark.site.event.current import required_event
from nearmark.site.event.load import current_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.forms import EventForm
from nearmark.site.event_day.heats.state import in_order
from nearmark.site.event_day.steps import day_steps, state_counts


def overview(request: HttpRequest) -> HttpResponse:
    """What next; before there is an event, how to begin one."""
    record = current_event()
    if record is None:
        context = {"title": "Begin an event", "form": EventForm()}
        return show(request, "event_day/set_up", context)
    outcome = current_results(record)
    steps = day_steps(outcome, record)
    is_out = record.released_at is not None
    next_step = None if is_out else next((step for step in steps if not step.is_done), None)
    context = {
        "title": record.name,
        "when_and_where": ", ".join(
            filter(None, [day_text(outcome.event.day), outcome.event.venue])
        ),
        "outcome": outcome,
        "steps": steps,
        "next_step": next_step,
        "troubles": troubles_of_copies(),
        **_missing(outcome),
    }
    return show(request, "event_day/overview", context)


def overview_missing(request: HttpRequest) -> HttpResponse:
    """What is missing at this moment: the part of the page that renews itself."""
    record = required_event()
    return show(request, "event_day/overview_missing", _missing(current_results(record)))


def _missing(outcome: Results) -> dict[str, object]:
    return {"outcome": outcome, "states": state_counts(outcome), "heats": _heats(outcome)}


@dataclass(frozen=True, slots=True)
class HeatProgress:
    """How far one heat is: answers accepted, of all."""

    name: str
    accepted: int
    total: int


def _heats(outcome: Results) -> list[HeatProgress]:
    heat_of = {pair.code: pair.heat or "no heat" for pair in outcome.event.pairs}
    total: Counter[str] = Counter()
    accepted: Counter[str] = Counter()
    for answer in outcome.answers.values():
        heat = heat_of[answer.pair]
        total[heat] += 1
        accepted[heat] += answer.state in {AnswerState.AGREED, AnswerState.ADJUDICATED}
    return [HeatProgress(heat, accepted[heat], total[heat]) for heat in in_order(total)]
