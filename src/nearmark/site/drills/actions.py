"""A drill: open it, answer in it, close it; a mock contest goes by its own clock."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from typing import Any, Final

import numpy as np

from nearmark.coaching.attempt import STATION_PARTS, Attempt, Parts, parts_from
from nearmark.coaching.jar_reading import checked_estimate
from nearmark.contest import RuleSet
from nearmark.contest.heat_times import HeatClock, HeatState, heat_clock
from nearmark.errors import InputError, RuleError
from nearmark.event_folder.practice_log import MAX_FACTOR
from nearmark.site.common import clock
from nearmark.site.common.local_time import local_day
from nearmark.site.common.writing import writing
from nearmark.site.drills.jar_columns import item_columns
from nearmark.site.drills.models import Drill, DrillAnswer, DrillItem, DrillKind, DrillSeat
from nearmark.site.drills.room_actions import begin_room, takes_guess
from nearmark.site.drills.seat_actions import set_out
from nearmark.site.event.history import note
from nearmark.site.jars.actions import known_jar
from nearmark.site.jars.models import PracticeJar
from nearmark.site.season.attempt_actions import keep_attempt
from nearmark.site.season.models import PART_COLUMNS, Club, PracticePair, Pupil, Source, Thing
from nearmark.station import Station

OPEN_FOR: Final = timedelta(hours=4)
"""One afternoon."""

GRACE: Final = timedelta(seconds=15)
"""After the clock of a mock contest: what was sent at its last second still arrives."""

MAX_ITEMS: Final = 20

_PARTS: Final = ("layer", "layers", "length_cm", "width_cm", "height_cm")
"""Columns of what is typed beside an estimate: pieces, layers, cm."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What a drill is to be."""

    title: str
    kind: DrillKind
    things: Sequence[Thing]  # in the order in which they are asked
    sitting: Sequence[Pupil | PracticePair]
    with_calculator: bool = False
    pictures_only: bool = False
    minutes: int = 30  # of a mock contest
    jars: Sequence[PracticeJar] = ()  # asked after the things
    seconds: int = 60  # to guess one thing on a screen for the room (s)
    with_guests: bool = False  # whether anyone in the room may join it


@dataclass(frozen=True, slots=True)
class TypedAnswer:
    """One answer as typed."""

    estimate: Decimal
    parts: Mapping[str, float] = field(default_factory=dict)  # of ``_PARTS``; empty: none
    decided_by: Pupil | None = None  # whose number a pair wrote down


def open_drill(club: Club, plan: Plan, *, by: str) -> Drill:
    """Open a drill with a seat for everybody named; InputError if it is empty or mixes clubs."""
    _check(club, plan)
    now = clock.now()
    with writing():
        for jar in plan.jars:
            known_jar(jar.pk)
        drill = Drill.objects.create(
            club=club,
            title=plan.title,
            kind=plan.kind.value,
            with_calculator=plan.with_calculator,
            pictures_only=plan.pictures_only,
            minutes=plan.minutes,
            made_by=by,
            opened_at=now,
            expires_at=now + OPEN_FOR,
        )
        asked = (*map(_thing_columns, plan.things), *map(item_columns, plan.jars))
        for place, columns in enumerate(asked, 1):
            DrillItem.objects.create(drill=drill, place=place, **columns)
        set_out(drill, plan.sitting)
        if drill.is_room:
            begin_room(
                drill,
                seconds=plan.seconds,
                with_guests=plan.with_guests,
                rng=np.random.default_rng(),
            )
        note(None, by, f"opened drill {drill.pk} for club {club.pk}")
    return drill


def _thing_columns(thing: Thing) -> dict[str, Any]:
    own = ("station", "name", "size", "true", *PART_COLUMNS)
    return {"thing": thing} | {name: getattr(thing, name) for name in own}


def _check(club: Club, plan: Plan) -> None:
    n_asked = len(plan.things) + len(plan.jars)
    fewest = 0 if plan.with_guests else 1
    for what, n, low, most in (
        ("things", n_asked, 1, MAX_ITEMS),
        ("seats", len(plan.sitting), fewest, 200),
    ):
        if not low <= n <= most:
            mend = f"Choose {low} to {most}"
            wrong = "are needed" if n < low else "are too many"
            raise InputError(wrong, where=what, value=n, mend=mend)
    if len({jar.pk for jar in plan.jars}) < len(plan.jars):
        raise InputError("one is asked twice", where="jars", mend="Take one out")
    for what, rows in (("things", plan.things), ("seats", plan.sitting)):
        if any(row.club_id != club.pk for row in rows):
            raise InputError("are of another club", where=what, mend="Load the page again")
    if plan.kind is DrillKind.MOCK:
        asked = float(RuleSet().target_mass_g)
        for thing in plan.things:
            if thing.station == Station.MASS and thing.true != asked:
                raise InputError(
                    f"the rule set asks for {asked:g} g",
                    where=thing.name,
                    value=thing.true,
                    mend="Leave it out of the mock contest, or ask for that mass",
                )


def clock_of(drill: Drill) -> HeatClock:
    """The clock of a mock contest."""
    return heat_clock(drill.started_at, clock.steady_now(), drill.minutes)


