"""The first page of the event day: what next, and what is missing."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.answers import AnswerState
from nearmark.contest.heat_records import TAKES_PART
from nearmark.contest.results import Results
from nearmark.errors import RuleError
from nearmark.site.acts.audit import findings
from nearmark.site.event_store import current_event
from nearmark.site.forms import EventForm
from nearmark.site.hall import EVERYBODY, heats_of, in_order
from nearmark.site.models import EventRecord
from nearmark.site.pages.asking import show
from nearmark.site.pages.doctor import troubles_of_copies
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
    steps = tuple(_steps(outcome, record))
    next_step = next((step for step in steps if not step.is_done), None)
    context = {
        "title": record.name,
        "outcome": outcome,
        "steps": steps,
        "next_step": next_step,
        "troubles": troubles_of_copies(),
        **_missing(outcome),
    }
    return show(request, "overview", context)


def overview_missing(request: HttpRequest) -> HttpResponse:
    """What is missing at this moment: the part of the page that renews itself."""
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="Set one up first")
    return show(request, "overview_missing", _missing(current_results(record)))


def _missing(outcome: Results) -> dict[str, object]:
    return {"outcome": outcome, "states": _states(outcome), "heats": _heats(outcome)}


def _steps(outcome: Results, record: EventRecord) -> Iterable[Step]:
    yield from _steps_before(outcome)
    yield from _steps_of_the_day(outcome, record)


def _steps_before(outcome: Results) -> Iterable[Step]:
    event, keys = outcome.event, outcome.keys.values()
    without = [k.item.code for k in keys if k.key is None or not (k.fit or k.decision)]
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
    taking_part = [pair for pair in event.pairs if pair.status in TAKES_PART]
    n_without = sum(not pair.heat for pair in taking_part)
    yield Step(
        "Plan the heats",
        f"{n_without} of {len(taking_part)} pairs have no heat yet"
        if n_without
        else "every pair has a heat",
        reverse("heats"),
        "Plan the heats",
        bool(taking_part) and not n_without,
    )


def _steps_of_the_day(outcome: Results, record: EventRecord) -> Iterable[Step]:
    event, states = outcome.event, _states(outcome)
    n_left = states["missing"] + states["single"]
    released = record.released_at is not None
    planned = heats_of(record)
    begun = set(record.heat_runs.values_list("heat", flat=True))
    # A heat timed by another clock leaves no trace here; its answers do.
    answered = {answer.pair for answer in event.answers}
    begun |= {pair.heat or EVERYBODY for pair in event.pairs if pair.code in answered}
    to_come = [heat for heat in planned if heat not in begun]
    yield Step(
        "Run the heats",
        f"still to come: {', '.join(to_come)}" if to_come else "every heat has had its turn",
        reverse("clock-control"),
        "Go to the hall clock",
        bool(planned) and not to_come,
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
    newest = record.audits.first()
    found = findings(newest) if newest else None
    yield Step(
        "Read some sheets again",
        found.words[0].rstrip(".") if found else "dice say which; it takes about half an hour",
        reverse("audit"),
        "Go to the paper audit",
        released or (found is not None and not found.unread),
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
    return [HeatProgress(heat, accepted[heat], total[heat]) for heat in in_order(total)]
