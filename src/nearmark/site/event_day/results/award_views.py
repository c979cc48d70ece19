"""The awards: who is called in which order, how many certificates, and a sheet for a run-off."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.contest.awards import DivisionAwards, awards
from nearmark.contest.results import Results
from nearmark.printing.run_off import run_off_pdf
from nearmark.site.common.responses import file_answer, show
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.results.proof_lines import release_number
from nearmark.words.awards import (
    award_line,
    awarded_places,
    certificates,
    certificates_in_all,
    run_off_decides,
    run_off_needed,
    tie_rule,
)
from nearmark.words.replies import release_status


@dataclass(frozen=True, slots=True)
class AwardList:
    """The awards of one division, as they are called: the first place last."""

    division: str
    lines: tuple[str, ...]
    words: str  # how many places and certificates, and the tie rule
    run_off: str  # empty: none is needed


@dataclass(frozen=True, slots=True)
class AwardsView:
    """The awards of every division."""

    title: str
    state: str  # released, or provisional
    lists: tuple[AwardList, ...]
    certificates: str
    has_run_off: bool


def awards_page(request: HttpRequest) -> HttpResponse:
    """Who gets an award."""
    record = required_event()
    outcome = current_results(record)
    found = awards(outcome)
    lists = award_lists(found)
    view = AwardsView(
        title="Awards",
        state=_state(record, outcome),
        lists=lists,
        certificates=certificates_in_all(sum(one.n_certificates for one in found)),
        has_run_off=any(one.run_off for one in lists),
    )
    return show(request, "event_day/results/awards", view)


def award_lists(found: tuple[DivisionAwards, ...]) -> tuple[AwardList, ...]:
    """The awards in words."""
    return tuple(_list(one) for one in found)


def _list(found: DivisionAwards) -> AwardList:
    said = [awarded_places(found)]
    if found.awards:
        said += [certificates(found), tie_rule(found)]
    needs_run_off = found.shared_first and found.run_off
    return AwardList(
        found.division.name,
        tuple(award_line(award) for award in found.announced),
        " ".join(said),
        f"{run_off_needed(found)} {run_off_decides()}" if needs_run_off else "",
    )


def _state(record: EventRecord, outcome: Results) -> str:
    return release_status(release_number(record), len(outcome.open_points))


def run_off_file(request: HttpRequest) -> HttpResponse:
    """The sheet for every run-off that is needed."""
    del request
    record = required_event()
    return file_answer(run_off_pdf(current_results(record)), "run-off.pdf")
