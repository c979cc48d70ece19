"""Places: for the lead at any time, for everybody once they are released."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from django.http import HttpRequest, HttpResponse
from django.utils.safestring import SafeString

from nearmark.contest.open_points import OpenPoint
from nearmark.contest.podium import key_doubts
from nearmark.contest.rank_confidence import RankConfidence
from nearmark.contest.results import ItemScore, PairResult, Results
from nearmark.printing import key_sheet_pdf, standings_pdf
from nearmark.site.common.forms import ReasonForm
from nearmark.site.common.rendered_parts import kept_part
from nearmark.site.common.responses import done, file_answer, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.confidence_cache import CONFIDENCE, ConfidenceStatus, drawn
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results, results_at
from nearmark.site.event_day.results import actions as releases
from nearmark.site.event_day.results.forms import ReleaseForm
from nearmark.site.event_day.results.proof_lines import release_number, released_head, seal_line
from nearmark.site.event_day.results.rankings import (
    SchoolTable,
    Shown,
    rule_of_schools,
    school_tables,
    shown,
)
from nearmark.words.standings import StandingWords, not_comparable, standing_words


@dataclass(frozen=True, slots=True)
class Line:
    """A pair in the standings; ``scores`` in the order of the items, ``None`` where none."""

    pair_id: int
    result: PairResult
    scores: tuple[ItemScore | None, ...]
    holds: float | None


@dataclass(frozen=True, slots=True)
class StandingsTable:
    """The table of the standings."""

    outcome: Results
    items: list[str]  # codes of the items with a key
    lines: list[Line]
    confidence: RankConfidence | None
    has_divisions: bool  # whether each line also has its division and the place there


@dataclass(frozen=True, slots=True)
class StandingsView:
    """The standings with everything that speaks for and against them."""

    title: str
    number: int  # of the release that is out; 0 when none is
    outcome: Results
    shown: Shown  # of all pairs, of a division, or of the schools
    schools: tuple[SchoolTable, ...]  # where they were asked for
    school_rule: str
    not_comparable: str  # why nobody has a place over all; empty where all can be compared
    table: SafeString
    words: StandingWords
    doubts: list[tuple[OpenPoint, int | None]]  # with the number of the item
    is_pending: bool  # how sure the places are is being drawn
    n_open: int  # open points of the whole event
    form: ReleaseForm
    back_form: ReasonForm


def standings(request: HttpRequest) -> HttpResponse:
    """The standings with everything that speaks for and against them."""
    view = _view(required_event(), None, ReasonForm(), request.GET)
    return show(request, "event_day/results/standings", view)


def _view(
    record: EventRecord,
    form: ReleaseForm | None,
    back_form: ReasonForm,
    asked: Mapping[str, str] = MappingProxyType({}),
) -> StandingsView:
    revision, whole = results_at(record)
    chosen = shown(whole, asked)
    outcome = chosen.outcome
    doubts = key_doubts(outcome)
    # While a key is in doubt nothing is said of how sure the places are, so nothing is drawn.
    sure = ConfidenceStatus(None, is_pending=False) if doubts else CONFIDENCE.ask(whole)
    confidence = sure.confidence
    if confidence is not None and outcome.division:
        confidence = confidence.of_division(outcome.division)
    item_ids = dict(record.items.values_list("code", "pk"))

    def table() -> StandingsTable:
        holds = confidence and confidence.place_stands
        rows = lines(record, outcome, holds)
        has_divisions = bool(whole.event.divisions) and not outcome.division
        return StandingsTable(outcome, scored_items(outcome), rows, confidence, has_divisions)

    return StandingsView(
        title="Standings",
        number=release_number(record),
        outcome=outcome,
        shown=chosen,
        schools=school_tables(whole) if chosen.is_schools else (),
        school_rule=rule_of_schools(whole),
        not_comparable="" if whole.is_comparable else not_comparable(),
        table=kept_part(
            "event_day/results/standings_table",
            revision and (revision, confidence is not None, chosen.key),
            table,
        ),
        words=standing_words(outcome, confidence),
        doubts=[(point, item_ids.get(point.item)) for point in doubts],
        is_pending=sure.is_pending,
        n_open=len(whole.open_points),
        form=form or ReleaseForm(n_open=len(whole.open_points)),
        back_form=back_form,
    )


def scored_items(outcome: Results) -> list[str]:
    """Codes of the items that have a key."""
    return [code for code, key in outcome.keys.items() if key.key is not None]


def lines(record: EventRecord, outcome: Results, holds: object = None) -> list[Line]:
    """The rows of a table of standings. ``holds``: callable code -> probability or None."""
    items = scored_items(outcome)
    numbers = dict(record.pairs.values_list("code", "pk"))
    rows = []
    for result in outcome.pairs:
        by_item = {score.item: score for score in result.items}
        held = holds(result.pair.code) if callable(holds) else None
        rows.append(
            Line(
                numbers[result.pair.code], result, tuple(by_item.get(code) for code in items), held
            )
        )
    return rows


def standings_file(_request: HttpRequest) -> HttpResponse:
    """The standings as PDF, with the codes only."""
    record = required_event()
    outcome = current_results(record)
    confidence = CONFIDENCE.ask(outcome).confidence or drawn(outcome)
    head, number = released_head(record), release_number(record)
    return file_answer(
        standings_pdf(outcome, confidence, head=head, release=number), "standings.pdf"
    )


def key_sheet_file(_request: HttpRequest) -> HttpResponse:
    """Every key and how sure it is, as PDF."""
    record = required_event()
    return file_answer(
        key_sheet_pdf(current_results(record), seal=seal_line(record)), "key-sheet.pdf"
    )


@post_only
def release(request: HttpRequest) -> HttpResponse:
    """Out with them."""
    n_open = len(current_results(required_event()).open_points)
    form = ReleaseForm(request.POST, n_open=n_open)
    with refusals_on(form):
        releases.release(**form.checked(), by=visitor_of(request).name)
        return done(request, "The results are out.", "standings")
    view = _view(required_event(), form, ReasonForm())
    return show(request, "event_day/results/standings", view, status=form.http_status)


@post_only
def withhold(request: HttpRequest) -> HttpResponse:
    """Take them back."""
    form = ReasonForm(request.POST)
    with refusals_on(form):
        releases.withhold(**form.checked(), by=visitor_of(request).name)
        return done(request, "The results are taken back.", "standings")
    view = _view(required_event(), None, form)
    return show(request, "event_day/results/standings", view, status=form.http_status)
