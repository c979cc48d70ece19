"""What to do next with one item: the way from an empty container to a key that is fit."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Final

from nearmark.contest.doubt import Doubt
from nearmark.contest.event import Event, Item, Side
from nearmark.contest.keys import ItemKey
from nearmark.contest.measuring_steps import (
    COUNTS,
    EDGE_READINGS,
    CloseIt,
    CountSample,
    LookAgain,
    MassSoFar,
    MeasureMore,
    MeasuringSteps,
    NothingToMeasure,
    ReadEdge,
    ReadingsInDoubt,
    ReadingsSoFar,
    SampleTotal,
    Step,
    TakeStep,
    UsedByDecision,
)
from nearmark.errors import NearmarkError
from nearmark.kit import CountOptions, material, plan_samples
from nearmark.kit.assigned_value import DEFAULT_U_LIMIT
from nearmark.kit.sampling_plan import MIN_PLANNED, PlanRow
from nearmark.station import Station

PIECES_UNKNOWN: Final = PlanRow(100, 9, 900, DEFAULT_U_LIMIT)
"""A plan where nothing is known of the pieces: for a piece spread of 10 %, as simulated in
``benchmarks/stopping.py``."""

USUAL_PIECES: Final = 2000
"""Planned with while nobody knows how many there are: the middle of the middle size."""


def sample_total(event: Event, item: str) -> SampleTotal | None:
    """The running total of an item's counted samples; ``None`` before the first.

    >>> from datetime import date
    >>> from nearmark.contest.event import CountedSample
    >>> samples = (CountedSample("C1", 100, Decimal("61.2"), "scale"),
    ...            CountedSample("C1", 150, Decimal("92.0"), "scale"))
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8), samples=samples)
    >>> total = sample_total(day, "C1")
    >>> total.pieces, total.mass_g, round(total.piece_g, 4)
    (250, Decimal('153.2'), 0.6128)
    """
    rows = [sample for sample in event.samples if sample.item == item]
    if not rows:
        return None
    pieces = sum(row.pieces for row in rows)
    mass_g = sum((row.mass_g for row in rows), Decimal(0))
    sizes = {row.pieces for row in rows}
    size = sizes.pop() if len(sizes) == 1 else None
    return SampleTotal(len(rows), pieces, mass_g, float(mass_g) / pieces, size)


def measuring_steps(
    event: Event,
    key: ItemKey,
    *,
    expected_pieces: int | None = None,
    doubts: Sequence[Doubt] = (),
) -> MeasuringSteps:
    """The steps to a key that is fit, and what to do now.

    >>> from datetime import date
    >>> from nearmark.contest.keys import event_keys
    >>> jar = Item("C1", Station.COUNT, "jar")
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8), items=(jar,))
    >>> measuring_steps(day, event_keys(day)["C1"]).kind
    'empty'

    Parameters
    ----------
    key : of the same event
    expected_pieces : pieces, or None; about what the container will hold, to plan the samples with
    doubts : Doubt, shape (n,); that are open; a key that is fit is not closed over one of its own
    """
    if key.item.station is Station.MASS:
        return MeasuringSteps((), NothingToMeasure())
    steps = _steps(event, key)
    step = next((step for step in steps if not step.is_done), None)
    settled = _settled(key, steps)
    if settled is not None and key.decision is not None:
        return settled
    own = next((doubt for doubt in doubts if doubt.item == key.item.code), None)
    if own is not None and (step is None or step.kind == "more"):
        return MeasuringSteps(steps, LookAgain(own))
    if settled is not None:
        return settled
    if step is None or step.kind == "more":
        kind = "edge" if key.item.station is Station.VOLUME else "sample"
        side = _least_read(event, key.item) if kind == "edge" else None
        todo = (
            ReadingsInDoubt(key)
            if key.problems or key.assigned is None
            else MeasureMore(key.assigned)
        )
        if isinstance(todo, MeasureMore) and todo.is_by_hand:
            kind = "hand-count"
        return MeasuringSteps(steps, todo, kind, side)
    return _to_do(event, key, steps, step, expected_pieces)


def _steps(event: Event, key: ItemKey) -> tuple[Step, ...]:
    if key.item.station is Station.VOLUME:
        steps = _edges(event, key.item)
    else:
        steps = _count_steps(event, key.item)
    taken = all(step.is_done for step in steps)
    if taken and key.assigned is not None and not key.fit and key.decision is None:
        steps = (*steps, Step("more", is_done=False, so_far=key.assigned))
    return steps


def _settled(key: ItemKey, steps: tuple[Step, ...]) -> MeasuringSteps | None:
    """What to do with a key that may be used; ``None`` while something is missing."""
    if key.fit and key.assigned is not None and all(step.is_done for step in steps):
        return MeasuringSteps(steps, CloseIt(key.assigned))
    if key.decision is not None and key.key is not None:
        kind = _first_open(steps) if key.is_only_decided else ""
        return MeasuringSteps(steps, UsedByDecision(key, key.decision), kind)
    return None


def _first_open(steps: tuple[Step, ...]) -> str:
    return next((step.kind for step in steps if not step.is_done and step.kind), "")


def _plan(event: Event, item: Item, expected_pieces: int | None) -> PlanRow:
    """Samples to count: what the material of the catalogue asks for."""
    scale = next((i for i in event.instruments if i.unit == "g"), None)
    if scale is None:
        return PIECES_UNKNOWN
    try:
        known = material(item.material)
        options = CountOptions(
            u_limit=event.rules.u_limit_at(item.station), piece_cv=known.piece_cv
        )
        pieces = expected_pieces or USUAL_PIECES
        return plan_samples(pieces, known.piece_mass_g, scale, options=options)[0]
    except NearmarkError:  # an own material, or one that no plan reaches: begin as usual
        return PIECES_UNKNOWN


def _count_steps(event: Event, item: Item) -> tuple[Step, ...]:
    by_hand = [count for count in event.hand_counts if count.item == item.code]
    total = sample_total(event, item.code)
    if by_hand and total is None:
        n = len({count.counter for count in by_hand})
        return (Step("hand-count", n >= COUNTS, ReadingsSoFar(n, COUNTS)),)
    weighed = [row for row in event.containers if row.item == item.code]
    enough = total is not None and total.n >= MIN_PLANNED
    return (
        _mass_step("empty", [row.tare_g for row in weighed]),
        Step("sample", enough, total),
        _mass_step("full", [row.gross_g for row in weighed]),
    )


def _mass_step(kind: str, read: Iterable[Decimal | None]) -> Step:
    masses = [mass for mass in read if mass is not None]
    return Step(kind, bool(masses), MassSoFar(masses[-1]) if masses else None)


def _to_do(
    event: Event, key: ItemKey, steps: tuple[Step, ...], step: Step, expected_pieces: int | None
) -> MeasuringSteps:
    """The first step that is not done."""
    if step.kind == "edge" and step.side is not None:
        return _read_edge(event, key.item, steps, step.side)
    if step.kind == "sample":
        total = sample_total(event, key.item.code)
        plan = _plan(event, key.item, expected_pieces)
        todo = CountSample((total.n if total else 0) + 1, plan)
        return MeasuringSteps(steps, todo, kind="sample")
    return MeasuringSteps(steps, TakeStep(step.kind), kind=step.kind)


def _edges(event: Event, item: Item) -> tuple[Step, ...]:
    stated = Step("faces", item.box.faces is not None, item.box if item.box.faces else None)
    return (stated, *(_edge_step(event, item, side) for side in Side))


def _n_read(event: Event, item: Item, side: Side) -> int:
    return sum(row.item == item.code and row.side is side for row in event.box_readings)


def _edge_step(event: Event, item: Item, side: Side) -> Step:
    n = _n_read(event, item, side)
    so_far = ReadingsSoFar(n, EDGE_READINGS) if n else None
    return Step("edge", n >= EDGE_READINGS, so_far, side)


def _read_edge(event: Event, item: Item, steps: tuple[Step, ...], side: Side) -> MeasuringSteps:
    is_first = not any(row.item == item.code for row in event.box_readings)
    todo = ReadEdge(side, _n_read(event, item, side) + 1, is_first)
    return MeasuringSteps(steps, todo, kind="edge", side=side)


def _least_read(event: Event, item: Item) -> Side:
    """The edge with the fewest readings, so that further ones go round."""
    read = [row.side for row in event.box_readings if row.item == item.code]
    return min(Side, key=read.count)
