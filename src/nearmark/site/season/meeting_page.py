"""What the pages of a meeting show of it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta

from django.shortcuts import get_object_or_404

from nearmark.coaching import MeetingPlan, Part, refills, seated
from nearmark.coaching import Thing as CoreThing
from nearmark.site.common import clock
from nearmark.site.season.known_things import core_thing
from nearmark.site.season.meeting_actions import learners_in, pairs_in
from nearmark.site.season.meeting_sheet import PlaceLine, place_lines
from nearmark.site.season.models import Meeting, MeetingPlace
from nearmark.station import Station
from nearmark.words.coaching_meeting import fetch_words, part_title, part_words, refill_words


@dataclass(frozen=True, slots=True)
class PartLine:
    """One part, as shown; at the stations the rota says who is where."""

    part: Part
    title: str
    words: tuple[str, ...]
    places: tuple[PlaceLine, ...] = ()

    @property
    def ends_min(self) -> int:
        """Since the meeting began."""
        return self.part.begins_min + self.part.minutes


def meeting_of(meeting_id: int) -> Meeting:
    """A meeting by its number, or the page that says there is none."""
    return get_object_or_404(Meeting.objects.select_related("club"), pk=meeting_id)


def lines_of(meeting: Meeting) -> list[PlaceLine]:
    """All places, by slot and name, with what is saved and what to say."""
    return place_lines(meeting, meeting.places.select_related("pupil", "thing"))


def plan_of(meeting: Meeting, places: Iterable[MeetingPlace]) -> MeetingPlan:
    """A meeting as the core knows it; what is used up is not looked at."""
    slots: dict[int, dict[str, CoreThing | None]] = {}
    for place in places:
        thing = core_thing(place.thing) if place.thing else None
        slots.setdefault(place.slot, {})[place.pupil.name] = thing
    rota = tuple(slots[slot] for slot in sorted(slots))
    names = [pupil.name for pupil in meeting.pupils.all()]
    partners = seated(names, pairs_in(meeting.club), rota)
    return MeetingPlan(meeting.parts(), Station(meeting.warm_up), rota, partners, ())


def part_lines(meeting: Meeting, lines: Sequence[PlaceLine]) -> list[PartLine]:
    """Every part with what to say in it."""
    plan = plan_of(meeting, [line.place for line in lines])
    return [
        PartLine(
            part,
            part_title(part),
            part_words(part, plan),
            tuple(line for line in lines if line.place.slot == part.slot),
        )
        for part in plan.parts
    ]


def fetch_lines(meeting: Meeting, lines: Sequence[PlaceLine]) -> list[str]:
    """What to fetch from the cupboard."""
    plan = plan_of(meeting, [line.place for line in lines])
    return [*(thing.name for thing in plan.fetch), *fetch_words(plan)]


def refill_lines(meeting: Meeting) -> list[str]:
    """What is used up, and what to do about it; nothing while lessons fill the meeting."""
    if all(part.slot is None for part in meeting.parts()):
        return []
    things = map(core_thing, meeting.club.things.filter(retired_at=None))
    learners = learners_in(meeting.club, list(meeting.pupils.all()))
    return [refill_words(each) for each in refills(learners, list(things))]


def left_ms(meeting: Meeting) -> int:
    """What is left of the part that runs; zero and below: time is up."""
    if meeting.part is None or meeting.part_began_at is None or meeting.is_over:
        return 0
    part = meeting.parts()[meeting.part]
    gone = clock.now() - meeting.part_began_at
    return round((timedelta(minutes=part.minutes) - gone) / timedelta(milliseconds=1))
