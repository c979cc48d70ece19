"""The desk with the scale: pair, cup, what the display shows."""

import uuid

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.answers import accepted_answers
from nearmark.contest.event import AnswerStatus
from nearmark.contest.rules import Station
from nearmark.errors import InputError, RuleError
from nearmark.site.acts.answers import Written, record_answer
from nearmark.site.event_store import current_event, load_event
from nearmark.site.forms import WeighInForm
from nearmark.site.models import AnswerEntry, EventRecord, ItemRecord
from nearmark.site.pages.asking import add_refusal, done, show
from nearmark.site.visitor import visitor_of

MOST_SHOWN = 8


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
    if request.method == "POST" and item is not None:
        status = 422
        if form.is_valid():
            try:
                return _weigh(request, record, item, form)
            except (InputError, RuleError) as refusal:
                status = add_refusal(form, refusal)
    context = {
        "title": "Weigh-in",
        "form": form,
        "items": items,
        "item": item,
        "recent": _recent(record, visitor_of(request).name),
        "n_cups": record.cups.count(),
    }
    return show(request, "weigh_in", context, status=status)


def _weigh(
    request: HttpRequest, record: EventRecord, item: ItemRecord, form: WeighInForm
) -> HttpResponse:
    given = form.cleaned_data
    written = Written(AnswerStatus.ANSWERED, given["gross_g"], given["cup"])
    pair = given["pair"].upper() if not record.pairs.filter(code=given["pair"]) else given["pair"]
    record_answer(given["key"], pair, item.code, written, by=visitor_of(request).name)
    answer = accepted_answers(load_event(record)).get((pair, item.code))
    net = "" if answer is None or answer.estimate is None else f", net {answer.estimate:f} g"
    return done(
        request, f"{pair}: {given['gross_g']:f} g in cup {given['cup']}{net}.", reverse("weigh-in")
    )


def _recent(record: EventRecord, reader: str) -> list[AnswerEntry]:
    rows = AnswerEntry.objects.filter(
        pair__event=record, item__station=Station.MASS.value, clerk=reader, struck_at=None
    )
    return list(rows.select_related("pair", "item").order_by("-pk")[:MOST_SHOWN])
