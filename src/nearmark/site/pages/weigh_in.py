"""The desk with the scale: pair, cup, what the display shows."""

import uuid
from dataclasses import dataclass
from decimal import Decimal

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse

from nearmark.contest.cup_tares import CupTares
from nearmark.contest.event import AnswerStatus, Event
from nearmark.contest.heat_records import TAKES_PART
from nearmark.contest.pair_code import read_pair_code
from nearmark.contest.rules import Station, StationRule
from nearmark.contest.unlikely import unlikely_answers
from nearmark.errors import InputError, RuleError
from nearmark.site.acts.answers import Written
from nearmark.site.acts.weighings import other_pairs_of, undo_hand_in, weigh
from nearmark.site.event_store import current_event, event_of_pair
from nearmark.site.forms import WeighInForm
from nearmark.site.models import AnswerEntry, EventRecord, ItemRecord
from nearmark.site.pages.asking import add_refusal, done, is_of_another, post_only, show
from nearmark.site.pages.refusals import Held, asks_json, held
from nearmark.site.roles import Role
from nearmark.site.visitor import Visitor, visitor_of

MOST_SHOWN = 8
LONGEST_REASON = 200
CUP = "cup"
"""Name of an entry of this page in the outbox of a browser."""


def weigh_in(request: HttpRequest) -> HttpResponse:
    """Weigh one cup; the page is ready for the next at once."""
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="The lead sets one up first")
    items = list(record.items.filter(station=Station.MASS.value))
    item = next((i for i in items if str(i.pk) == request.POST.get("item")), None) or next(
        iter(items), None
    )
    form = WeighInForm(request.POST or None, initial={"key": uuid.uuid4()})
    status = 200
    if request.method == "POST" and is_of_another(request):
        return held(Held.OTHER)
    if request.method == "POST" and item is not None:
        status = 422
        if form.is_valid():
            try:
                told = _weigh(request, record, item, form)
            except (InputError, RuleError) as refusal:
                status = add_refusal(form, refusal)
            else:
                if asks_json(request):
                    return JsonResponse({"saved": [CUP], "words": {CUP: told}})
                return done(request, told, reverse("weigh-in"))
        if asks_json(request):
            return JsonResponse({"saved": [], "refused": {CUP: _in_one_line(form)}}, status=422)
    context = {
        "title": "Weigh-in",
        "form": form,
        "items": items,
        "item": item,
        "recent": _recent(record, visitor_of(request)),
        "n_cups": record.cups.count(),
        "handed_in": _handed_in(record, item, visitor_of(request)) if item else None,
    }
    return show(request, "weigh_in", context, status=status)


def _in_one_line(form: WeighInForm) -> str:
    told = []
    for name, problems in form.errors.items():
        label = form.fields[name].label if name in form.fields else ""
        told += [f"{label}: {problem}" if label else str(problem) for problem in problems]
    return " ".join(told)


@post_only
def weigh_in_undo(request: HttpRequest) -> HttpResponse:
    """Strike a hand-in out, so that the cup is weighed anew."""
    record = current_event()
    given = request.POST
    item = record.items.filter(pk=_number(given.get("item", ""))).first() if record else None
    if item is None:
        raise InputError("is not known", where="item", mend="Load the page again")
    pair, why = given.get("pair", ""), given.get("why", "").strip()[:LONGEST_REASON]
    undo_hand_in(pair, item.code, by=visitor_of(request).name, why=why)
    return done(request, f"{pair}: the cup can be weighed anew.", reverse("weigh-in"))


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else 0


def _weigh(request: HttpRequest, record: EventRecord, item: ItemRecord, form: WeighInForm) -> str:
    given = form.cleaned_data
    written = Written(AnswerStatus.ANSWERED, given["gross_g"], given["cup"])
    pair = read_pair_code(given["pair"], list(record.pairs.values_list("code", flat=True)))
    visitor = visitor_of(request)
    weigh(given["key"], pair, item.code, written, by=visitor.name)
    others_g = AnswerEntry.objects.filter(item=item, struck_at=None).exclude(pair__code=pair)
    gross_g = [value for value in others_g.values_list("value", flat=True) if value is not None]
    net, question = _looked_at(event_of_pair(record, pair), written, gross_g)
    told = f"{pair}: {given['gross_g']:f} g in cup {given['cup']}"
    # What is left without the cup says how good the answer is: that is not for every desk.
    told += f", net {net:f} g." if visitor.role is Role.LEAD and net is not None else "."
    others = other_pairs_of(pair, item.code, given["cup"])
    if others:
        told += (
            f" Cup {given['cup']} was handed in by {', '.join(others)} too: is its number right?"
        )
    return f"{told} {question}".rstrip()


def _looked_at(
    event: Event, written: Written, others_g: list[Decimal]
) -> tuple[Decimal | None, str]:
    """Net mass in g, and a question when it is unlikely; the question does not tell the mass."""
    gross_g = written.value or Decimal(0)
    found = CupTares.of(event).net(gross_g, written.cup)
    if found.net_g is None or found.trouble:
        return found.net_g, f"{found.trouble.capitalize()}." if found.trouble else ""
    rule = event.rules.stations[Station.MASS]
    # Cups weigh little beside what is in them, so that gross masses show a slip of a digit too.
    is_far = unlikely_answers([*others_g, gross_g], StationRule())[-1]
    is_odd = unlikely_answers([found.net_g], rule)[0]
    words = "That is unusual for a cup here: look at the display and the cup once more."
    return found.net_g, words if is_far or is_odd else ""


@dataclass(frozen=True, slots=True)
class HandedIn:
    """How far the desk is with its cups.

    Attributes
    ----------
    n_all : pairs
    missing : list of str
        Codes of pairs that are here, or of heats that have begun, without a cup.
    second : list of str
        Codes whose cup waits for a second reading, by this visitor.
    codes : list of str
        Of those that have handed in.
    """

    n_all: int
    missing: list[str]
    second: list[str]
    codes: list[str]


def _handed_in(record: EventRecord, item: ItemRecord, visitor: Visitor) -> HandedIn:
    readers: dict[str, list[str]] = {}
    rows = AnswerEntry.objects.filter(item=item, struck_at=None)
    for code, clerk in rows.values_list("pair__code", "clerk"):
        readers.setdefault(code, []).append(clerk)
    pairs = list(record.pairs.filter(status__in=TAKES_PART))
    begun = set(record.heat_runs.values_list("heat", flat=True))
    expected = [p.code for p in pairs if p.arrived_at is not None or p.heat in begun]
    return HandedIn(
        n_all=len(pairs),
        missing=[code for code in expected if code not in readers],
        second=[c for c, who in readers.items() if len(who) == 1 and visitor.name not in who],
        codes=sorted(readers),
    )


def _recent(record: EventRecord, visitor: Visitor) -> list[AnswerEntry]:
    """One's own last ones; the lead sees everybody's."""
    rows = AnswerEntry.objects.filter(
        pair__event=record, item__station=Station.MASS.value, struck_at=None
    )
    if visitor.role is not Role.LEAD:
        rows = rows.filter(clerk=visitor.name)
    return list(rows.select_related("pair", "item").order_by("-pk")[:MOST_SHOWN])
