"""What the pages of a meeting show of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from django.db.models import QuerySet
from django.http import Http404

from nearmark.coaching import Part, PartKind, Partners, Slot, refills, seated
from nearmark.coaching import Thing as CoreThing
from nearmark.site.common import clock
from nearmark.site.season.known_things import core_thing
from nearmark.site.season.meeting_actions import learners_in, pairs_in
from nearmark.site.season.meeting_models import Meeting, MeetingPlace
from nearmark.site.season.meeting_sheet import PlaceLine, place_lines
from nearmark.site.season.models import Thing
from nearmark.station import Station
from nearmark.words.coaching_meeting import (
    at_hand_words,
    closing_words,
    lesson_fetch_words,
    lesson_words,
    part_title,
    partners_words,
    refill_words,
    warm_up_words,
)


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
    meeting = Meeting.objects.filter(pk=meeting_id).select_related("club").first()
    if meeting is None:
        raise Http404
    return meeting


def places_of(meeting: Meeting) -> QuerySet[MeetingPlace]:
    """All places, by slot and name."""
    return meeting.places.select_related("pupil", "thing")


def slots_of(places: Sequence[MeetingPlace]) -> tuple[Slot, ...]:
    """The rota as the core knows it."""
    slots: dict[int, dict[str, CoreThing | None]] = {}
    for place in places:
        thing = core_thing(place.thing) if place.thing else None
        slots.setdefault(place.slot, {})[place.pupil.name] = thing
    return tuple(slots[slot] for slot in sorted(slots))


def partners_of(meeting: Meeting, places: Sequence[MeetingPlace]) -> tuple[Partners, ...]:
    """Who sits with whom at the closing."""
    names = [pupil.name for pupil in meeting.pupils.all()]
    return seated(names, pairs_in(meeting.club), slots_of(places))


def part_lines(meeting: Meeting, places: Sequence[MeetingPlace]) -> list[PartLine]:
    """Every part with what to say in it."""
    said = place_lines(meeting, places)
    return [
        PartLine(
            part,
            part_title(part),
            _words(part, meeting, places),
            tuple(line for line in said if line.place.slot == part.slot),
        )
        for part in meeting.parts()
    ]


def _words(part: Part, meeting: Meeting, places: Sequence[MeetingPlace]) -> tuple[str, ...]:
    if part.lesson is not None:
        return (lesson_words(part.lesson),)
    if part.kind is PartKind.WARM_UP:
        return (warm_up_words(Station(meeting.warm_up)),)
    if part.kind is PartKind.CLOSING:
        partners = partners_of(meeting, places)
        return (closing_words(len(things_of(places))), *map(partners_words, partners))
    return ()


def things_of(places: Sequence[MeetingPlace]) -> list[Thing]:
    """The things of a rota, each once, by station and name."""
    things = {place.thing.pk: place.thing for place in places if place.thing}
    return sorted(things.values(), key=lambda thing: (thing.station, thing.name))


def fetch_lines(meeting: Meeting, places: Sequence[MeetingPlace]) -> list[str]:
    """What to fetch from the cupboard."""
    in_use: dict[tuple[int, bool], int] = {}
    for place in places:
        if place.thing:
            key = (place.slot, place.thing.station == "mass")
            in_use[key] = in_use.get(key, 0) + 1
    scales, calculators = (
        max((n for (_, is_mass), n in in_use.items() if is_mass is wanted), default=0)
        for wanted in (True, False)
    )
    at_hand = at_hand_words(scales, calculators)
    lessons = [lesson_fetch_words(part.lesson) for part in meeting.parts() if part.lesson]
    return [*(thing.name for thing in things_of(places)), *([at_hand] if at_hand else []), *lessons]


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
