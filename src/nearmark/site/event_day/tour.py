"""The tour of the invented event: six pages, each with a bar that says what to look at."""

from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse

from nearmark.demo import NAME, SEED
from nearmark.site.common.responses import post_only
from nearmark.site.door.visitor import Visitor
from nearmark.site.event.models import EventRecord
from nearmark.words.tour import TourStep, tour_look, tour_task, tour_task_released, tour_title

PAGES: Final = MappingProxyType(
    {
        TourStep.KEYS: "kit",
        TourStep.HEATS: "heats",
        TourStep.WEIGH_IN: "weigh-in",
        TourStep.DIFFERENCES: "differences",
        TourStep.STANDINGS: "standings",
        TourStep.PUBLIC: "public-results",
    }
)
"""Name of the address of each step, in their order."""

_STEPS: Final = tuple(PAGES)

STEP_IN_SESSION: Final = "tour"
"""Key of the number of the step, from 1; it is not there while nobody takes the tour."""


@dataclass(frozen=True, slots=True)
class TourBar:
    """One step, as the bar at the head of every page shows it."""

    number: int
    n_steps: int
    title: str
    look: str  # what there is to see
    task: str  # what to try
    address: str
    is_here: bool  # whether this is the page of the step
    back: int | None  # number of the step before
    next: int | None


def has_tour(record: EventRecord | None, visitor: Visitor) -> bool:
    """Whether the open event is the invented one, and the lead looks at it."""
    is_invented = record is not None and (record.name, record.seed) == (NAME, SEED)
    return is_invented and visitor.is_lead


def tour_bar(request: HttpRequest, record: EventRecord | None, visitor: Visitor) -> TourBar | None:
    """The step where the visitor is; ``None``: nobody takes the tour here."""
    if not has_tour(record, visitor):
        return None
    number = request.session.get(STEP_IN_SESSION)
    if number is None or record is None:
        return None
    step = _STEPS[number - 1]
    here = request.resolver_match.url_name if request.resolver_match else ""
    return TourBar(
        number=number,
        n_steps=len(_STEPS),
        title=tour_title(step),
        look=tour_look(step),
        task=tour_task_released(step) if record.released_at else tour_task(step),
        address=reverse(PAGES[step]),
        is_here=here == PAGES[step],
        back=number - 1 if number > 1 else None,
        next=number + 1 if number < len(_STEPS) else None,
    )


@post_only
def tour(request: HttpRequest) -> HttpResponse:
    """Go to a step; without one, end the tour."""
    asked = request.POST.get("step", "")
    numbers = {str(number): number for number in range(1, len(_STEPS) + 1)}
    if asked not in numbers:
        request.session.pop(STEP_IN_SESSION, None)
        return redirect("overview")
    request.session[STEP_IN_SESSION] = numbers[asked]
    page = reverse(PAGES[_STEPS[numbers[asked] - 1]])
    return HttpResponseRedirect(f"{page}#tour")
