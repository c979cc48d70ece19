"""Who goes when: the plan of the heats; ``roll_call`` has who is here."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _

from nearmark.contest import split_schools
from nearmark.contest.heat_records import TAKES_PART, heat_name
from nearmark.errors import InputError, NearmarkError
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.refusals import status_of
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event, pairs_of
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event_day.heats import plan_actions as heat_plan
from nearmark.site.event_day.heats.forms import HeatFillForm, LatePairForm
from nearmark.site.event_day.heats.own_choice import own_room
from nearmark.site.event_day.heats.roll_call import Roll, roll
from nearmark.site.event_day.pairs.actions import add_pair
from nearmark.words.desk import (
    changed_places,
    has_new_heat,
    heat_so_far,
    is_in_heat,
    new_heat,
    taken_in,
)
from nearmark.words.heats import heat_text, together_words, why_this_heat

MAX_TAKEN_BACK: Final = 80
"""Pairs in one act: a day has no more."""


@dataclass(frozen=True, slots=True)
class HeatChoice:
    """A heat that a pair could go to."""

    number: int
    name: str
    n_pairs: int
    places: int
    is_new: bool = False  # nobody is in it yet, and no plan names it

    @property
    def is_full(self) -> bool:
        """Whether nobody fits in."""
        return self.n_pairs >= self.places

    @property
    def words(self) -> str:
        """As it is offered."""
        return self.called if self.is_new else heat_so_far(self.name, self.n_pairs, self.places)

    @property
    def called(self) -> str:
        """Its name."""
        return new_heat(self.name) if self.is_new else heat_text(self.name)


@dataclass(frozen=True, slots=True)
class HeatPlan:
    """What can be changed about the plan."""

    fill_form: HeatFillForm
    trouble: InputError | None = None  # why no pair can be moved
    choices: Sequence[HeatChoice] = ()
    late_form: LatePairForm | None = None
    schools: Sequence[str] = ()
    together: str = ""  # whether schools are together, in words
    away: Collection[PairRecord] = ()  # those who do not take part


@dataclass(frozen=True, slots=True)
class HeatsView:
    """The page of the heats."""

    title: str
    roll: Roll
    plan: HeatPlan
    chosen: PairRecord | None  # whom somebody wants to move
    others: Sequence[PairRecord]  # whom it could change places with
    refusal: NearmarkError | None = None
    typed: str = ""
    found: Sequence[PairRecord] = ()  # whom ``typed`` could mean
    just_in: Collection[PairRecord] = ()  # who was just checked in, so that one touch takes it back


def heats(request: HttpRequest) -> HttpResponse:
    """Every heat with its pairs."""
    record = current_event()
    view = heats_view(record, request.GET.get("pair", ""), own_room(request, record))
    numbers = pair_numbers(request.GET.get("did", "").split("."))
    if record is not None and numbers:
        just_in = record.pairs.filter(pk__in=numbers, arrived_at__isnull=False)
        view = replace(view, just_in=just_in)
    return show(request, "event_day/heats/heats", view)


def pair_numbers(parts: Sequence[str]) -> list[int]:
    """Numbers of pairs that came from a page; anything else is left out."""
    numbers = [number for number in map(typed_number, parts) if number is not None]
    return numbers[:MAX_TAKEN_BACK]


def heats_view(record: EventRecord | None, code: str = "", room: str = "") -> HeatsView:
    """The page: with a pair by its code to be moved, with the pairs of one room or of all."""
    rows = list(record.pairs.filter(status__in=TAKES_PART)) if record else []
    chosen = record.pairs.filter(code=code).first() if record and code else None
    own = chosen.heat if chosen else ""
    return HeatsView(
        title=_("Heats"),
        roll=roll(record, rows, room),
        plan=_plan(record) if record else HeatPlan(HeatFillForm()),
        chosen=chosen,
        others=[row for row in rows if row.heat and row.heat != own] if own else [],
    )


def _plan(record: EventRecord) -> HeatPlan:
    fill_form = HeatFillForm(initial={"places": record.heat_places})
    try:
        plan = heat_plan.heats_of_plan(pairs_of(record))
    except InputError as refusal:
        # Moves need numbers; planning again gives every heat one.
        return HeatPlan(fill_form, refusal)
    following = max((heat.number for heat in plan), default=0) + 1
    choices = [HeatChoice(h.number, h.name, len(h.pairs), record.heat_places) for h in plan]
    choices.append(HeatChoice(following, heat_name(following), 0, record.heat_places, is_new=True))
    return HeatPlan(
        fill_form=fill_form,
        choices=choices,
        late_form=_late_form(choices),
        schools=sorted(set(record.pairs.values_list("school", flat=True))),
        together=together_words(split_schools(plan)) if plan else "",
        away=record.pairs.exclude(status__in=TAKES_PART),
    )


def _late_form(choices: Sequence[HeatChoice], *given: object) -> LatePairForm:
    free = [(str(choice.number), choice.words) for choice in choices if not choice.is_full]
    return LatePairForm([("", _("where its school is")), *free], *given, auto_id="late_%s")


@post_only
def heat_fill(request: HttpRequest) -> HttpResponse:
    """Fill the heats school by school."""
    form = HeatFillForm(request.POST)
    if not form.is_valid():
        view = heats_view(current_event())
        view = replace(view, plan=replace(view.plan, fill_form=form))
        return show(request, "event_day/heats/heats", view, status=422)
    given = form.cleaned_data
    n_changed = heat_plan.fill(given["places"], anew=given["anew"], by=visitor_of(request).name)
    return done(request, has_new_heat(n_changed), "heats")


@post_only
def heat_move(request: HttpRequest) -> HttpResponse:
    """Move one pair."""
    code, text = request.POST.get("pair", ""), request.POST.get("to", "")
    to = typed_number(text, 4)
    if to is None:
        raise InputError(
            "is no heat", where="to heat", value=text[:20], mend="Choose from the list"
        )
    try:
        heat_plan.move(code, to, by=visitor_of(request).name)
    except NearmarkError as refusal:
        return _refused(request, code, refusal)
    return done(request, is_in_heat(code, heat_name(to)), _at(code))


@post_only
def heat_swap(request: HttpRequest) -> HttpResponse:
    """Let two pairs change places."""
    code, other = request.POST.get("pair", ""), request.POST.get("other", "")
    try:
        heat_plan.swap(code, other, by=visitor_of(request).name)
    except NearmarkError as refusal:
        return _refused(request, code, refusal)
    return done(request, changed_places(code, other), _at(code))


def _refused(request: HttpRequest, code: str, refusal: NearmarkError) -> HttpResponse:
    """The same page with the reason, so that another heat is one touch away."""
    view = replace(heats_view(current_event(), code), refusal=refusal)
    return show(request, "event_day/heats/heats", view, status=status_of(refusal))


def _at(code: str) -> str:
    """The heats, opened at one pair."""
    record = current_event()
    pair = record.pairs.filter(code=code).first() if record else None
    return f"{reverse('heats')}#pair-{pair.pk}" if pair else reverse("heats")


@post_only
def heat_late(request: HttpRequest) -> HttpResponse:
    """Take in a pair that comes unannounced: it has a code, a heat, and is here."""
    view = heats_view(current_event())
    form = _late_form(view.plan.choices, request.POST)
    with refusals_on(form):
        given, by = form.checked(), visitor_of(request).name
        members = tuple(name for name in (given["first"], given["second"]) if name)
        pair, chosen = heat_plan.take_in(
            lambda: add_pair(given["code"], given["school"], members, "", by=by),
            int(given["to"]) if given["to"] else None,
            by=by,
        )
        words = taken_in(pair.code, pair.heat, why_this_heat(chosen) if chosen else "")
        return done(request, words, _at(pair.code))
    view = replace(view, plan=replace(view.plan, late_form=form))
    return show(request, "event_day/heats/heats", view, status=form.http_status)
