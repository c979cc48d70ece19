"""The paper audit: how many sheets, which ones, and what each paper shows, read blind."""

from dataclasses import dataclass
from typing import Final

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _

from nearmark.contest.audit_findings import AuditFindings
from nearmark.contest.heat_records import in_order
from nearmark.contest.pair_code import with_check
from nearmark.contest.paper_audit import AuditPlan
from nearmark.errors import InputError, RuleError
from nearmark.site.common.forms import words
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.refusals import status_of
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.answers.actions import PaperAnswer
from nearmark.site.event_day.answers.sheet import read_cell
from nearmark.site.event_day.results import audit_actions as acts
from nearmark.site.event_day.results.forms import RollAgainForm, RollForm
from nearmark.site.event_day.results.models import AuditCheck, AuditDraw
from nearmark.station import Station
from nearmark.words.desk import paper_differs, paper_is_alike
from nearmark.words.refusals import refusal_words

WAITING: Final = frozenset({"missing", "single", "conflict"})


@dataclass(frozen=True, slots=True)
class SheetToRead:
    """One sheet to fetch."""

    # Code of the pair, the same as printed, and its heat.
    code: str
    checked: str
    heat: str
    check: AuditCheck | None  # what the paper showed; ``None``: not read yet


@dataclass(frozen=True, slots=True)
class Field:
    """What is typed for one item."""

    code: str
    name: str
    is_weighed: bool  # a mass that need not be on the sheet
    # What was typed on this page before it was refused.
    typed: str = ""
    cup: str = ""


@dataclass(frozen=True, slots=True)
class AuditView:
    """How many sheets, which ones, and what they said."""

    title: str
    is_placed: bool  # whether there is anything to audit
    draw: AuditDraw | None  # the newest; the next three are empty while there is none
    found: AuditFindings | None
    sheets: list[SheetToRead]
    next_sheet: SheetToRead | None
    earlier: QuerySet[AuditDraw]
    form: RollForm
    n_waiting: int  # answers that are not settled yet
    is_released: bool  # whether only a correction can settle them
    most: int  # sheets asked for
    plan: AuditPlan | None  # what a draw of so many would be
    read_address: str


@dataclass(frozen=True, slots=True)
class AuditReadView:
    """One sheet to be read again."""

    title: str
    draw: AuditDraw
    sheet: SheetToRead | None  # none when every sheet is read
    n_left: int
    n_all: int
    fields: list[Field]
    refused: str


def audit(request: HttpRequest) -> HttpResponse:
    """How many sheets, which ones, and what they said."""
    return _page(request, required_event())


def _most(request: HttpRequest) -> int:
    """The number of sheets asked for; the usual one when it is none."""
    asked = (request.POST if request.method == "POST" else request.GET).get("most", "")
    number = typed_number(asked, 3)
    return acts.MAX_SHEETS if number is None else max(1, number)


def _page(
    request: HttpRequest, record: EventRecord, form: RollForm | None = None, *, status: int = 200
) -> HttpResponse:
    newest = record.audits.first()
    outcome = current_results(record)
    is_placed = any(line.place is not None for line in outcome.pairs) and any(
        key.key is not None for key in outcome.keys.values()
    )
    most = _most(request)
    blank = (RollAgainForm if newest else RollForm)(initial={"most": most})
    sheets = _sheets(record, newest) if newest else []
    view = AuditView(
        title="Paper audit",
        is_placed=is_placed,
        draw=newest,
        found=acts.findings(newest) if newest else None,
        sheets=sheets,
        next_sheet=next((sheet for sheet in sheets if sheet.check is None), None),
        earlier=record.audits.all()[1:],
        form=form or blank,
        n_waiting=sum(answer.state.value in WAITING for answer in outcome.answers.values()),
        is_released=record.released_at is not None,
        most=most,
        plan=acts.plan(most) if is_placed else None,
        read_address=request.build_absolute_uri(reverse("audit-read")),
    )
    return show(request, "event_day/results/audit", view, status=status)


