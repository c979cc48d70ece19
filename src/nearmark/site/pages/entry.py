"""Typing answers in: a grid for one reader, who never sees the other reading."""

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils.http import urlencode

from nearmark.errors import InputError, RuleError
from nearmark.site.acts.answers import strike_own
from nearmark.site.desk import Desk
from nearmark.site.entry_post import STRIKE, Outcome, keep_cells
from nearmark.site.entry_sheet import cells_named, sheet, written_items
from nearmark.site.forms import ReasonForm
from nearmark.site.pages.asking import done, is_of_another, post_only, show
from nearmark.site.pages.refusals import Held, asks_json, held
from nearmark.site.portions import portion_to_show, portions
from nearmark.site.visitor import desk_of, visitor_of


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
    if request.POST.get(STRIKE):
        return _strike(request, desk)
    outcome = keep_cells(dict(request.POST.items()), desk, visitor_of(request).name)
    if asks_json(request):
        return JsonResponse(outcome.told(), status=422 if outcome.refused else 200)
    if outcome.refused:
        return _grid(request, desk, outcome)
    n = len(outcome.saved)
    where = {name: request.POST.get(name, "") for name in ("heat", "part")}
    address = f"{reverse('entry')}?{urlencode(where)}"
    asked = " ".join(outcome.questions.values())
    return done(request, f"{n} answer{'' if n == 1 else 's'} saved. {asked}".strip(), address)


def _strike(request: HttpRequest, desk: Desk) -> HttpResponse:
    form = ReasonForm(request.POST)
    why = form.cleaned_data["why"] if form.is_valid() else ""
    name = request.POST[STRIKE]
    cell = cells_named(desk, [name]).get(name)
    if cell is None:
        raise InputError("is not known", where="answer", mend="Load the page again")
    pair, item = cell
    strike_own(pair.code, item.code, by=visitor_of(request).name, why=why)
    address = (
        f"{reverse('entry')}?{urlencode({'heat': pair.heat, 'part': request.POST.get('part', '')})}"
    )
    return done(request, f"{pair.code}, {item.code}: read it again.", address)
