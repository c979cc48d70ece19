"""The pairs: all of them, and one more."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.contest.event import PairStatus
from nearmark.errors import InputError
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event
from nearmark.site.event.models import PairRecord
from nearmark.site.event_day.pairs.actions import add_pair, set_status
from nearmark.site.event_day.pairs.forms import PairForm, PairStatusForm, pair_form


@dataclass(frozen=True, slots=True)
class PairsView:
    """All pairs, and one more."""

    title: str
    pairs: list[PairRecord]
    n_schools: int
    form: PairForm
    statuses: list[str]  # those one may choose from
    has_rooms: bool
    has_divisions: bool


def pairs(request: HttpRequest) -> HttpResponse:
    """The list, with a form for one more."""
    return show(request, "event_day/pairs/pairs", _view(pair_form(_divisions())))


def _divisions() -> list[str]:
    """Names of the divisions of the event."""
    record = current_event()
    return list(record.divisions.values_list("name", flat=True)) if record else []


def _view(form: PairForm) -> PairsView:
    record = current_event()
    rows = list(record.pairs.all()) if record else []
    n_schools = len({row.school for row in rows})
    return PairsView(
        title="Pairs",
        pairs=rows,
        n_schools=n_schools,
        form=form,
        statuses=[status.value for status in PairStatus],
        has_rooms=record is not None and record.rooms.exists(),
        has_divisions=bool(_divisions()),
    )


@post_only
def pair_add(request: HttpRequest) -> HttpResponse:
    """Add a pair; school and heat stay in the form for the next one."""
    form = pair_form(_divisions(), request.POST)
    with refusals_on(form):
        given = form.checked()
        members = tuple(name for name in (given["first"], given["second"]) if name)
        pair = add_pair(
            given["code"],
            given["school"],
            members,
            given["heat"],
            division=given.get("division", ""),
            by=visitor_of(request).name,
        )
        return done(request, f"{pair.code} was added.", "pairs")
    return show(request, "event_day/pairs/pairs", _view(form), status=form.http_status)


@post_only
def pair_status(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Change whether a pair takes part."""
    form = PairStatusForm(request.POST)
    if not form.is_valid():
        raise InputError("is not one of the list", where="status", mend="Choose from the list")
    status = PairStatus(form.cleaned_data["status"])
    set_status(pair_id, status, by=visitor_of(request).name, why=form.cleaned_data["why"])
    back = "heats" if request.POST.get("from") == "heats" else "pairs"
    return done(request, "Saved.", back)
