"""The steps of the day, each with what is so now: a step says nothing that is not true yet."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from django.urls import reverse

from nearmark.contest.answers import AnswerState
from nearmark.contest.heat_records import TAKES_PART
from nearmark.contest.open_points import PointKind
from nearmark.contest.results import Results
from nearmark.site.common import clock
from nearmark.site.door.access import Role
from nearmark.site.door.models import Device
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.heats.state import EVERYBODY, heats_of, waiting_heats
from nearmark.site.event_day.results.audit_actions import findings
from nearmark.site.jobs.models import JobState
from nearmark.station import Station
from nearmark.words import day_steps as say
from nearmark.words.event_rooms import heat_in_room
from nearmark.words.paper_audit import findings_sentences

KIT_KINDS: Final = frozenset(
    {PointKind.NO_KEY, PointKind.KEY_NOT_FIT, PointKind.KEY_BY_WORD, PointKind.KIT_DOUBT}
)
"""What is settled in the kit room before the day."""

READING_KINDS: Final = frozenset({PointKind.MISSING, PointKind.SINGLE, PointKind.CONFLICT})
"""What has a step of its own."""

UNREAD: Final = frozenset({AnswerState.MISSING, AnswerState.SINGLE})
"""Answers that fewer than two people have read."""


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do."""

    # What to do, and what is so now.
    title: str
    why: str
    # Where it is done, and the words of the link.
    address: str
    link: str
    is_done: bool


def day_steps(outcome: Results, record: EventRecord) -> tuple[Step, ...]:
    """All steps in their order."""
    return (
        _keys(outcome),
        *_cups(outcome),
        _pairs(outcome),
        _heats_planned(outcome),
        _paper(outcome, record),
        _devices(outcome),
        _heats_run(outcome, record),
        *_weigh_in(outcome),
        _read_twice(outcome),
        _differences(outcome),
        _audit(record),
        _points(outcome),
        _release(record),
    )


def state_counts(outcome: Results) -> dict[str, int]:
    """How many answers are in each state."""
    counted = Counter(answer.state.value for answer in outcome.answers.values())
    return {state.value: counted[state.value] for state in AnswerState}


def _is_read(outcome: Results) -> bool:
    """Every answer was read twice."""
    return bool(outcome.answers) and not any(a.state in UNREAD for a in outcome.answers.values())


def _keys(outcome: Results) -> Step:
    waiting = dict.fromkeys(p.item for p in outcome.open_points if p.kind in KIT_KINDS)
    n_fit = sum(key.fit for key in outcome.keys.values())
    why = say.keys_now(n_fit, len(outcome.keys) - n_fit, [*waiting])
    is_done = bool(outcome.keys) and not waiting
    return Step("Measure the keys", why, reverse("kit"), "Go to the kit", is_done)


def _cups(outcome: Results) -> Iterator[Step]:
    """Before the day: a full cup cannot be weighed empty any more."""
    if any(item.station is Station.MASS for item in outcome.event.items):
        n = len(outcome.event.cups)
        address = reverse("cups")
        yield Step("Weigh the empty cups", say.cups_now(n), address, "Go to the cups", bool(n))


def _pairs(outcome: Results) -> Step:
    n = len(outcome.event.pairs)
    return Step("Enter the pairs", say.pairs_now(n), reverse("pairs"), "Go to the pairs", bool(n))


def _heats_planned(outcome: Results) -> Step:
    taking_part = [pair for pair in outcome.event.pairs if pair.status in TAKES_PART]
    n_without = sum(not pair.heat for pair in taking_part)
    why = say.heats_planned_now(len(taking_part), n_without)
    is_done = bool(taking_part) and not n_without
    return Step("Plan the heats", why, reverse("heats"), "Plan the heats", is_done)


def _paper(outcome: Results, record: EventRecord) -> Step:
    """Nobody can know what lies on the tables; what was written on it shows that it does."""
    is_made = record.jobs.filter(kind__startswith="paper-", state=JobState.DONE).exists()
    has_answers = bool(outcome.event.answers)
    why = say.paper_now(has_answers, is_made)
    is_done = has_answers or is_made
    return Step("Print the paper", why, reverse("paper"), "Go to the paper", is_done)


def _devices(outcome: Results) -> Step:
    now = clock.now()
    helpers = Device.objects.filter(account__role=Role.SCORER.value).select_related("account")
    names = {device.account.name for device in helpers if device.is_open(now)}
    is_read = _is_read(outcome)
    why = say.helpers_now(len(names), is_read)
    is_done = bool(names) or is_read
    return Step("Bring the helpers in", why, reverse("devices"), "Go to the devices", is_done)


def _weigh_in(outcome: Results) -> Iterator[Step]:
    weighed = {i.code for i in outcome.event.items if i.station is Station.MASS}
    if not weighed:
        return
    states = [a.state for a in outcome.answers.values() if a.item in weighed]
    n_in = sum(state is not AnswerState.MISSING for state in states)
    why = say.weighed_in_now(n_in, len(states))
    is_done = bool(states) and n_in == len(states)
    yield Step("Weigh the cups in", why, reverse("weigh-in"), "Go to the weigh-in", is_done)


def _heats_run(outcome: Results, record: EventRecord) -> Step:
    """A heat timed by another clock leaves no trace here; its answers do."""
    planned = heats_of(record)
    waiting = waiting_heats(record)
    answered = {answer.pair for answer in outcome.event.answers}
    answering = {
        heat_in_room(pair.heat or EVERYBODY, pair.room)
        for pair in outcome.event.pairs
        if pair.code in answered
    }
    to_come = [heat for heat in waiting if heat not in answering]
    unseen = [heat for heat in waiting if heat in answering]
    why = say.heats_run_now(len(planned), to_come, unseen)
    is_done = bool(planned) and not to_come
    return Step("Run the heats", why, reverse("clock-control"), "Go to the hall clock", is_done)


def _read_twice(outcome: Results) -> Step:
    """Masses are read at the weigh-in, all other answers where answers are entered."""
    masses = {item.code for item in outcome.event.items if item.station is Station.MASS}
    left = [a for a in outcome.answers.values() if a.state in UNREAD]
    n_cups = sum(a.item in masses for a in left)
    if left and n_cups == len(left):
        address, link = reverse("weigh-in"), "Go to the weigh-in"
    else:
        address, link = reverse("entry"), "Enter answers"
    why = say.read_twice_now(len(outcome.answers), len(left), n_cups)
    return Step("Read every answer twice", why, address, link, _is_read(outcome))


def _differences(outcome: Results) -> Step:
    n = state_counts(outcome)["conflict"]
    is_read = _is_read(outcome)
    why = say.differences_now(n, is_read)
    address, link = reverse("differences"), "See the differences"
    return Step("Settle the differences", why, address, link, is_read and not n)


def _audit(record: EventRecord) -> Step:
    newest = record.audits.first()
    found = findings(newest) if newest else None
    why = findings_sentences(found)[0].rstrip(".") if found else say.audit_not_drawn()
    is_done = found is not None and not found.unread
    return Step("Read some sheets again", why, reverse("audit"), "Go to the paper audit", is_done)


def _points(outcome: Results) -> Step:
    n = sum(p.kind not in KIT_KINDS | READING_KINDS for p in outcome.open_points)
    is_read = _is_read(outcome)
    why = say.points_now(n, is_read)
    address, link = reverse("points"), "See the open points"
    return Step("Settle the open points", why, address, link, is_read and not n)


def _release(record: EventRecord) -> Step:
    is_out = record.released_at is not None
    why = say.release_now(is_out)
    return Step("Release the results", why, reverse("standings"), "See the standings", is_out)
