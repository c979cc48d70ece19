"""The best plan of the heats there is, or why there is none."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

from nearmark.contest.event import Pair
from nearmark.contest.heat_program.broken import not_kept
from nearmark.contest.heat_program.frame import DivisionRule, HeatFrame, heat_numbers, minute_of
from nearmark.contest.heat_program.groups import Field, Part, Place, make_field
from nearmark.contest.heat_program.levels import Aim, Level, terms_of
from nearmark.contest.heat_program.model import Model
from nearmark.contest.heat_program.no_fit import NoFit, why_no_fit
from nearmark.contest.heat_program.preview import preview_heats
from nearmark.contest.heat_program.search import Search, dealt
from nearmark.contest.heat_records import Heat
from nearmark.contest.heat_wish import HeatWish
from nearmark.contest.heats import MAX_PAIRS
from nearmark.errors import InputError, RuleError

TIME_LIMIT_S: Final = 20.0

Tell = Callable[[int, int], None]
"""Called with the aims done and all aims."""

_NO_FIT_S: Final = 4.0
"""At least, to find the reasons."""


@dataclass(frozen=True, slots=True)
class HeatPlan:
    """A plan that keeps every wish."""

    heats: tuple[Heat, ...]  # by number, without empty ones; each pair with its heat and room
    levels: tuple[Level, ...]  # how far each aim is reached, in their order

    @property
    def is_proven(self) -> bool:
        """Whether it is certain that no plan is better."""
        return all(level.is_proven for level in self.levels)


def plan_heats(  # noqa: PLR0913 - each is one thing that a plan depends on
    pairs: Sequence[Pair],
    frame: HeatFrame,
    *,
    wishes: Sequence[HeatWish] = (),
    kept: Mapping[str, Place] | None = None,
    before: Mapping[str, Place] | None = None,
    time_limit_s: float = TIME_LIMIT_S,
    now: Callable[[], float],
    tell: Tell = lambda _done, _all: None,
) -> HeatPlan | NoFit:
    """Give every pair that takes part a heat and a room, if a plan can keep everything.

    The aims, each before the next: where ``before`` is given few moves; few heats; few shares of
    schools; schools of one coach near each other and in one room; rooms evenly full.

    >>> from time import monotonic
    >>> pairs = [Pair("P1", "Elm", ("Ada",)), Pair("P2", "Oak", ("Bo",))]
    >>> wishes = [HeatWish("P1", apart="twins"), HeatWish("P2", apart="twins")]
    >>> plan = plan_heats(pairs, HeatFrame(), wishes=wishes, now=monotonic)
    >>> [heat.codes for heat in plan.heats], plan.is_proven
    ([('P1',), ('P2',)], True)

    Parameters
    ----------
    pairs : shape (n_pairs,)
    kept : (heat number, name of room) by code, optional
        They stay where they are, whatever they ask for.
    before : (heat number, name of room) by code, optional
        A plan that is changed by as few moves as possible.
    time_limit_s : s; what is not proven by then is stated in the levels
    now : callable -> s; a clock that only goes on
    tell : callable (aims done, all aims)

    Raises
    ------
    InputError : if something asked for makes no sense
    RuleError : if no plan was found in the time
    """
    _check(pairs, frame, wishes)
    kept, before = kept or {}, before or {}
    field = make_field(pairs, wishes, kept=kept, before=before)
    if not field.groups:
        return HeatPlan((), ())
    end = now() + time_limit_s
    first = _first_model(field, frame, time_limit_s)
    if first is None:
        return why_no_fit(field, frame, _all_numbers(field, frame), max(_NO_FIT_S, end - now()))
    search = Search(first[0], before, end=end, now=now)
    for heats in (first[1], _rough_plan(pairs, frame, field, kept)):
        if heats is not None:
            search.offer(heats)
    reached = search.run(tell)
    if search.heats is None:
        mend = "Give it more time, or ask for less"
        raise RuleError("found no plan in the time", where="heats", mend=mend)
    return HeatPlan(search.heats, reached)


def _first_model(
    field: Field, frame: HeatFrame, time_limit_s: float
) -> tuple[Model, tuple[Heat, ...] | None] | None:
    """The program, with a first plan of it if one was found; ``None``: nothing fits.

    The heats that the places alone ask for are tried first: they are enough in most cases, and the
    program is smaller.
    """
    few, enough = _few_numbers(field, frame), _all_numbers(field, frame)
    fewest = ceil(field.n_pairs / frame.places)
    for numbers in dict.fromkeys((few, enough)):
        model = Model(field, frame, numbers)
        terms, _ = terms_of(Aim.HEATS, model, fewest)
        solution = model.program.least(terms, time_limit_s=time_limit_s / 4)
        heats = None if solution.columns is None else dealt(model, solution.columns)
        is_enough = heats is not None and len(heats) == fewest
        if is_enough or (numbers == enough and not solution.is_infeasible):
            return model, heats
    return None


def _check(pairs: Sequence[Pair], frame: HeatFrame, wishes: Sequence[HeatWish]) -> None:
    frame.check()
    if len(pairs) > MAX_PAIRS:
        raise InputError(f"are more than {MAX_PAIRS:,}", where="pairs", value=len(pairs))
    rooms = [room.name for room in frame.rooms]
    for wish in wishes:
        if wish.room and wish.room not in rooms:
            raise InputError(
                "is no room of this event", where=f"room of {wish.who}", value=wish.room
            )


def _rough_plan(
    pairs: Sequence[Pair], frame: HeatFrame, field: Field, kept: Mapping[str, Place]
) -> tuple[Heat, ...] | None:
    """The plan made at once, where it keeps everything."""
    try:
        heats = preview_heats(pairs, frame, kept=kept)
    except (RuleError, InputError):  # more pairs stay in a heat than it has places
        return None
    too_many = frame.max_heats is not None and any(h.number > frame.max_heats for h in heats)
    return None if too_many or not_kept(heats, field, frame) else heats


def _few_numbers(field: Field, frame: HeatFrame) -> tuple[int, ...]:
    """Heats that are enough when only the places count."""
    return heat_numbers(frame, field.n_pairs, _used(field), None, len(frame.closed))


def _all_numbers(field: Field, frame: HeatFrame) -> tuple[int, ...]:
    """Heats that are enough for any wish that can be kept at all."""
    earliest = [minute_of(wish.earliest) for wish in field.wishes if wish.earliest is not None]
    apart = field.named(Part.APART).values()
    spare = 1 + len(frame.closed) + max((len(rows) for rows in apart), default=0)
    if frame.divisions is not DivisionRule.MIXED:
        spare += len({group.division for group in field.groups})
    if frame.divisions is DivisionRule.OWN_ROOM:
        spare += ceil(field.n_pairs / min(room.places for room in frame.rooms))
    return heat_numbers(
        frame, field.n_pairs, _used(field), max(earliest) if earliest else None, spare
    )


def _used(field: Field) -> set[int]:
    """Heats in which pairs have to be, or were."""
    used = {wish.heat for wish in field.wishes if wish.heat is not None}
    used |= {place[0] for g in field.groups for place in (g.kept, g.before) if place}
    return used
