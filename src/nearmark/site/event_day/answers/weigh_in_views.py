"""The desk with the scale: pair, cup, what the display shows."""

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from nearmark.contest.cup_tares import CupTares
from nearmark.contest.division import is_asked
from nearmark.contest.event import AnswerStatus
from nearmark.contest.heat_records import TAKES_PART
from nearmark.contest.pair_code import pair_spellings, read_pair_code
from nearmark.errors import InputError, NearmarkError, RuleError
from nearmark.site.common.forms import BaseForm, DecimalField, choose
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.refusals import HoldReason, asks_json, held
from nearmark.site.common.responses import add_refusal, done, post_only, show
from nearmark.site.door.visitor import Visitor, snapshot_of, visitor_of
from nearmark.site.event.answer_models import AnswerEntry
from nearmark.site.event.models import EventRecord, ItemRecord, PairRecord
from nearmark.site.event.snapshot import EventSnapshot
from nearmark.site.event_day.answers.actions import PaperAnswer, SubmittedReading
from nearmark.site.event_day.answers.doubts import Asked, asked_first
from nearmark.site.event_day.answers.post import is_of_another
from nearmark.site.event_day.answers.sheet import on_paper
from nearmark.site.event_day.answers.undo import DOUBT, UNDO, undo_reading
from nearmark.site.event_day.answers.weigh_in_actions import (
    in_the_way,
    refuse_second,
    undo_hand_in,
    weigh,
)
from nearmark.site.event_day.heats.own_choice import own_scale
from nearmark.station import Station
from nearmark.words.answers import question_words
from nearmark.words.desk import (
    can_be_weighed_again,
    cup_of_pair,
    cup_saved,
    cups_handed_in,
    marked_as,
    net_mass,
)
from nearmark.words.heats import heat_words


class WeighInForm(BaseForm):
    """A cup on the scale; with one scale there is nothing to choose, else ``own`` comes first."""

    pair = forms.CharField(
        label=_("Pair"),
        max_length=200,
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "spellcheck": "false"}),
    )
    cup = forms.CharField(label=_("Cup number"), max_length=200)
    gross_g = DecimalField(label=_("Scale shows, g"))
    scale = forms.ChoiceField(label=_("Scale"))
    key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(
        self,
        scales: Sequence[str],
        data: Mapping[str, Any] | None = None,
        *,
        own: str = "",
        **kwargs: Any,
    ) -> None:
        super().__init__(data, **kwargs)
        # A cup that was kept on a device before there was a choice names no scale.
        if len(scales) < 2 or (data is not None and "scale" not in data):
            del self.fields["scale"]
            return
        choose(self, "scale", [("", gettext("which one?")), *((name, name) for name in scales)])
        self.fields["scale"].initial = own
        if own:
            self.fields["scale"].widget.attrs["data-own"] = own


MAX_SHOWN = 8
MAX_REASON_LENGTH = 200
CUP = "cup"
"""Name of an entry of this page in the outbox of a browser."""


@dataclass(frozen=True, slots=True)
class CupTry:
    """What became of a cup that was sent."""

    told: str = ""  # when it was saved
    asked: Asked | None = None  # what is asked before it is saved
    # One's own readings that are in its way, to be taken back in one act.
    own: list[AnswerEntry] = field(default_factory=list)
    status: int = 200


@dataclass(frozen=True, slots=True)
class HandedIn:
    """How far the desk is with its cups."""

    n_in: int
    n_all: int
    missing: list[str]  # codes of pairs that are here, or of heats that have begun, without a cup
    second: list[str]  # codes whose cup waits for a second reading, by this visitor
    codes: list[str]  # of those that have handed in

    @property
    def headline(self) -> str:
        """How far the desk is, in words."""
        return cups_handed_in(self.n_in, self.n_all)


@dataclass(frozen=True, slots=True)
class WeighInView:
    """The page where a cup is weighed."""

    title: str
    form: WeighInForm
    items: list[ItemRecord]
    item: ItemRecord | None  # what the cup holds; none when the event has no cup to weigh
    scales: list[str]  # to choose from; empty: the event has one
    scale: str  # of this device; empty until it is chosen
    tried: CupTry
    recent: list[AnswerEntry]
    n_cups: int
    handed_in: HandedIn | None
    data: dict[str, dict[str, Any]]  # codes and pairs for the script of the page


def weigh_in(request: HttpRequest) -> HttpResponse:
    """Weigh one cup; the page is ready for the next at once."""
    desk = snapshot_of(request)
    record = desk.record
    if record is None or desk.event is None:
        raise RuleError("there is no event yet", mend="The lead sets one up first")
    items = [item for item in desk.items.values() if item.station == Station.MASS.value]
    item = next((i for i in items if str(i.pk) == request.POST.get("item")), None) or next(
        iter(items), None
    )
    scales = [one.name for one in desk.event.instruments if one.unit == "g"]
    own = own_scale(request, scales)
    form = WeighInForm(scales, request.POST or None, own=own, initial={"key": uuid.uuid4()})
    tried = CupTry()
    if request.method == "POST" and is_of_another(request):
        return held(HoldReason.OTHER)
    if request.method == "POST" and request.POST.get(UNDO):
        return undo_reading(request, reverse("weigh-in"))
    if request.method == "POST" and item is not None:
        tried = _try(request, desk, item, form, scales)
        if asks_json(request):
            return _answer(form, tried)
        if tried.told:
            return done(request, tried.told, "weigh-in")
    visitor = visitor_of(request)
    view = WeighInView(
        title=gettext("Weigh-in"),
        form=form,
        items=items,
        item=item,
        scales=scales if len(scales) > 1 else [],
        scale=own,
        tried=tried,
        recent=_recent(record, visitor),
        n_cups=len(desk.cups),
        handed_in=_handed_in(record, item, visitor) if item else None,
        data={
            "codes": {s: desk.pair_ids[c] for s, c in pair_spellings(desk.pair_ids).items() if c},
            "pairs": {str(pk): _pair_words(desk, pk) for pk in desk.pairs},
        },
    )
    return show(request, "event_day/answers/weigh_in", view, status=tried.status)


