"""What each pair reads afterwards: every answer on the strip, as a page and as PDF."""

from dataclasses import dataclass, replace

from django.http import HttpRequest, HttpResponse

from nearmark.contest.pair_code import read_pair_code
from nearmark.contest.results import Results
from nearmark.errors import InputError, RuleError
from nearmark.printing import feedback_pdf
from nearmark.printing.feedback import FeedbackPage, FeedbackView, feedback_view
from nearmark.site.common.forms import words
from nearmark.site.common.responses import file_answer, show
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.results.proof_actions import proof_of_pair
from nearmark.site.event_day.results.proof_lines import current_release, release_number
from nearmark.words.public import own_page_title, pair_title


@dataclass(frozen=True, slots=True)
class PairFeedbackView:
    """What one pair reads."""

    title: str
    code: str
    all_pages: FeedbackView  # what is the same for every pair
    page: FeedbackPage
    pair_id: int | None = None  # none on the public page
    proof: str = ""  # empty: there is none, or the page may not say the place


@dataclass(frozen=True, slots=True)
class FeedbackAskView:
    """Where a pair types its code."""

    title: str
    typed: str = ""
    refusal: str = ""


def feedback(request: HttpRequest, pair_id: int) -> HttpResponse:
    """The page of one pair, for those who lead and coach."""
    record, code = _known(pair_id)
    view = replace(_view(record, current_results(record), code), pair_id=pair_id)
    return show(request, "event_day/results/feedback", view)


def feedback_file(_request: HttpRequest, pair_id: int) -> HttpResponse:
    """The same as PDF."""
    record, code = _known(pair_id)
    return _file(record, current_results(record), code)


def public_feedback(request: HttpRequest) -> HttpResponse:
    """The page of one pair by its code, if the lead has opened it; never with names."""
    record = _opened()
    code = request.GET.get("code", "").strip()
    if not code:
        return show(request, "event_day/results/feedback_ask", FeedbackAskView(own_page_title()))
    try:
        found = _by_code(record, code)
    except InputError as unknown:
        asked = FeedbackAskView(own_page_title(), code[:20], words(unknown))
        return show(request, "event_day/results/feedback_ask", asked, status=422)
    view = _view(record, *found, is_public=True)
    # The proof says the place: it is left out where the page may not say it.
    proof = _proof(record, view.code) if view.page.place else ""
    return show(request, "event_day/results/feedback", replace(view, proof=proof))


def opened_pair(request: HttpRequest) -> tuple[Results, str]:
    """The results, and the pair whose code was asked for, if the lead has opened the pages."""
    return _by_code(_opened(), request.GET.get("code", "").strip())


def public_feedback_file(request: HttpRequest) -> HttpResponse:
    """The same as PDF."""
    return _file(_opened(), *opened_pair(request), is_public=True)


def _known(pair_id: int) -> tuple[EventRecord, str]:
    record = current_event()
    pair = record.pairs.filter(pk=pair_id).first() if record else None
    if record is None or pair is None:
        raise InputError("is not known", where="pair", mend="Go back to the standings")
    return record, pair.code


def _opened() -> EventRecord:
    record = current_event()
    if record is None or record.released_at is None or not record.shows_feedback:
        raise RuleError("the pages of the pairs are not open", mend="Ask the lead of the event")
    return record


def _by_code(record: EventRecord, code: str) -> tuple[Results, str]:
    found = read_pair_code(code, record.pairs.values_list("code", flat=True))
    return current_results(record), found


def _view(
    record: EventRecord, outcome: Results, code: str, *, is_public: bool = False
) -> PairFeedbackView:
    last = record.public_places if is_public else None
    found = feedback_view(outcome, [code], release=release_number(record), last_place=last)
    return PairFeedbackView(pair_title(code), code, found, found.pages[0])


def _proof(record: EventRecord, code: str) -> str:
    release = current_release(record)
    proof = proof_of_pair(release, current_results(record), code) if release else None
    return proof.text if proof else ""


def _file(
    record: EventRecord, outcome: Results, code: str, *, is_public: bool = False
) -> HttpResponse:
    last = record.public_places if is_public else None
    pdf = feedback_pdf(outcome, [code], release=release_number(record), last_place=last)
    return file_answer(pdf, "feedback.pdf")
