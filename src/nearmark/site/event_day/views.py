"""The first page of the event day: what next, and what is missing."""

from collections import Counter
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.contest.answers import AnswerState
from nearmark.contest.heat_records import in_order
from nearmark.contest.results import Results
from nearmark.printing.words import day_text
from nearmark.site.common.responses import show
from nearmark.site.copies.snapshots import troubles_of_copies
from nearmark.site.event.current import required_event
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.event_views import set_up_view
from nearmark.site.event_day.forms import EventForm
from nearmark.site.event_day.heats.state import halls_now
from nearmark.site.event_day.steps import Step, day_steps, state_counts
from nearmark.words.heats import heat_words


@dataclass(frozen=True, slots=True)
class HeatProgress:
    """How far one heat is: answers accepted, of all."""

    name: str
    accepted: int
    total: int


@dataclass(frozen=True, slots=True)
class MissingView:
    """What is missing at this moment."""

    states: dict[str, int]  # how many answers are in each state
    heats: list[HeatProgress]
    halls: list[str]  # what goes on in each room; empty: the event has no rooms


@dataclass(frozen=True, slots=True)
class OverviewView:
    """What next, and what is missing."""

    title: str
    when_and_where: str
    steps: tuple[Step, ...]
    next_step: Step | None  # none when the results are out
    troubles: list[str]  # with the copies of the data
    states: dict[str, int]  # as in ``MissingView``
    heats: list[HeatProgress]
    halls: list[str]


def overview(request: HttpRequest) -> HttpResponse:
    """What next; before there is an event, how to begin one."""
    record = current_event()
    if record is None:
        return show(request, "event_day/set_up", set_up_view(EventForm()))
    outcome = current_results(record)
    steps = day_steps(outcome, record)
    is_out = record.released_at is not None
    next_step = None if is_out else next((step for step in steps if not step.is_done), None)
    when_and_where = [day_text(outcome.event.day), outcome.event.venue]
    view = OverviewView(
        title=record.name,
        when_and_where=", ".join(filter(None, when_and_where)),
        steps=steps,
        next_step=next_step,
        troubles=troubles_of_copies(),
        states=state_counts(outcome),
        heats=_heats(outcome),
        halls=_halls(record),
    )
    return show(request, "event_day/overview", view)


def overview_missing(request: HttpRequest) -> HttpResponse:
    """What is missing at this moment: the part of the page that renews itself."""
    record = required_event()
    outcome = current_results(record)
    view = MissingView(state_counts(outcome), _heats(outcome), _halls(record))
    return show(request, "event_day/overview_missing", view)


def _halls(record: EventRecord) -> list[str]:
    return [hall.words for hall in halls_now(record) if hall.room]


def _heats(outcome: Results) -> list[HeatProgress]:
    heat_of = {pair.code: heat_words(pair.heat) for pair in outcome.event.pairs}
    total: Counter[str] = Counter()
    accepted: Counter[str] = Counter()
    for answer in outcome.answers.values():
        heat = heat_of[answer.pair]
        total[heat] += 1
        accepted[heat] += answer.state in {AnswerState.AGREED, AnswerState.ADJUDICATED}
    return [HeatProgress(heat, accepted[heat], total[heat]) for heat in in_order(total)]
