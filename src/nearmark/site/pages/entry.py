"""Typing answers in: a grid for one reader, who never sees the other reading."""

import uuid
from dataclasses import dataclass, field

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils.http import urlencode

from nearmark.errors import InputError, NearmarkError, RuleError
from nearmark.site.acts.answers import record_answer, strike_own
from nearmark.site.entry_sheet import (
    came,
    cells_named,
    question,
    read_cell,
    sheet,
    written_items,
)
from nearmark.site.event_store import current_event, rules_of
from nearmark.site.forms import ReasonForm, words
from nearmark.site.models import EventRecord
from nearmark.site.pages.asking import done, is_of_another, post_only, show
from nearmark.site.pages.refusals import Held, asks_json, held
from nearmark.site.visitor import visitor_of

MOST_CELLS = 2_000


@dataclass(slots=True)
class Outcome:
    """What became of the cells of one post."""

    saved: list[str] = field(default_factory=list)
    refused: dict[str, tuple[str, str]] = field(default_factory=dict)
    questions: dict[str, str] = field(default_factory=dict)


def entry(request: HttpRequest) -> HttpResponse:
    """The grid of a heat."""
    return _grid(request, _event(), Outcome())


def _event() -> EventRecord:
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="The lead sets one up first")
    return record


def _grid(request: HttpRequest, record: EventRecord, outcome: Outcome) -> HttpResponse:
    heats = sorted({pair.heat for pair in came(record, None)})
    asked = request.POST.get("heat", request.GET.get("heat"))
    heat = asked if asked in heats else (heats[0] if heats else None)
    items = written_items(record)
    rows = sheet(came(record, heat), items, visitor_of(request).name, refused=outcome.refused)
    cells = [cell for row in rows for cell in row.cells]
    context = {
        "title": "Enter answers",
        "heats": heats,
        "heat": heat,
        "items": items,
        "rows": rows,
        "n_own": sum(cell.state == "own" for cell in cells),
        "n_free": sum(cell.state == "free" for cell in cells),
        "outcome": outcome,
    }
    return show(request, "entry", context, status=422 if outcome.refused else 200)


@post_only
def entry_save(request: HttpRequest) -> HttpResponse:
    """Keep the cells that were typed; each stands or falls alone."""
    record = _event()
    if is_of_another(request):
        return held(Held.OTHER)
    if request.POST.get("strike"):
        return _strike(request, record)
    outcome = _save(request, record)
    if asks_json(request):
        told = {
            "saved": outcome.saved,
            "refused": {name: why for name, (_, why) in outcome.refused.items()},
            "questions": outcome.questions,
        }
        return JsonResponse(told, status=422 if outcome.refused else 200)
    if outcome.refused:
        return _grid(request, record, outcome)
    n = len(outcome.saved)
    address = f"{reverse('entry')}?{urlencode({'heat': request.POST.get('heat', '')})}"
    asked = " ".join(outcome.questions.values())
    return done(request, f"{n} answer{'' if n == 1 else 's'} saved. {asked}".strip(), address)


def _save(request: HttpRequest, record: EventRecord) -> Outcome:
    outcome = Outcome()
    rules = rules_of(record)
    posted = [
        (name.removeprefix("v-"), text)
        for name, text in request.POST.items()
        if name.startswith("v-") and str(text).strip()
    ][:MOST_CELLS]
    known = cells_named(record, [name for name, _ in posted])
    for name, text in posted:
        try:
            pair, item = known[name]
            written = read_cell(str(text))
            key = uuid.UUID(request.POST.get(f"k-{name}", ""))
            record_answer(key, pair.code, item.code, written, by=visitor_of(request).name)
        except KeyError:
            outcome.refused[name] = (str(text), "This pair or item is not here any more.")
        except ValueError:
            outcome.refused[name] = (str(text), "Load the page again, then type it.")
        except NearmarkError as refusal:
            outcome.refused[name] = (str(text), words(refusal))
        else:
            outcome.saved.append(name)
            asked = question(written, item, rules)
            if asked:
                outcome.questions[name] = f"{pair.code}, {item.code}: {asked}"
    return outcome


def _strike(request: HttpRequest, record: EventRecord) -> HttpResponse:
    form = ReasonForm(request.POST)
    why = form.cleaned_data["why"] if form.is_valid() else ""
    name = request.POST["strike"]
    cell = cells_named(record, [name]).get(name)
    if cell is None:
        raise InputError("is not known", where="answer", mend="Load the page again")
    pair, item = cell
    strike_own(pair.code, item.code, by=visitor_of(request).name, why=why)
    address = f"{reverse('entry')}?{urlencode({'heat': pair.heat})}"
    return done(request, f"{pair.code}, {item.code}: read it again.", address)
