"""The first page of the event day: what next, and what is missing."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.answers import AnswerState
from nearmark.contest.results import Results
from nearmark.site.event_store import current_event
from nearmark.site.forms import EventForm
from nearmark.site.models import Change
from nearmark.site.pages.asking import show
from nearmark.site.standing_results import current_results


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do.

    Attributes
    ----------
    title, why : str
    address, link : str
        Where it is done, and the words of the link.
    is_done : bool
    """

    title: str
    why: str
    address: str
    link: str
    is_done: bool


def overview(request: HttpRequest) -> HttpResponse:
    """What next; before there is an event, how to begin one."""
    record = current_event()
    if record is None:
        context = {"title": "Begin an event", "form": EventForm()}
        return show(request, "set_up", context)
    outcome = current_results(record)
    steps = tuple(_steps(outcome, released=record.released_at is not None))
    next_step = next((step for step in steps if not step.is_done), None)
    context = {
        "title": record.name,
        "outcome": outcome,
        "steps": steps,
        "next_step": next_step,
        "states": _states(outcome),
        "heats": _heats(outcome),
        "changes": Change.objects.filter(event=record)[:5],
    }
    return show(request, "overview", context)


def _steps(outcome: Results, *, released: bool) -> Iterable[Step]:
    event, keys = outcome.event, outcome.keys.values()
    without = [k.item.code for k in keys if k.key is None or not (k.fit or k.decision)]
    states = _states(outcome)
    n_left = states["missing"] + states["single"]
    yield Step(
        "Measure the keys",
        f"still to do: {', '.join(without)}" if without else "every key is fit, or decided",
        reverse("kit"),
        "Go to the kit",
        bool(event.items) and not without,
    )
    yield Step(
        "Enter the pairs",
        f"{len(event.pairs)} so far",
        reverse("pairs"),
        "Go to the pairs",
        bool(event.pairs),
    )
    yield Step(
        "Read every answer twice",
        f"{n_left} answers wait for a first or second reading" if n_left else "all read twice",
        reverse("entry"),
        "Enter answers",
        bool(event.pairs and event.items) and n_left == 0,
    )
    n_conflicts = states["conflict"]
    yield Step(
        "Settle the differences",
        f"{n_conflicts} wait for a third person" if n_conflicts else "none",
        reverse("differences"),
        "See the differences",
        n_conflicts == 0,
    )
    yield Step(
        "Release the results",
        "they are out" if released else "nobody sees a place before you release them",
        reverse("standings"),
        "See the standings",
        released,
    )


def _states(outcome: Results) -> dict[str, int]:
    counted = Counter(answer.state.value for answer in outcome.answers.values())
    return {state.value: counted[state.value] for state in AnswerState}


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
    return [HeatProgress(heat, accepted[heat], total[heat]) for heat in sorted(total)]
