"""Who goes when, and who is here."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest import split_schools
from nearmark.contest.event import PairStatus
from nearmark.contest.heat_records import TAKES_PART
from nearmark.errors import InputError
from nearmark.site.acts import heat_plan
from nearmark.site.day_forms import HeatFillForm, HeatMoveForm, HeatSwapForm
from nearmark.site.event_store import current_event, pairs_of
from nearmark.site.hall import in_order
from nearmark.site.models import EventRecord, PairRecord
from nearmark.site.pages.asking import done, post_only, show
from nearmark.site.visitor import visitor_of


@dataclass(frozen=True, slots=True)
class HeatSheet:
    """One heat on the page.

    Attributes
    ----------
    name : str
        Empty: those without a heat.
    rows : list of PairRecord
    is_started : bool
    """

    name: str
    rows: list[PairRecord]
    is_started: bool

    @property
    def n_here(self) -> int:
        """How many are checked in."""
        return sum(row.arrived_at is not None for row in self.rows)


def heats(request: HttpRequest) -> HttpResponse:
    """Every heat with its pairs."""
    return show(request, "heats", _context(current_event()))


def _context(record: EventRecord | None) -> dict[str, object]:
    sheets = _sheets(record) if record else []
    planned = [sheet for sheet in sheets if sheet.name]
    rows = [row for sheet in sheets for row in sheet.rows]
    return {
        "title": "Heats",
        "sheets": sheets,
        "n_heats": len(planned),
        "n_pairs": len(rows),
        "n_here": sum(sheet.n_here for sheet in sheets),
        "n_without": len(rows) - sum(len(sheet.rows) for sheet in planned),
        **(_forms(record, rows) if record else {}),
    }


def _sheets(record: EventRecord) -> list[HeatSheet]:
    rows = list(record.pairs.filter(status__in=TAKES_PART))
    started = set(record.heat_runs.values_list("heat", flat=True))
    names = in_order({row.heat for row in rows if row.heat})
    # Those without a heat first: they are what is left to do.
    names = [*([""] if any(not row.heat for row in rows) else []), *names]
    return [HeatSheet(n, [row for row in rows if row.heat == n], n in started) for n in names]


def _forms(record: EventRecord, rows: list[PairRecord]) -> dict[str, object]:
    fill_form = HeatFillForm(initial={"places": record.heat_places})
    try:
        plan = heat_plan.heats_of_plan(pairs_of(record))
    except InputError as refusal:
        # Moves need numbers; planning anew gives every heat one.
        return {"fill_form": fill_form, "trouble": refusal}
    following = max((heat.number for heat in plan), default=0) + 1
    numbers = [(str(h.number), f"{h.name}: {len(h.pairs)} of {record.heat_places}") for h in plan]
    numbers.append((str(following), f"heat {following}: new"))
    choices = [(row.code, f"{row.code}, {row.heat or 'no heat'}") for row in rows]
    placed = [(row.code, f"{row.code}, {row.heat}") for row in rows if row.heat]
    return {
        "fill_form": fill_form,
        "move_form": HeatMoveForm(choices, numbers),
        "swap_form": HeatSwapForm(placed),
        "split": split_schools(plan),
    }


@post_only
def heat_fill(request: HttpRequest) -> HttpResponse:
    """Fill the heats school by school."""
    form = HeatFillForm(request.POST)
    if not form.is_valid():
        context = _context(current_event()) | {"fill_form": form}
        return show(request, "heats", context, status=422)
    given = form.cleaned_data
    n_changed = heat_plan.fill(given["places"], anew=given["anew"], by=visitor_of(request).name)
    words = f"{n_changed} pairs have a new heat." if n_changed else "Every pair had its heat."
    return done(request, words, reverse("heats"))


@post_only
def heat_move(request: HttpRequest) -> HttpResponse:
    """Move one pair."""
    code, to = request.POST.get("pair", ""), request.POST.get("to", "")
    if not (to.isascii() and to.isdigit() and len(to) <= 4):
        raise InputError("is no heat", where="to heat", value=to[:20], mend="Choose from the list")
    heat_plan.move(code, int(to), by=visitor_of(request).name)
    return done(request, f"{code} is in heat {int(to)}.", reverse("heats"))


@post_only
def heat_swap(request: HttpRequest) -> HttpResponse:
    """Let two pairs change places."""
    code, other = request.POST.get("pair", ""), request.POST.get("other", "")
    heat_plan.swap(code, other, by=visitor_of(request).name)
    return done(request, f"{code} and {other} have changed places.", reverse("heats"))


@post_only
def heat_check_in(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Note that a pair is here."""
    is_here = request.POST.get("here") == "yes"
    pair = heat_plan.check_in(pair_id, is_here=is_here, by=visitor_of(request).name)
    words = f"{pair.code} is {'here' if is_here else 'not here'}."
    if pair.status not in TAKES_PART:
        words += f" It stands as {PairStatus(pair.status).value}: the lead changes that."
    return done(request, words, f"{reverse('heats')}#pair-{pair.pk}")