def _pair_words(desk: EventSnapshot, pair_id: int) -> str:
    pair = desk.pairs[pair_id]
    words = f"{on_paper(pair.code)}, {pair.school}, {heat_words(pair.heat)}"
    return words if pair.takes_part else f"{words}, {marked_as(pair.status)}"


def _try(
    request: HttpRequest,
    desk: EventSnapshot,
    item: ItemRecord,
    form: WeighInForm,
    scales: list[str],
) -> CupTry:
    """Weigh a cup, or say what is asked or refused."""
    if not form.is_valid():
        return CupTry(status=422)
    given, by = form.cleaned_data, visitor_of(request).name
    cup = given["cup"].strip()
    scale = given.get("scale") or (scales[0] if len(scales) == 1 else "")
    pair = ""
    try:
        pair = read_pair_code(given["pair"], desk.pair_ids)
        written = PaperAnswer(AnswerStatus.ANSWERED, given["gross_g"], cup, scale)
        read = SubmittedReading(given["key"], pair, item.code, written, by)
        # What cannot be kept is not asked about first.
        refuse_second(read.key, pair, item.code, cup)
        asked = asked_first(desk, {CUP: read}, request.POST.getlist(DOUBT)).get(CUP)
        if asked is not None:
            return CupTry(asked=asked, own=in_the_way(pair, item.code, cup, by=by))
        weigh(given["key"], pair, item.code, written, by=by)
    except NearmarkError as refusal:
        status = add_refusal(form, refusal)
        own = in_the_way(pair, item.code, cup, by=by) if pair and not desk.is_released else []
        return CupTry(own=own, status=status)
    told = cup_saved(_pair_words(desk, desk.pair_ids[pair]), f"{given['gross_g']:f}", cup)
    # What is left without the cup says how good the answer is: that is not for every desk.
    if visitor_of(request).is_lead and desk.event is not None:
        found = CupTares.of(desk.event).net(given["gross_g"], cup, scale)
        told += (
            f" {question_words(found.trouble).capitalize()}."
            if found.trouble
            else f" {net_mass(f'{found.net_g:f}')}"
        )
    return CupTry(told=told)


def _answer(form: WeighInForm, tried: CupTry) -> JsonResponse:
    """What the script of the page is answered."""
    back = {CUP: [[str(one.key), cup_of_pair(one.pair.code, one.cup)] for one in tried.own]}
    if tried.told:
        return JsonResponse({"saved": [CUP], "words": {CUP: tried.told}})
    if tried.asked is not None:
        return JsonResponse({"saved": [], "asked": {CUP: tried.asked.told()}, "back": back})
    told = []
    for name, problems in form.errors.items():
        label = form.fields[name].label if name in form.fields else ""
        told += [f"{label}: {problem}" if label else str(problem) for problem in problems]
    return JsonResponse(
        {"saved": [], "refused": {CUP: " ".join(told)}, "back": back},
        status=422,
    )


@post_only
def weigh_in_undo(request: HttpRequest) -> HttpResponse:
    """Strike a hand-in out, so that the cup is weighed again."""
    record, given = snapshot_of(request).record, request.POST
    number = typed_number(given.get("item", ""), 15) or 0
    item = record.items.filter(pk=number).first() if record else None
    if item is None:
        raise InputError("is not known", where="item", mend="Load the page again")
    pair, why = given.get("pair", ""), given.get("why", "").strip()[:MAX_REASON_LENGTH]
    undo_hand_in(pair, item.code, by=visitor_of(request).name, why=why)
    return done(request, can_be_weighed_again(pair), "weigh-in")


def _handed_in(record: EventRecord, item: ItemRecord, visitor: Visitor) -> HandedIn:
    readers: dict[str, list[str]] = {}
    rows = AnswerEntry.objects.filter(item=item, struck_at=None)
    for code, clerk in rows.values_list("pair__code", "clerk"):
        readers.setdefault(code, []).append(clerk)
    coming = record.pairs.filter(status__in=TAKES_PART)
    pairs = [pair for pair in coming if is_asked(item, pair.division)]
    begun = set(record.heat_runs.values_list("heat", "room"))
    expected = [p.code for p in pairs if p.arrived_at is not None or _has_begun(p, begun)]
    return HandedIn(
        n_in=sum(pair.code in readers for pair in pairs),
        n_all=len(pairs),
        missing=[code for code in expected if code not in readers],
        second=[c for c, who in readers.items() if len(who) == 1 and visitor.name not in who],
        codes=sorted(readers),
    )


def _has_begun(pair: PairRecord, begun: set[tuple[str, str]]) -> bool:
    """Whether the heat of a pair was started in its room; without a room: in any."""
    return any(
        heat == pair.heat and (room == pair.room or not room or not pair.room)
        for heat, room in begun
    )


def _recent(record: EventRecord, visitor: Visitor) -> list[AnswerEntry]:
    """One's own last ones; the lead sees everybody's."""
    rows = AnswerEntry.objects.filter(
        pair__event=record, item__station=Station.MASS.value, struck_at=None
    )
    if not visitor.is_lead:
        rows = rows.filter(clerk=visitor.name)
    return list(rows.select_related("pair", "item").order_by("-pk")[:MAX_SHOWN])
