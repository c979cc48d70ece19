"""A meeting: plan it, plan the rest of it again, go through its parts, keep what was estimated."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass, replace

from nearmark.coaching import (
    Attempt,
    Equipment,
    Learner,
    Slot,
    after_slots,
    learners_here,
    lessons_left,
    plan_meeting,
    rota,
)
from nearmark.coaching import Thing as CoreThing
from nearmark.errors import InputError
from nearmark.site.common import clock
from nearmark.site.common.local_time import today
from nearmark.site.common.writing import writing
from nearmark.site.event.history import note
from nearmark.site.season.attempt_actions import keep_attempt, strike_attempt
from nearmark.site.season.habits_cache import habits_of
from nearmark.site.season.known_things import core_thing, truths_seen_in
from nearmark.site.season.models import (
    Club,
    Meeting,
    MeetingPlace,
    PracticeAttempt,
    PracticePair,
    Pupil,
    Source,
    Thing,
)


@dataclass(frozen=True, slots=True)
class Wanted:
    """How long, and what is at hand."""

    minutes: int
    scales: int = 1
    calculators: int | None = None

    @property
    def equipment(self) -> Equipment:
        """As the core knows it."""
        return Equipment(self.scales, self.calculators)


def pairs_in(club: Club) -> list[tuple[str, str]]:
    """Names of the pairs of a club."""
    return list(club.pairs.values_list("first__name", "second__name"))


def learners_in(club: Club, here: Sequence[Pupil]) -> list[Learner]:
    """What is known of those who are here."""
    things = map(core_thing, club.things.filter(retired_at=None))
    names = sorted(pupil.name for pupil in here)
    return learners_here(names, habits_of(club), things, truths_seen_in(club))


def make_meeting(club: Club, here: Sequence[Pupil], wanted: Wanted, *, by: str) -> Meeting:
    """Plan a meeting; one that was planned before and never begun goes."""
    rows = {core_thing(thing): thing for thing in club.things.filter(retired_at=None)}
    taught = sum(meeting.n_lessons_held for meeting in Meeting.objects.filter(club=club))
    lessons = [] if club.attempts.exists() else list(lessons_left(taught))
    plan = plan_meeting(
        learners_in(club, here),
        list(rows),
        minutes=wanted.minutes,
        equipment=wanted.equipment,
        pairs=pairs_in(club),
        lessons=lessons,
    )
    with writing():
        Meeting.objects.filter(club=club, part=None).delete()
        meeting = Meeting.objects.create(
            club=club,
            day=today(),
            made_at=clock.now(),
            minutes=wanted.minutes,
            scales=wanted.scales,
            calculators=wanted.calculators,
            lessons=[lesson.value for lesson in lessons],
            warm_up=plan.warm_up.value,
        )
        meeting.pupils.set(here)
        _keep_slots(meeting, here, plan.slots, rows, first=0)
        note(None, by, f"club {club.pk}: planned a meeting", new=str(meeting))
    return meeting


def _keep_slots(
    meeting: Meeting,
    here: Sequence[Pupil],
    slots: Sequence[Slot],
    rows: dict[CoreThing, Thing],
    *,
    first: int,
) -> None:
    of_name = {pupil.name: pupil for pupil in here}
    MeetingPlace.objects.bulk_create(
        MeetingPlace(
            meeting=meeting,
            pupil=of_name[name],
            thing=rows[thing] if thing is not None else None,
            slot=first + i,
            key=uuid.uuid4(),
        )
        for i, slot in enumerate(slots)
        for name, thing in slot.items()
    )


def plan_rest_again(meeting: Meeting, here: Sequence[Pupil], *, by: str) -> None:
    """Plan the slots of which nothing is written down again, for those who are here now."""
    if not here:
        raise InputError("is nobody", where="who is here", mend="Tick at least one child")
    with writing():
        first = first_slot_left(meeting)
        before = list(meeting.places.filter(slot__lt=first).select_related("thing", "pupil"))
        things = {core_thing(t): t for t in meeting.club.things.filter(retired_at=None)}
        learners = [
            _so_far(learner, [place for place in before if place.pupil.name == learner.name], first)
            for learner in learners_in(meeting.club, here)
        ]
        n_slots = sum(part.slot is not None for part in meeting.parts())
        slots = rota(
            learners,
            list(things),
            n_slots - first,
            equipment=Equipment(meeting.scales, meeting.calculators),
            pairs=pairs_in(meeting.club),
        )
        meeting.places.filter(slot__gte=first).delete()
        meeting.pupils.set(here)
        _keep_slots(meeting, here, slots, things, first=first)
        note(None, by, f"club {meeting.club_id}: planned the rest of a meeting again")


def _so_far(learner: Learner, places: Sequence[MeetingPlace], first: int) -> Learner:
    """A child after the slots before; who was away in the last of them may begin with any kind."""
    done = [None if place.thing is None else core_thing(place.thing) for place in places]
    after = after_slots(learner, done)
    was_here = bool(places) and places[-1].slot == first - 1
    return after if was_here else replace(after, before=None)


def first_slot_left(meeting: Meeting) -> int:
    """Number of the first slot that can still be planned."""
    running = meeting.part or 0
    parts = meeting.parts()
    past = [part.slot for part in parts[:running] if part.slot is not None]
    now = parts[running].slot if running < len(parts) else None
    if now is not None and results_of(meeting, slot=now):
        past.append(now)
    return len(past)


def results_of(meeting: Meeting, **places: object) -> dict[uuid.UUID, PracticeAttempt]:
    """What was kept at the places of a meeting, by key."""
    keys = meeting.places.filter(**places).values_list("key", flat=True)
    rows = PracticeAttempt.objects.filter(key__in=list(keys), struck_at=None)
    return {row.key: row for row in rows.select_related("pupil")}


def go_to(meeting_id: int, part: int) -> Meeting:
    """Begin a part; who asks for one that runs already changes nothing."""
    with writing():
        meeting = Meeting.objects.get(pk=meeting_id)
        part = min(part, len(meeting.parts()))
        if meeting.part is None or part > meeting.part:
            meeting.part, meeting.part_began_at = part, clock.now()
            meeting.save()
    return meeting


@dataclass(frozen=True, slots=True)
class PlaceResult:
    """What one pupil said at one place."""

    place: MeetingPlace
    attempt: Attempt
    pair: PracticePair | None


def keep_results(results: Sequence[PlaceResult], *, club: Club, by: str) -> None:
    """Keep results, all or none; of a number typed again the one before is struck out."""
    with writing():
        for result in results:
            place = result.place
            before = PracticeAttempt.objects.filter(key=place.key).first()
            if before is not None:
                if before.struck_at is None and before.estimate == result.attempt.estimate:
                    continue
                if before.struck_at is None:
                    strike_attempt(before.pk, by=by, why="typed again")
                place.key = uuid.uuid4()
                place.save()
            keep_attempt(
                place.key,
                club=club,
                pupil=place.pupil,
                attempt=result.attempt,
                source=Source.ROUND,
                by=by,
                pair=result.pair,
            )
