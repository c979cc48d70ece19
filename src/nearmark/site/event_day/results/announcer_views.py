"""What the announcer reads out: who goes next in each room, and the first places once released."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from nearmark.contest.awards import awards
from nearmark.site.common.responses import show
from nearmark.site.event.current import required_event
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.heats.state import Hall, halls_now, pairs_of_heat
from nearmark.site.event_day.results.award_views import AwardList, award_lists
from nearmark.words.heats import heat_text


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
class AnnouncerView:
    """What is read out now; nobody's place before the release."""

    title: str
    calls: list[RoomCall]
    awards: tuple[AwardList, ...]  # of each division; the first place last, as they are read out


def announcer(request: HttpRequest) -> HttpResponse:
    """The list of the announcer; nothing can be changed here."""
    record = required_event()
    is_out = record.released_at is not None
    found = awards(current_results(record)) if is_out else ()
    view = AnnouncerView(
        title=_("Announcer"),
        calls=[] if is_out else [_call(record, hall) for hall in halls_now(record)],
        awards=award_lists(found, names=record.shows_names),
    )
    return show(request, "event_day/results/announcer", view)


def _call(record: EventRecord, hall: Hall) -> RoomCall:
    pairs = pairs_of_heat(record, hall.next_heat, hall.room)
    return RoomCall(hall.words, heat_text(hall.next_heat), _schools(pairs))


def _schools(pairs: Iterable[PairRecord]) -> list[SchoolCall]:
    ordered = sorted(pairs, key=lambda pair: pair.school)
    of_school = groupby(ordered, key=lambda pair: pair.school)
    return [SchoolCall(school, [pair.code for pair in rows]) for school, rows in of_school]
