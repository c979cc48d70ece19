"""Typing answers in: one sheet at a time, for one reader, who never sees the other reading."""

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from nearmark.contest.pair_code import pair_spellings, read_pair_code
from nearmark.errors import NearmarkError, RuleError
from nearmark.site.common.forms import words
from nearmark.site.common.refusals import HoldReason, asks_json, held
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import snapshot_of, visitor_of
from nearmark.site.event.models import ItemRecord
from nearmark.site.event.snapshot import EventSnapshot
from nearmark.site.event_day.answers.doubts import Asked
from nearmark.site.event_day.answers.post import Outcome, is_of_another, keep_cells
from nearmark.site.event_day.answers.sheet import (
    Cell,
    CellState,
    HeatSheets,
    Sheet,
    heat_sheets,
    written_items,
)
from nearmark.site.event_day.answers.undo import DOUBT, UNDO, undo_reading
from nearmark.words.desk import takes_no_part
from nearmark.words.replies import answers_saved


@dataclass(frozen=True, slots=True)
class AnswerLine:
    """An item on the page: the answer of the open sheet, or none while no sheet is open."""

    item: ItemRecord
    name: str = ""
    key: str = ""
    value: str = ""
    is_own: bool = False
    is_full: bool = False
    refusal: str = ""
    asked: Asked | None = None
    is_of_sheet: bool = True  # false: the division of the pair does not estimate it

    @property
    def doubt(self) -> str:
        """What its reader confirms by saving it as it is; empty while nothing is asked."""
        return self.asked.ids[0] if self.asked else ""

    @property
    def state(self) -> str:
        """The state of the answer, as the style names it."""
        if self.refusal:
            return "refused"
        return "look" if self.asked else "saved" if self.is_own else ""

    @property
    def words(self) -> str:
        """The same in words for the reader."""
        if self.refusal:
            return self.refusal
        if self.asked:
            return self.asked.words
        return _("saved") if self.is_own else _("read by two people") if self.is_full else ""


@dataclass(frozen=True, slots=True)
class EntryView:
    """The page where answers are typed."""

    title: str
    heats: list[HeatSheets]
    items: list[ItemRecord]
    sheet: Sheet | None  # the open one
    code: str  # of its pair; empty while none is open
    lines: list[AnswerLine]
    typed: str  # a code that opens no sheet
    refusal: str  # and why
    data: dict[str, dict[str, Any]]  # sheets and spellings of codes, for the script of the page


def entry(request: HttpRequest) -> HttpResponse:
    """One sheet, and the list of those that are left."""
    return _page(request, _desk(request), request.GET.get("pair", ""), Outcome())


def _desk(request: HttpRequest) -> EventSnapshot:
    desk = snapshot_of(request)
    if desk.record is None:
        raise RuleError("there is no event yet", mend="The lead sets one up first")
    return desk


def _page(request: HttpRequest, desk: EventSnapshot, typed: str, outcome: Outcome) -> HttpResponse:
    heats = heat_sheets(desk, visitor_of(request).name)
    sheets = {sheet.pair.code: sheet for heat in heats for sheet in heat.sheets}
    sheet, refusal = None, ""
    try:
        sheet = _sheet_meant(typed, desk, sheets) if typed.strip() else None
    except NearmarkError as unknown:
        refusal = f"{typed.strip()[:20]}: {words(unknown)}"
    lines = _lines(desk, sheet, outcome)
    # A pair or an item that is gone meanwhile has no line to say it at.
    gone = outcome.refused.keys() - {line.name for line in lines if line.refusal}
    refusal = refusal or next((outcome.refused[name] for name in sorted(gone)), "")
    codes = pair_spellings(desk.pair_ids).items()
    view = EntryView(
        title=_("Enter answers"),
        heats=heats,
        items=written_items(desk),
        sheet=sheet,
        code=sheet.pair.code if sheet else "",
        lines=lines,
        typed=typed if refusal else "",
        refusal=refusal,
        data={
            "sheets": {str(one.pair.pk): one.data for one in sheets.values()},
            "codes": {spelling: desk.pair_ids[code] for spelling, code in codes if code},
        },
    )
    status = 422 if refusal or outcome.refused else 200
    return show(request, "event_day/answers/entry", view, status=status)


def _sheet_meant(typed: str, desk: EventSnapshot, sheets: dict[str, Sheet]) -> Sheet:
    code = read_pair_code(typed, desk.pair_ids)
    if code not in sheets:
        raise RuleError(takes_no_part(code), mend="Give the sheet to the lead")
    return sheets[code]


def _lines(desk: EventSnapshot, sheet: Sheet | None, outcome: Outcome) -> list[AnswerLine]:
    if sheet is None:
        return [AnswerLine(item) for item in written_items(desk)]
    cells = {cell.item.pk: cell for cell in sheet.cells}
    return [
        _line(cells[item.pk], outcome) if item.pk in cells else AnswerLine(item, is_of_sheet=False)
        for item in written_items(desk)
    ]


def _line(cell: Cell, outcome: Outcome) -> AnswerLine:
    return AnswerLine(
        cell.item,
        cell.name,
        cell.key,
        cell.own or outcome.typed.get(cell.name, ""),
        cell.state is CellState.OWN,
        cell.state is CellState.FULL,
        outcome.refused.get(cell.name, ""),
        outcome.asked.get(cell.name),
    )


@post_only
def entry_save(request: HttpRequest) -> HttpResponse:
    """Keep the answers that were typed, each for itself; or take one back."""
    desk = _desk(request)
    if is_of_another(request):
        return held(HoldReason.OTHER)
    code = request.POST.get("pair", "")
    if request.POST.get(UNDO):
        return undo_reading(request, _address(code))
    outcome = keep_cells(
        dict(request.POST.items()),
        desk,
        visitor_of(request).name,
        answered=request.POST.getlist(DOUBT),
    )
    if asks_json(request):
        return JsonResponse(outcome.told(), status=422 if outcome.refused else 200)
    if not outcome.is_whole:
        return _page(request, desk, code, outcome)
    return done(request, answers_saved(len(outcome.saved)), _address(code))


def _address(code: str) -> str:
    return f"{reverse('entry')}?{urlencode({'pair': code})}" if code else reverse("entry")