def takes_answers(drill: Drill, item: DrillItem) -> bool:
    """Whether an answer that arrives now counts."""
    if not drill.is_open(clock.now()):
        return False
    if drill.is_room:
        return takes_guess(drill, item)
    if not drill.is_mock:
        return True
    if drill.started_at is None:
        return False
    late = heat_clock(drill.started_at, clock.steady_now() - GRACE, drill.minutes)
    return late.state is not HeatState.OVER


def start_clock(drill: Drill, *, by: str) -> None:
    """Start the clock of a mock contest, once."""
    if not drill.is_mock:
        raise RuleError("a drill goes without a clock", where=drill.title)
    with writing():
        started = Drill.objects.filter(pk=drill.pk, started_at=None, closed_at=None).update(
            started_at=clock.steady_now()
        )
        if not started:
            raise RuleError("its clock was started already", where=drill.title)
        note(None, by, f"started the clock of mock contest {drill.pk}")


def answer(seat: DrillSeat, item: DrillItem, given: TypedAnswer) -> DrillAnswer:
    """Keep an answer: final in a drill, to be changed until the end in a mock contest.

    ``item``: of the same drill. Returns: the first one, if a drill's answer is sent again. Raises
    InputError if it is no answer to this. Raises RuleError if the drill takes none any more.
    """
    if item.drill_id != seat.drill_id:
        raise InputError("is not asked in this drill", where="thing", mend="Load the page again")
    _check_estimate(item, given)
    drill = seat.drill
    with writing():
        now = clock.now()
        seat.refresh_from_db(fields=["handed_in_at"])
        drill.refresh_from_db(fields=["closed_at", "started_at"])
        before = DrillAnswer.objects.filter(seat=seat, item=item).first()
        if before is not None and not drill.is_mock:
            return before
        if seat.handed_in_at is not None or not takes_answers(drill, item):
            raise RuleError(
                "no answer is taken any more, what was saved before counts",
                where=drill.title,
                mend="Ask your coach",
            )
        row = before or DrillAnswer(seat=seat, item=item)
        row.estimate, row.decided_by, row.at = given.estimate, given.decided_by, now
        for name in _PARTS:
            setattr(row, name, given.parts.get(name))
        row.save()
        if not drill.is_mock:
            _keep(seat, row, Source.DRILL)
    return row


def _check_estimate(item: DrillItem, given: TypedAnswer) -> None:
    """Now, and not when a whole mock contest goes into the log."""
    if item.jar_id is not None:
        checked_estimate(float(given.estimate), given.parts.get("layer"), given.parts.get("layers"))
    ratio = float(given.estimate) / item.true
    if not 1 / MAX_FACTOR <= ratio <= MAX_FACTOR:
        raise InputError(
            "is more than a million times off",
            where="estimate",
            value=f"{given.estimate:f}",
            mend="Check the number",
        )


def attempt_of_answer(row: DrillAnswer, day: date) -> Attempt:
    """An answer as the core knows it."""
    item = row.item
    return Attempt(
        day,
        row.seat.called,
        Station(item.station),
        item.name,
        float(row.estimate),
        item.true,
        item.size,
        _parts(row, item),
    )


def _parts(row: DrillAnswer, item: DrillItem) -> Parts | None:
    """What was typed is the answer's, what is true is the item's."""
    station = Station(item.station)
    names = (name for each in STATION_PARTS[station] for name in each)
    return parts_from(station, {n: getattr(row, n, None) or getattr(item, n, None) for n in names})


def _keep(seat: DrillSeat, row: DrillAnswer, source: Source) -> None:
    """Into the log of the pupil whose number it is; what two worked out is nobody's own habit."""
    pupil = row.decided_by if seat.pair else seat.pupil
    if pupil is None:
        return
    attempt = attempt_of_answer(row, local_day(row.at))
    kept, _ = keep_attempt(
        seat.key_of(row.item),
        club=seat.drill.club,
        pupil=pupil,
        attempt=attempt,
        source=source,
        by=seat.drill.made_by,
        pair=seat.pair,
    )
    row.attempt = kept
    row.save(update_fields=["attempt"])


def hand_in(seat: DrillSeat) -> None:
    """Log a mock contest's answers for good, once; RuleError if the clock was never started."""
    if seat.drill.started_at is None:
        raise RuleError("the clock has not started", where=seat.drill.title, mend="Wait for it")
    with writing():
        mine = DrillSeat.objects.filter(pk=seat.pk, handed_in_at=None)
        if not mine.update(handed_in_at=clock.now()):
            return
        for row in seat.answers.select_related("item", "decided_by"):
            row.seat = seat
            _keep(seat, row, Source.MOCK)


def close(drill: Drill, *, by: str) -> None:
    """Close a drill; the answers of a mock contest that were not handed in become final."""
    with writing():
        if not Drill.objects.filter(pk=drill.pk, closed_at=None).update(closed_at=clock.now()):
            return
        if drill.is_mock and drill.started_at is not None:
            came = drill.seats.filter(handed_in_at=None).exclude(joined_at=None)
            for seat in came.select_related("drill__club", "pupil", "pair"):
                hand_in(seat)
        note(None, by, f"closed drill {drill.pk}")
