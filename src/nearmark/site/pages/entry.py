"""Typing answers in: a grid for one reader, who never sees the other reading."""

import uuid
from dataclasses import dataclass, field

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils.http import urlencode

from nearmark.errors import InputError, NearmarkError, RuleError
from nearmark.site.acts.answers import Read, Written, record_answers, strike_own
from nearmark.site.desk import Desk
from nearmark.site.entry_sheet import cells_named, question, read_cell, sheet, written_items
from nearmark.site.event_store import rules_of
from nearmark.site.forms import ReasonForm, words
from nearmark.site.models import ItemRecord, PairRecord
from nearmark.site.pages.asking import done, is_of_another, post_only, show
from nearmark.site.pages.refusals import Held, asks_json, held
from nearmark.site.portions import portion_to_show, portions
from nearmark.site.visitor import desk_of, visitor_of

MOST_CELLS = 2_000


@dataclass(slots=True)
class Outcome:
    """What became of the cells of one post."""

    saved: list[str] = field(default_factory=list)
    refused: dict[str, tuple[str, str]] = field(default_factory=dict)
    questions: dict[str, str] = field(default_factory=dict)


def entry(request: HttpRequest) -> HttpResponse:
    """The grid of a heat."""
    return _grid(request, _desk(request), Outcome())


def _desk(request: HttpRequest) -> Desk:
    desk = desk_of(request)
    if desk.record is None:
        raise RuleError("there is no event yet", mend="The lead sets one up first")
    return desk


def _grid(request: HttpRequest, desk: Desk, outcome: Outcome) -> HttpResponse:
    reader = visitor_of(request).name
    given = request.POST if request.method == "POST" else request.GET
    everything = portions(desk)
    shown = portion_to_show(desk, everything, (given.get("heat"), given.get("part")), reader)
    items = written_items(desk)
    rows = sheet(shown.pairs if shown else (), items, reader, refused=outcome.refused)
    cells = [cell for row in rows for cell in row.cells]
    context = {
        "title": "Enter answers",
        "portions": everything,
        "portion": shown,
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
    desk = _desk(request)
    if is_of_another(request):
        return held(Held.OTHER)
    if request.POST.get("strike"):
        return _strike(request, desk)
    outcome = _save(request, desk)
    if asks_json(request):
        told = {
            "saved": outcome.saved,
            "refused": {name: why for name, (_, why) in outcome.refused.items()},
            "questions": outcome.questions,
        }
        return JsonResponse(told, status=422 if outcome.refused else 200)
    if outcome.refused:
        return _grid(request, desk, outcome)
    n = len(outcome.saved)
    where = {name: request.POST.get(name, "") for name in ("heat", "part")}
    address = f"{reverse('entry')}?{urlencode(where)}"
    asked = " ".join(outcome.questions.values())
    return done(request, f"{n} answer{'' if n == 1 else 's'} saved. {asked}".strip(), address)


def _save(request: HttpRequest, desk: Desk) -> Outcome:
    outcome = Outcome()
    posted = [
        (name.removeprefix("v-"), str(text))
        for name, text in request.POST.items()
        if name.startswith("v-") and str(text).strip()
    ][:MOST_CELLS]
    known = cells_named(desk, [name for name, _ in posted])
    reads: dict[str, Read] = {}
    for name, text in posted:
        try:
            reads[name] = _read(request, known[name], name, text)
        except KeyError:
            outcome.refused[name] = (text, "This pair or item is not here any more.")
        except ValueError:
            outcome.refused[name] = (text, "Load the page again, then type it.")
        except NearmarkError as refusal:
            outcome.refused[name] = (text, words(refusal))
    typed = dict(posted)
    for name, kept in zip(reads, record_answers(list(reads.values())), strict=True):
        if isinstance(kept, NearmarkError):
            outcome.refused[name] = (typed[name], words(kept))
        else:
            outcome.saved.append(name)
            _ask(outcome, name, reads[name].written, known[name], desk)
    return outcome


def _read(request: HttpRequest, cell: tuple[PairRecord, ItemRecord], name: str, text: str) -> Read:
    pair, item = cell
    key = uuid.UUID(request.POST.get(f"k-{name}", ""))
    return Read(key, pair.code, item.code, read_cell(text), visitor_of(request).name)


def _ask(
    outcome: Outcome,
    name: str,
    written: Written,
    cell: tuple[PairRecord, ItemRecord],
    desk: Desk,
) -> None:
    pair, item = cell
    asked = question(written, item, rules_of(desk.record)) if desk.record else ""
    if asked:
        outcome.questions[name] = f"{pair.code}, {item.code}: {asked}"


def _strike(request: HttpRequest, desk: Desk) -> HttpResponse:
    form = ReasonForm(request.POST)
    why = form.cleaned_data["why"] if form.is_valid() else ""
    name = request.POST["strike"]
    cell = cells_named(desk, [name]).get(name)
    if cell is None:
        raise InputError("is not known", where="answer", mend="Load the page again")
    pair, item = cell
    strike_own(pair.code, item.code, by=visitor_of(request).name, why=why)
    address = (
        f"{reverse('entry')}?{urlencode({'heat': pair.heat, 'part': request.POST.get('part', '')})}"
    )
    return done(request, f"{pair.code}, {item.code}: read it again.", address)
