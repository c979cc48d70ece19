"""A mistake found afterwards: say what is right, see what changes, confirm."""

from dataclasses import dataclass

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from nearmark.contest.corrections import AnswerCorrection, Correction, KeyCorrection
from nearmark.contest.heat_records import TAKES_PART
from nearmark.site.common.forms import BaseForm
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.answers.sheet import read_cell
from nearmark.site.event_day.results import corrections as acts
from nearmark.site.event_day.results.forms import AnswerCorrectionForm, KeyCorrectionForm
from nearmark.site.event_day.results.models import CorrectionRecord, Release
from nearmark.station import Station

KEY = "key"
ANSWER = "answer"


@dataclass(frozen=True, slots=True)
class CorrectionsView:
    """A form for each thing that can be wrong, and what was corrected so far."""

    title: str
    answer_form: BaseForm
    key_form: BaseForm
    corrections: QuerySet[CorrectionRecord]
    releases: QuerySet[Release]


@dataclass(frozen=True, slots=True)
class CorrectionLookView:
    """What a correction would change, before it counts."""

    title: str
    seen: acts.Preview
    form: BaseForm
    kind: str  # KEY or ANSWER


def corrections(request: HttpRequest) -> HttpResponse:
    """Ask for the one thing that is wrong; posted, show what it would change."""
    record = required_event()
    forms = _forms(record, request)
    if request.method != "POST":
        return _page(request, record, forms)
    kind = KEY if request.POST.get("kind") == KEY else ANSWER
    form = forms[kind]
    with refusals_on(form):
        seen = acts.preview(record, _correction(kind, form, visitor_of(request).name))
        view = CorrectionLookView("Look before it counts", seen, form, kind)
        return show(request, "event_day/results/correction_look", view)
    return _page(request, record, forms, status=form.http_status)


@post_only
def correction_confirm(request: HttpRequest) -> HttpResponse:
    """Keep it; when results are out, they come out again with it."""
    record = required_event()
    forms = _forms(record, request)
    kind = KEY if request.POST.get("kind") == KEY else ANSWER
    form = forms[kind]
    with refusals_on(form):
        number = typed_number(request.POST.get("number", ""))
        correction = _correction(kind, form, visitor_of(request).name)
        release = acts.correct(correction, number=-1 if number is None else number)
        out = f" and out: release {release.number}" if release else ""
        return done(request, f"It is put right{out}.", "corrections")
    return _page(request, record, forms, status=form.http_status)


def _forms(record: EventRecord, request: HttpRequest) -> dict[str, BaseForm]:
    """Both forms; only the one that was sent holds what was sent."""
    rows = list(record.items.all())
    items = [(row.code, f"{row.code} {row.name}") for row in rows]
    # A target mass is the rule set's and no key that somebody measured.
    keyed = [(row.code, f"{row.code} {row.name}") for row in rows if row.station != Station.MASS]
    taking_part = record.pairs.filter(status__in=TAKES_PART)
    pairs = [(row.code, f"{row.code}, {row.school}") for row in taking_part]
    sent = request.POST if request.method == "POST" else None
    is_key = sent is not None and sent.get("kind") == KEY
    asked = {
        name: request.GET[name] for name in ("pair", "item", "value", "cup") if name in request.GET
    }
    return {
        ANSWER: AnswerCorrectionForm(
            pairs,
            items,
            sent if not is_key else None,
            initial=asked,
            has_cups=len(keyed) < len(items),
        ),
        KEY: KeyCorrectionForm(keyed, sent if is_key else None),
    }


def _correction(kind: str, form: BaseForm, by: str) -> Correction:
    given = form.checked()
    if kind == KEY:
        return KeyCorrection(given["item"], given["value"], by, given["why"])
    seen = read_cell(given["value"])
    return AnswerCorrection(
        given["pair"],
        given["item"],
        status=seen.status,
        value=seen.value,
        cup=given.get("cup", ""),
        by=by,
        why=given["why"],
    )


def _page(
    request: HttpRequest, record: EventRecord, forms: dict[str, BaseForm], *, status: int = 200
) -> HttpResponse:
    view = CorrectionsView(
        title="Corrections",
        answer_form=forms[ANSWER],
        key_form=forms[KEY],
        corrections=record.corrections.select_related("release"),
        releases=record.releases.all(),
    )
    return show(request, "event_day/results/corrections", view, status=status)
