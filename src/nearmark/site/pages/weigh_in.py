"""The desk with the scale: pair, cup, what the display shows."""

import uuid

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse

from nearmark.contest.answers import accepted_answers
from nearmark.contest.event import AnswerStatus
from nearmark.contest.rules import Station
from nearmark.errors import InputError, RuleError
from nearmark.site.acts.answers import Written, record_answer
from nearmark.site.event_store import current_event, event_of_pair
from nearmark.site.forms import WeighInForm
from nearmark.site.models import AnswerEntry, EventRecord, ItemRecord
from nearmark.site.pages.asking import add_refusal, done, is_of_another, show
from nearmark.site.pages.refusals import Held, asks_json, held
from nearmark.site.visitor import visitor_of

MOST_SHOWN = 8
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
                    return JsonResponse({"saved": [CUP], "questions": {CUP: told}})
                return done(request, told, reverse("weigh-in"))
        if asks_json(request):
            return JsonResponse({"saved": [], "refused": {CUP: _in_one_line(form)}}, status=422)
    context = {
        "title": "Weigh-in",
        "form": form,
        "items": items,
        "item": item,
        "recent": _recent(record, visitor_of(request).name),
        "n_cups": record.cups.count(),
    }
    return show(request, "weigh_in", context, status=status)


def _in_one_line(form: WeighInForm) -> str:
    told = []
    for name, problems in form.errors.items():
        label = form.fields[name].label if name in form.fields else ""
        told += [f"{label}: {problem}" if label else str(problem) for problem in problems]
    return " ".join(told)


def _weigh(request: HttpRequest, record: EventRecord, item: ItemRecord, form: WeighInForm) -> str:
    given = form.cleaned_data
    written = Written(AnswerStatus.ANSWERED, given["gross_g"], given["cup"])
    pair = given["pair"].upper() if not record.pairs.filter(code=given["pair"]) else given["pair"]
    record_answer(given["key"], pair, item.code, written, by=visitor_of(request).name)
    answer = accepted_answers(event_of_pair(record, pair)).get((pair, item.code))
    net = "" if answer is None or answer.estimate is None else f", net {answer.estimate:f} g"
    return f"{pair}: {given['gross_g']:f} g in cup {given['cup']}{net}."


def _recent(record: EventRecord, reader: str) -> list[AnswerEntry]:
    rows = AnswerEntry.objects.filter(
        pair__event=record, item__station=Station.MASS.value, clerk=reader, struck_at=None
    )
    return list(rows.select_related("pair", "item").order_by("-pk")[:MOST_SHOWN])
