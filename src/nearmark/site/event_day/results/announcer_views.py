"""What the announcer reads out: who goes next in each room, and the first places once released."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from django.http import HttpRequest, HttpResponse

from nearmark.contest.awards import awards
from nearmark.contest.rank_tally import PODIUM
from nearmark.contest.results import Results
from nearmark.site.common.responses import show
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.heats.state import Hall, halls_now, pairs_of_heat
from nearmark.site.event_day.results.award_views import AwardList, award_lists
from nearmark.words.event_rooms import room_now
from nearmark.words.standings import tie_sentences


@dataclass(frozen=True, slots=True)
class SchoolCall:
    """The pairs of one school that are called together."""

    school: str
    codes: list[str]


@dataclass(frozen=True, slots=True)
class RoomCall:
    """What is called out in one room."""

    now: str
    heat: str  # the next one; empty when every heat was started
    schools: list[SchoolCall]


@dataclass(frozen=True, slots=True)
class Award:
    """One place of the podium."""

    place: int
    code: str
    school: str
    members: list[str]  # empty unless the lead shows names


@dataclass(frozen=True, slots=True)
class AnnouncerView:
    """What is read out now; nobody's place before the release."""

    title: str
    calls: list[RoomCall]
    awards: list[Award]  # the last one first, as they are read out
    ties: tuple[str, ...]
    divisions: tuple[AwardList, ...]  # instead of both, of an event with divisions


def announcer(request: HttpRequest) -> HttpResponse:
    """The list of the announcer; nothing can be changed here."""
    record = required_event()
    is_out = record.released_at is not None
    outcome = current_results(record) if is_out else None
    has_divisions = outcome is not None and bool(outcome.event.divisions)
    whole = None if has_divisions else outcome
    view = AnnouncerView(
        title="Announcer",
        calls=[] if is_out else [_call(record, hall) for hall in halls_now(record)],
        awards=_awards(record, whole) if whole else [],
        ties=tie_sentences(whole, last_place=PODIUM) if whole else (),
        divisions=award_lists(awards(outcome)) if outcome and has_divisions else (),
    )
    return show(request, "event_day/results/announcer", view)


def _call(record: EventRecord, hall: Hall) -> RoomCall:
    now = room_now(hall.room, hall.heat, hall.now.state, hall.ends, hall.next_heat)
    return RoomCall(now, hall.next_heat, _schools(pairs_of_heat(record, hall.next_heat, hall.room)))


def _schools(pairs: Iterable[PairRecord]) -> list[SchoolCall]:
    ordered = sorted(pairs, key=lambda pair: pair.school)
    of_school = groupby(ordered, key=lambda pair: pair.school)
    return [SchoolCall(school, [pair.code for pair in rows]) for school, rows in of_school]


def _awards(record: EventRecord, outcome: Results) -> list[Award]:
    placed = [line for line in outcome.pairs if line.place is not None and line.place <= PODIUM]
    placed.sort(key=lambda line: -(line.place or 0))
    return [
        Award(
            line.place or 0,
            line.pair.code,
            line.pair.school,
            list(line.pair.members) if record.shows_names else [],
        )
        for line in placed
    ]
