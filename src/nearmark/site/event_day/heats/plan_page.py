"""What the page of the plan shows: wishes, the plan in force, and one to look at before saving."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from nearmark.contest import Heat, HeatTime, split_schools, timetable
from nearmark.contest.heat_program import Aim, Level, heat_moves, measures, not_kept, preview_heats
from nearmark.contest.heat_wish import HeatWish
from nearmark.errors import NearmarkError
from nearmark.site.event.models import EventRecord
from nearmark.site.event.rows import record_of
from nearmark.site.event_day.heats.draft_actions import levels_of
from nearmark.site.event_day.heats.forms import HeatDayForm, HeatWishForm, PlanAskForm
from nearmark.site.event_day.heats.models import HeatDraft
from nearmark.site.event_day.heats.plan_actions import heats_of_plan
from nearmark.site.event_day.heats.plan_frame import PlanStart, day_of, plan_start
from nearmark.site.jobs.models import Job
from nearmark.words.heat_plans import aim_words, gap_words, move_words, not_kept_words, wish_words
from nearmark.words.heats import together_words

PLAN_KIND = "heat-plan"
"""The kind of long work that looks for a plan."""

MAX_MOVES = 60


@dataclass(frozen=True, slots=True)
class WishLine:
    """A wish, in words."""

    pk: int
    who: str
    words: str


@dataclass(frozen=True, slots=True)
class HeatLine:
    """One heat in one room."""

    name: str
    time: str  # empty: the start of heat 1 is not known
    room: str  # empty: the event has no rooms
    n_pairs: int
    schools: str


@dataclass(frozen=True, slots=True)
class PlanSide:
    """How good one plan is."""

    lines: tuple[str, ...]
    broken: tuple[str, ...]  # wishes that are not kept


@dataclass(frozen=True, slots=True)
class DraftView:
    """A plan to look at."""

    row: HeatDraft
    side: PlanSide
    heats: tuple[HeatLine, ...]
    moves: tuple[str, ...]  # the first of them
    n_moves: int  # all of them
    gaps: tuple[tuple[str, str], ...]  # an aim, and what is known of better plans

    @property
    def n_more(self) -> int:
        """Moves that are not listed."""
        return self.n_moves - len(self.moves)


@dataclass(frozen=True, slots=True)
class PlanView:
    """The page of the plan."""

    title: str
    day_form: HeatDayForm
    wish_form: HeatWishForm
    ask_form: PlanAskForm
    wishes: tuple[WishLine, ...] = ()
    who: tuple[str, ...] = ()  # codes and schools to choose from
    trouble: NearmarkError | None = None  # why nothing can be planned
    now: PlanSide | None = None  # the plan in force; ``None``: not every pair has a heat
    quick: PlanSide | None = None  # the plan made at once; nothing is saved
    draft: DraftView | None = None
    old: HeatDraft | None = None  # what can be taken back
    job: Job | None = None  # the newest look for a plan
    has_pairs: bool = False
    has_heats: bool = False
    has_coaches: bool = False  # whether a wish names one


def plan_view(
    event: EventRecord,
    *,
    day_form: HeatDayForm | None = None,
    wish_form: HeatWishForm | None = None,
) -> PlanView:
    """Everything the page shows; ``..._form``: one that was refused."""
    day = day_of(event)
    rooms = list(event.rooms.values_list("name", flat=True))
    has_divisions = event.divisions.exists()
    initial = {name: getattr(day, name) for name in HeatDayForm.base_fields}
    view = PlanView(
        title="Plan of the heats",
        day_form=day_form
        or HeatDayForm(initial=initial, has_divisions=has_divisions, auto_id="day_%s"),
        wish_form=wish_form or HeatWishForm(rooms=rooms, auto_id="wish_%s"),
        ask_form=PlanAskForm(),
        wishes=tuple(
            WishLine(row.pk, row.who, wish_words(record_of(HeatWish, row)))
            for row in event.heat_wishes.all()
        ),
        old=event.heat_drafts.filter(is_old=True).first(),
        job=Job.objects.filter(event=event, kind=PLAN_KIND).first(),
        has_pairs=event.pairs.exists(),
        has_coaches=event.heat_wishes.exclude(coach="").exists(),
        has_heats=event.pairs.exclude(heat="").exists(),
    )
    try:
        return _with_plans(view, event)
    except NearmarkError as refusal:
        return replace(view, trouble=refusal)


def _with_plans(view: PlanView, event: EventRecord) -> PlanView:
    start = plan_start(event)
    draft = event.heat_drafts.filter(is_old=False).first()
    names = sorted({pair.school for pair in start.pairs})
    view = replace(view, who=(*names, *(pair.code for pair in start.pairs)))
    if not view.has_pairs:
        return view
    quick = preview_heats(start.pairs, start.frame, kept=start.chosen())
    now = heats_of_plan(start.pairs)
    return replace(
        view,
        quick=_side(start, quick),
        now=_side(start, now) if _is_complete(start, now) else None,
        draft=None if draft is None else _draft(start, draft),
    )


def _is_complete(start: PlanStart, heats: Sequence[Heat]) -> bool:
    """Whether everybody has a heat, and a room where there are rooms."""
    rooms = {room.name for room in start.frame.rooms}
    n = sum(len(heat.pairs) for heat in heats)
    in_rooms = all(pair.room in rooms for heat in heats for pair in heat.pairs)
    return n == start.field.n_pairs and in_rooms


def _side(start: PlanStart, heats: Sequence[Heat]) -> PlanSide:
    values = measures(heats, start.frame, parties=start.field.parties, before={})
    told = [aim for aim in Aim if aim is not Aim.MOVES]
    if len(start.frame.rooms) == 1 and not start.has_coaches:
        told.remove(Aim.COACHES)
    lines = [aim_words(Level(aim, values[aim], 0), has_coaches=start.has_coaches) for aim in told]
    broken = tuple(map(not_kept_words, not_kept(heats, start.field, start.frame)))
    split = split_schools(heats)
    together = [together_words(split)] if split else []
    return PlanSide((*lines, *together), broken)


def _draft(start: PlanStart, row: HeatDraft) -> DraftView | None:
    """A plan to look at; ``None``: pairs have changed so much that it says nothing any more."""
    pairs = {pair.code: pair for pair in start.pairs}
    if not set(row.places) <= set(pairs):
        return None
    placed = [
        replace(pairs[code], heat=heat, room=room) for code, (heat, room) in row.places.items()
    ]
    heats = heats_of_plan(placed)
    if not _is_complete(start, heats):
        return None
    moves = heat_moves([pair for pair in start.pairs if pair.heat], heats)
    return DraftView(
        row=row,
        side=_side(start, heats),
        heats=tuple(_heat_lines(start, heats)),
        moves=tuple(map(move_words, moves[:MAX_MOVES])),
        n_moves=len(moves),
        gaps=tuple(
            (aim_words(level, has_coaches=start.has_coaches), gap_words(level))
            for level in levels_of(row)
        ),
    )


def _heat_lines(start: PlanStart, heats: Sequence[Heat]) -> Iterator[HeatLine]:
    times = {time.number: time for time in times_of(start, [heat.number for heat in heats])}
    for heat in heats:
        time = times.get(heat.number)
        for room in start.frame.rooms:
            pairs = [pair for pair in heat.pairs if pair.room == room.name]
            if not pairs:
                continue
            schools = Counter(pair.school for pair in pairs)
            yield HeatLine(
                name=heat.name,
                time=f"{time.start:%H:%M}" if time else "",
                room=room.name,
                n_pairs=len(pairs),
                schools=", ".join(f"{school} {n}" for school, n in sorted(schools.items())),
            )


def times_of(start: PlanStart, numbers: Sequence[int]) -> tuple[HeatTime, ...]:
    """Planned times of heats; empty where the start of heat 1 is not known."""
    frame = start.frame
    if frame.first_start is None:
        return ()
    first = datetime.combine(start.day, frame.first_start)
    return timetable(numbers, first, minutes=frame.minutes, interval_minutes=frame.interval_minutes)
