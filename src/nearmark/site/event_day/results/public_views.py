"""What everybody may see, on a phone and on the screen of the hall."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from django.http import HttpRequest, HttpResponse
from django.utils.safestring import SafeString

from nearmark.contest.division_results import rankings
from nearmark.contest.place_changes import Standing
from nearmark.contest.rank_tally import PODIUM
from nearmark.contest.results import Results
from nearmark.errors import RuleError
from nearmark.site.common.lookup import known_row
from nearmark.site.common.rendered_parts import kept_part
from nearmark.site.common.responses import show
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import results_at
from nearmark.site.event_day.results.actions import is_public, standings_kept
from nearmark.site.event_day.results.models import CorrectionRecord, Release
from nearmark.site.event_day.results.proof_lines import current_release, released_head, seal_line
from nearmark.site.event_day.results.rankings import (
    SchoolTable,
    Shown,
    rule_of_schools,
    school_tables,
    shown,
)
from nearmark.site.event_day.results.views import Line, lines
from nearmark.words.numbers import points_words
from nearmark.words.public import release_title
from nearmark.words.standings import not_comparable, tie_sentences


@dataclass(frozen=True, slots=True)
class PublicWaitingView:
    """Before the results are out."""

    title: str
    seal: str  # the newest sealing of the keys in one line


@dataclass(frozen=True, slots=True)
class PublicTable:
    """The places that everybody may see."""

    event_record: EventRecord
    outcome: Results
    lines: list[Line]
    has_divisions: bool  # whether each line also has its division and the place there


@dataclass(frozen=True, slots=True)
class PublicView:
    """The results, on a phone."""

    title: str
    outcome: Results
    shown: Shown
    schools: tuple[SchoolTable, ...]
    school_rule: str
    not_comparable: str
    ties: tuple[str, ...]
    corrections: list[CorrectionRecord]
    table: SafeString
    earlier: Iterable[Release]
    release: Release | None
    head: str  # empty when the release has no proof


@dataclass(frozen=True, slots=True)
class BigScreenView:
    """The results, on the screen of the hall."""

    title: str
    outcome: Results
    shown: Shown
    schools: tuple[SchoolTable, ...]
    school_rule: str
    ties: tuple[str, ...]
    corrections: list[CorrectionRecord]
    lines: list[Line]
    podium: list[Line]
    has_divisions: bool


@dataclass(frozen=True, slots=True)
class PublicEarlierView:
    """Standings that were out before a correction."""

    title: str
    kept: Release
    placed: list[tuple[Standing, str]]  # with the points in words
    has_divisions: bool
    is_newest: bool
    after: list[CorrectionRecord]


def public_results(request: HttpRequest) -> HttpResponse:
    """The places; nothing before the release."""
    record = current_event()
    is_big = request.GET.get("screen") == "big"
    if record is None or record.released_at is None:
        name = record.name if record else "Nearmark"
        page = (
            "event_day/results/public_big_waiting" if is_big else "event_day/results/public_waiting"
        )
        seal = seal_line(record) if record else ""
        return show(request, page, PublicWaitingView(name, seal))
    revision, whole = results_at(record)
    chosen = shown(whole, request.GET)
    outcome = chosen.outcome
    has_divisions = bool(whole.event.divisions) and not outcome.division
    schools = school_tables(whole, last_place=record.public_places) if chosen.is_schools else ()
    corrected = _corrections(record, whole)
    if is_big:
        placed = _placed(record, outcome)
        big = BigScreenView(
            title=record.name,
            outcome=outcome,
            shown=chosen,
            schools=schools,
            school_rule=rule_of_schools(whole),
            ties=tie_sentences(outcome, last_place=PODIUM),
            corrections=corrected,
            lines=placed,
            has_divisions=has_divisions,
            podium=[line for line in placed if (line.result.place or 0) <= PODIUM],
        )
        return show(request, "event_day/results/public_big", big)

    def table() -> PublicTable:
        return PublicTable(record, outcome, _placed(record, outcome), has_divisions)

    release = current_release(record)
    view = PublicView(
        title=record.name,
        outcome=outcome,
        shown=chosen,
        schools=schools,
        school_rule=rule_of_schools(whole),
        not_comparable="" if whole.is_comparable else not_comparable(),
        ties=tie_sentences(outcome, last_place=record.public_places),
        corrections=corrected,
        table=kept_part(
            "event_day/results/public_table", revision and (revision, chosen.key), table
        ),
        earlier=record.releases.filter(number__lt=release.number) if release else (),
        release=release,
        head=released_head(record),
    )
    return show(request, "event_day/results/public", view)


def _placed(record: EventRecord, outcome: Results) -> list[Line]:
    """The lines that everybody may see, without a place in a division that nobody may."""
    return [
        replace(line, result=replace(line.result, division_place=None))
        if not is_public(record, line.result.division_place)
        else line
        for line in lines(record, outcome)
        if is_public(record, line.result.place)
    ]


def _corrections(record: EventRecord, outcome: Results | None = None) -> list[CorrectionRecord]:
    """What was put right, without the places of pairs that are not on the page."""
    rows = list(record.corrections.select_related("release"))
    if record.public_places is None:
        return rows
    kept = [row for release in record.releases.all() for row in standings_kept(release)]
    codes = {row.code for row in kept}
    seen = {
        row.code
        for row in kept
        if is_public(record, row.place) or is_public(record, row.division_place)
    }
    for ranking in rankings(outcome) if outcome is not None else ():
        seen |= {line.result.pair.code for line in _placed(record, ranking)}
    for row in rows:
        # Each line begins with the code of its pair; one without is of no pair.
        row.moved = [w for w in row.moved if w.split(": ")[0] not in codes - seen]
    return rows


def public_earlier(request: HttpRequest, number: int) -> HttpResponse:
    """Standings that were out before a correction, as they were."""
    record = _released()
    kept = known_row(record.releases, "release", "See the results", number=number)
    placed = [
        (_of_everybody(record, row), points_words(row.total, kept.decimals))
        for row in standings_kept(kept)
        if is_public(record, row.place) or is_public(record, row.division_place)
    ]
    newest = record.releases.first()
    view = PublicEarlierView(
        title=release_title(number),
        kept=kept,
        placed=placed,
        has_divisions=any(row.division for row, _ in placed),
        is_newest=newest is not None and newest.number == number,
        after=[c for c in _corrections(record) if c.release.number > number],
    )
    return show(request, "event_day/results/public_earlier", view)


def _of_everybody(record: EventRecord, row: Standing) -> Standing:
    """A line without a place that not everybody may see."""
    return replace(
        row,
        place=row.place if is_public(record, row.place) else None,
        division_place=row.division_place if is_public(record, row.division_place) else None,
    )


def _released() -> EventRecord:
    record = current_event()
    if record is None or record.released_at is None:
        raise RuleError("the results are not out", mend="They appear when the lead releases them")
    return record
