"""The awards: who is called in which order, how many certificates, and a sheet for a run-off."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from nearmark.contest.awards import DivisionAwards, awards
from nearmark.printing.run_off import run_off_pdf
from nearmark.site.common.responses import file_answer, show
from nearmark.site.event.current import required_event
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
from nearmark.words.numbers import both
from nearmark.words.replies import release_status


@dataclass(frozen=True, slots=True)
class AwardLine:
    """One place, as it is called."""

    words: str
    names: str  # of the children, by pair; empty unless the lead shows names


@dataclass(frozen=True, slots=True)
class AwardList:
    """The awards of one division, as they are called: the first place last."""

    division: str
    lines: tuple[AwardLine, ...]
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
        title=_("Awards"),
        state=release_status(release_number(record), len(outcome.open_points)),
        lists=lists,
        certificates=certificates_in_all(sum(one.n_certificates for one in found)),
        has_run_off=any(one.run_off for one in lists),
    )
    return show(request, "event_day/results/awards", view)


def award_lists(found: tuple[DivisionAwards, ...], *, names: bool = False) -> tuple[AwardList, ...]:
    """The awards in words; ``names``: with the children's names."""
    return tuple(_list(one, names=names) for one in found)


def _list(found: DivisionAwards, *, names: bool) -> AwardList:
    said = [awarded_places(found)]
    if found.awards:
        said += [certificates(found), tie_rule(found)]
    needs_run_off = found.shared_first and found.run_off
    return AwardList(
        found.division.name,
        tuple(
            AwardLine(
                award_line(award),
                "; ".join(both(pair.members) for pair in award.pairs if any(pair.members))
                if names
                else "",
            )
            for award in found.announced
        ),
        " ".join(said),
        f"{run_off_needed(found)} {run_off_decides()}" if needs_run_off else "",
    )


def run_off_file(_request: HttpRequest) -> HttpResponse:
    """The sheet for every run-off that is needed."""
    record = required_event()
    return file_answer(run_off_pdf(current_results(record)), "run-off.pdf")
