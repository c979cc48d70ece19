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
from nearmark.words.event_rooms import heat_in_room
from nearmark.words.numbers import plural
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


def _n(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"


def _keys(outcome: Results) -> Step:
    points = [p for p in outcome.open_points if p.kind in KIT_KINDS]
    items = dict.fromkeys(point.item for point in points)
    if not outcome.keys:
        why = "there is no item yet"
    elif points:
        why = f"still to do: {', '.join(items)}"
    else:
        n_fit = sum(key.fit for key in outcome.keys.values())
        n_decided = len(outcome.keys) - n_fit
        why = f"{_n(n_fit, 'key is', 'keys are')} fit"
        if n_decided:
            why += f", {n_decided} accepted with a reason"
    is_done = bool(outcome.keys) and not points
    return Step("Measure the keys", why, reverse("kit"), "Go to the kit", is_done)


def _cups(outcome: Results) -> Iterator[Step]:
    """Before the day: a full cup cannot be weighed empty any more."""
    if not any(item.station is Station.MASS for item in outcome.event.items):
        return
    n = len(outcome.event.cups)
    why = f"{_n(n, 'cup has', 'cups have')} a mass" if n else "no cup has been weighed empty yet"
    yield Step("Weigh the empty cups", why, reverse("cups"), "Go to the cups", bool(n))


def _pairs(outcome: Results) -> Step:
    n = len(outcome.event.pairs)
    why = f"{plural(n, 'pair')} so far" if n else "there is no pair yet"
    return Step("Enter the pairs", why, reverse("pairs"), "Go to the pairs", bool(n))


def _heats_planned(outcome: Results) -> Step:
    taking_part = [pair for pair in outcome.event.pairs if pair.status in TAKES_PART]
    n_without = sum(not pair.heat for pair in taking_part)
    if not taking_part:
        why = "there is no pair to plan for yet"
    elif n_without:
        why = f"{n_without} of {plural(len(taking_part), 'pair')} without a heat"
    else:
        why = "every pair has a heat"
    is_done = bool(taking_part) and not n_without
    return Step("Plan the heats", why, reverse("heats"), "Plan the heats", is_done)


def _paper(outcome: Results, record: EventRecord) -> Step:
    """Nobody can know what lies on the tables; what was written on it shows that it does."""
    is_made = record.jobs.filter(kind__startswith="paper-", state=JobState.DONE).exists()
    if outcome.event.answers:
        why = "answers are in"
    elif is_made:
        why = "all paper of the day was made in one file"
    else:
        why = "answer sheets, labels, lists, and forms in case the screens fail"
    is_done = bool(outcome.event.answers) or is_made
    return Step("Print the paper", why, reverse("paper"), "Go to the paper", is_done)


def _devices(outcome: Results) -> Step:
    now = clock.now()
    helpers = Device.objects.filter(account__role=Role.SCORER.value).select_related("account")
    names = dict.fromkeys(device.account.name for device in helpers if device.is_open(now))
    states = state_counts(outcome)
    is_read = bool(outcome.answers) and states["missing"] + states["single"] == 0
    if names:
        why = f"{_n(len(names), 'helper is', 'helpers are')} in"
    elif is_read:
        why = "no helper is in, and no answer waits for one"
    else:
        why = "no helper is in; two people read each sheet"
    is_done = bool(names) or is_read
    return Step("Bring the helpers in", why, reverse("devices"), "Go to the devices", is_done)


def _weigh_in(outcome: Results) -> Iterator[Step]:
    weighed = {i.code for i in outcome.event.items if i.station is Station.MASS}
    if not weighed:
        return
    states = [a.state for a in outcome.answers.values() if a.item in weighed]
    n_in = sum(state is not AnswerState.MISSING for state in states)
    why = f"{n_in} of {_n(len(states), 'cup is', 'cups are')} in" if states else "no cup is in yet"
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
    if not planned:
        why = "there is no heat yet"
    elif to_come:
        why = f"still to come: {', '.join(to_come)}"
    elif unseen:
        why = f"not started on this clock, but with answers: {', '.join(unseen)}"
    else:
        why = "every heat was started"
    is_done = bool(planned) and not to_come
    return Step("Run the heats", why, reverse("clock-control"), "Go to the hall clock", is_done)


def _read_twice(outcome: Results) -> Step:
    """Masses are read at the weigh-in, all other answers where answers are entered."""
    masses = {item.code for item in outcome.event.items if item.station is Station.MASS}
    left = [a for a in outcome.answers.values() if a.state in UNREAD]
    n_all, n_cups = len(outcome.answers), sum(a.item in masses for a in left)
    only_cups = bool(left) and n_cups == len(left)
    if not n_all:
        why = "there is nothing to read yet"
    elif left:
        wait = "waits" if len(left) == 1 else "wait"
        why = f"{len(left)} of {plural(n_all, 'answer')} {wait} for a reading"
        if n_cups:
            why += f", {'' if only_cups else f'{n_cups} of them '}at the weigh-in"
    else:
        why = f"none of {plural(n_all, 'answer')} waits for a reading"
    is_done = bool(n_all) and not left
    if only_cups:
        address, link = reverse("weigh-in"), "Go to the weigh-in"
    else:
        address, link = reverse("entry"), "Enter answers"
    return Step("Read every answer twice", why, address, link, is_done)


def _differences(outcome: Results) -> Step:
    states = state_counts(outcome)
    n = states["conflict"]
    n_left = states["missing"] + states["single"]
    if n:
        why = f"{_n(n, 'answer waits', 'answers wait')} for a third person"
    elif not outcome.answers or n_left:
        why = "none so far"
    else:
        why = "no two readings differ without a decision"
    is_done = bool(outcome.answers) and not n and not n_left
    address = reverse("differences")
    return Step("Settle the differences", why, address, "See the differences", is_done)


def _audit(record: EventRecord) -> Step:
    newest = record.audits.first()
    found = findings(newest) if newest else None
    why = (
        findings_sentences(found)[0].rstrip(".")
        if found
        else "no sheet is drawn yet; dice say which"
    )
    is_done = found is not None and not found.unread
    return Step("Read some sheets again", why, reverse("audit"), "Go to the paper audit", is_done)


def _points(outcome: Results) -> Step:
    others = [p for p in outcome.open_points if p.kind not in KIT_KINDS | READING_KINDS]
    n = len(others)
    is_read = bool(outcome.answers) and not any(a.state in UNREAD for a in outcome.answers.values())
    if n:
        why = f"{_n(n, 'point is', 'points are')} open beside the steps above"
    elif is_read:
        why = "no other point is open"
    else:
        why = "questions about answers will appear here"
    is_done = is_read and not n
    return Step("Settle the open points", why, reverse("points"), "See the open points", is_done)


def _release(record: EventRecord) -> Step:
    is_out = record.released_at is not None
    why = "they are out" if is_out else "nobody sees a place before you release them"
    return Step("Release the results", why, reverse("standings"), "See the standings", is_out)
