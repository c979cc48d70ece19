"""The paper audit: roll dice, fetch the sheets, say what each paper shows."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.answers import AcceptedAnswer
from nearmark.contest.event import Event
from nearmark.errors import InputError, NearmarkError, RuleError
from nearmark.site.acts import audit as acts
from nearmark.site.event_store import current_event
from nearmark.site.hall import in_order
from nearmark.site.models import AuditCheck, AuditDraw, EventRecord
from nearmark.site.pages.asking import add_refusal, done, post_only, show
from nearmark.site.result_forms import RollAgainForm, RollForm
from nearmark.site.standing_results import current_results
from nearmark.site.visitor import visitor_of


@dataclass(frozen=True, slots=True)
class SheetToRead:
    """One sheet to fetch.

    Attributes
    ----------
    code, heat : str
    answers : list of (item, words)
        What was typed, as it should stand on the paper.
    check : AuditCheck or None
        What the paper shows; ``None``: not read yet.
    """

    code: str
    heat: str
    answers: list[tuple[str, str]]
    check: AuditCheck | None


def audit(request: HttpRequest) -> HttpResponse:
    """How many sheets, which ones, and what they said."""
    return _page(request, _event())


def _event() -> EventRecord:
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="Set one up first")
    return record


def _page(
    request: HttpRequest, record: EventRecord, form: RollForm | None = None, *, status: int = 200
) -> HttpResponse:
    newest = record.audits.first()
    outcome = current_results(record)
    n_waiting = sum(
        answer.state.value in {"missing", "single", "conflict"}
        for answer in outcome.answers.values()
    )
    context: dict[str, object] = {
        "title": "Paper audit",
        "draw": newest,
        "earlier": record.audits.all()[1:],
        "form": form or (RollAgainForm() if newest else RollForm()),
        "n_waiting": n_waiting,
        "is_placed": any(line.place is not None for line in outcome.pairs),
    }
    if newest is not None:
        sheets = _sheets(record, newest)
        context |= {
            "found": acts.findings(newest),
            "sheets": sheets,
            "next_sheet": next((sheet for sheet in sheets if sheet.check is None), None),
        }
    return show(request, "audit", context, status=status)


def _sheets(record: EventRecord, drawn: AuditDraw) -> list[SheetToRead]:
    """In the order in which the sheets lie: heat by heat, then by code."""
    outcome = current_results(record)
    weighed = _weighed(outcome.event)
    answers: dict[str, list[tuple[str, str]]] = {}
    for at, answer in outcome.answers.items():
        answers.setdefault(answer.pair, []).append((answer.item, weighed.get(at) or _words(answer)))
    heats = dict(record.pairs.values_list("code", "heat"))
    place = {heat: number for number, heat in enumerate(in_order(set(heats.values())))}
    checks = acts.newest_checks(drawn)
    codes = sorted(
        {*drawn.targeted, *drawn.sample}, key=lambda code: (place[heats.get(code, "")], code)
    )
    return [
        SheetToRead(code, heats.get(code, ""), answers.get(code, []), checks.get(code))
        for code in codes
    ]


def _words(answer: AcceptedAnswer) -> str:
    return answer.status.value if answer.estimate is None else f"{answer.estimate:f}"


def _weighed(event: Event) -> dict[tuple[str, str], str]:
    """Cup and gross mass as the scale desk wrote them; the net mass stands on no paper."""
    read = {(r.pair, r.item): (r.cup, r.value) for r in event.answers}
    read |= {(a.pair, a.item): (a.cup, a.value) for a in event.adjudications}
    return {at: f"{value:f} g, cup {cup}" for at, (cup, value) in read.items() if cup and value}


@post_only
def audit_draw(request: HttpRequest) -> HttpResponse:
    """Draw the sheets."""
    record = _event()
    form = (RollAgainForm if record.audits.exists() else RollForm)(request.POST)
    status = 422
    if form.is_valid():
        given = form.cleaned_data
        try:
            acts.draw(given["rolls"], by=visitor_of(request).name, why=given.get("why", ""))
        except NearmarkError as refusal:
            status = add_refusal(form, refusal)
        else:
            return done(request, "The sheets are drawn. Fetch them.", reverse("audit"))
    return _page(request, record, form, status=status)


@post_only
def audit_check(request: HttpRequest) -> HttpResponse:
    """Note what one paper shows."""
    given = request.POST
    number, pair = given.get("draw", ""), given.get("pair", "")
    if not (number.isascii() and number.isdigit() and len(number) < 16):
        raise InputError("is not known", where="draw", mend="Load the page again")
    differs = given.get("verdict") == "differs"
    item = given.get("item", "") if differs else ""
    if differs and not item:
        raise InputError("is needed", where="item", mend="Choose what differs")
    acts.check(
        int(number),
        pair,
        item=item,
        shows=given.get("shows", "").strip(),
        by=visitor_of(request).name,
    )
    told = f"{pair}: {item} differs." if differs else f"{pair} agrees."
    return done(request, told, f"{reverse('audit')}#next")