def _sheets(record: EventRecord, drawn: AuditDraw) -> list[SheetToRead]:
    """In the order in which the sheets lie: heat by heat, then by code."""
    heats = dict(record.pairs.values_list("code", "heat"))
    place = {heat: number for number, heat in enumerate(in_order(set(heats.values())))}
    checks = acts.newest_checks(drawn)
    codes = sorted(
        {*drawn.targeted, *drawn.sample}, key=lambda code: (place[heats.get(code, "")], code)
    )
    return [
        SheetToRead(code, with_check(code), heats.get(code, ""), checks.get(code)) for code in codes
    ]


@post_only
def audit_draw(request: HttpRequest) -> HttpResponse:
    """Draw the sheets."""
    record = required_event()
    form = (RollAgainForm if record.audits.exists() else RollForm)(request.POST)
    with refusals_on(form):
        acts.draw(**form.checked(), by=visitor_of(request).name)
        return done(request, "The sheets are drawn. Fetch them.", "audit")
    return _page(request, record, form, status=form.http_status)


def audit_read(request: HttpRequest) -> HttpResponse:
    """One sheet: fields for what is on the paper, and nothing of what was typed before."""
    record = required_event()
    newest = record.audits.first()
    if newest is None:
        raise RuleError("no sheet is drawn yet", mend="The lead rolls the dice first")
    return _read_page(request, record, newest)


def _read_page(
    request: HttpRequest,
    record: EventRecord,
    newest: AuditDraw,
    refused: str = "",
    status: int = 200,
) -> HttpResponse:
    given = request.POST if request.method == "POST" else request.GET
    sheets = _sheets(record, newest)
    left = [sheet for sheet in sheets if sheet.check is None]
    asked = next((sheet for sheet in sheets if sheet.code == given.get("pair")), None)
    sheet = asked or (left[0] if left else None)
    fields = [
        Field(
            row.code,
            row.name,
            row.station == Station.MASS.value,
            request.POST.get(f"v-{row.code}", "")[:30],
            request.POST.get(f"c-{row.code}", "")[:30],
        )
        for row in (acts.rows_of(record, sheet.code) if sheet else record.items.all())
    ]
    view = AuditReadView(
        title=_("Read a sheet again"),
        draw=newest,
        sheet=sheet,
        n_left=len(left),
        n_all=len(sheets),
        fields=sorted(fields, key=lambda field: field.is_weighed),
        refused=refused,
    )
    return show(request, "event_day/results/audit_read", view, status=status)


@post_only
def audit_check(request: HttpRequest) -> HttpResponse:
    """Keep what one paper shows."""
    given = request.POST
    record = required_event()
    newest = record.audits.first()
    number = typed_number(given.get("draw", ""), 15)
    if newest is None or number is None:
        raise InputError("is not known", where="draw", mend="Load the page again")
    pair = given.get("pair", "")
    name = visitor_of(request).name
    try:
        made = acts.check(number, pair, _seen(request, record), by=name)
    except InputError as refusal:
        where = f"{refusal_words(refusal.where)}: " if refusal.where else ""
        told = f"{where}{words(refusal)}"
        return _read_page(request, record, newest, told, status_of(refusal))
    told = paper_is_alike(pair)
    if made.item is not None:
        told = paper_differs(pair, made.item.code)
    if acts.findings(newest).unread or not visitor_of(request).is_lead:
        return done(request, told, "audit-read")
    return done(request, told, "audit")


def _seen(request: HttpRequest, record: EventRecord) -> dict[str, PaperAnswer]:
    """What was typed for each item; an empty mass is left out."""
    seen = {}
    for row in record.items.all():
        typed = request.POST.get(f"v-{row.code}", "").strip()
        if not typed:
            continue
        try:
            read = read_cell(typed)
        except InputError as refusal:
            raise InputError(
                refusal.what, where=row.code, value=refusal.value, mend=refusal.mend
            ) from refusal
        cup = request.POST.get(f"c-{row.code}", "").strip()
        is_weighed = row.station == Station.MASS.value
        seen[row.code] = PaperAnswer(read.status, read.value, cup if is_weighed else "")
    return seen
