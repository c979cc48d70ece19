"""What to do next with one item: the way from an empty container to a key that is fit."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from nearmark.contest.event import Event, Item, Side
from nearmark.contest.keys import ItemKey
from nearmark.contest.rules import Station
from nearmark.errors import NearmarkError
from nearmark.kit import CountOptions, material, percent_text, plan_samples
from nearmark.kit.counting import BY_HAND
from nearmark.kit.sampling_plan import FEWEST_PLANNED, PlanRow

EDGE_READINGS: Final = 3
"""Readings of an edge: the fewest that show a scatter one can trust."""

COUNTS: Final = 2
"""Counts by hand, by two people: one alone cannot show its own slip."""

PIECES_UNKNOWN: Final = PlanRow(100, 3, 300, 0.0)
"""A plan where nothing is known of the pieces (common practice, no source)."""

USUAL_PIECES: Final = 2000
"""Planned with while nobody knows how many there are: the middle of the middle size."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way.

    Attributes
    ----------
    kind : str
        What is read: ``empty``, ``sample``, ``full``, ``hand-count``, ``edge``; empty when it is
        no reading.
    title : str
        What to do, short.
    so_far : str
        What is there already.
    is_done : bool
    side : Side or None
        Of a box.
    """

    kind: str
    title: str
    so_far: str
    is_done: bool
    side: Side | None = None


@dataclass(frozen=True, slots=True)
class Way:
    """The steps of one item, and the one to take now.

    Attributes
    ----------
    steps : tuple of Step
    words : str
        The next thing to do, as the headline of a page.
    why : str
        The reason beneath it; may be empty.
    kind : str
        Kind of the reading to make next; empty when none is.
    side : Side or None
        Edge to read next.
    pieces : pieces, or None
        Size of the next sample.
    """

    steps: tuple[Step, ...]
    words: str
    why: str = ""
    kind: str = ""
    side: Side | None = None
    pieces: int | None = None


@dataclass(frozen=True, slots=True)
class SampleTotal:
    """All counted samples of one item together.

    Attributes
    ----------
    n : samples
    pieces : pieces
    mass_g : g
    piece_g : g
        Mass of one piece, all samples together.
    """

    n: int
    pieces: int
    mass_g: Decimal
    piece_g: float


def sample_total(event: Event, item: str) -> SampleTotal | None:
    """The running total of an item's counted samples; ``None`` before the first.

    Parameters
    ----------
    event : Event
    item : str
        Code of the item.

    Examples
    --------
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
    return SampleTotal(len(rows), pieces, mass_g, float(mass_g) / pieces)


def way_to_fit(event: Event, key: ItemKey, *, expected_pieces: int | None = None) -> Way:
    """The steps to a key that is fit, and what to do now.

    Parameters
    ----------
    event : Event
    key : ItemKey
        Of the same event.
    expected_pieces : pieces, or None
        About what the container will hold, to plan the samples with.

    Returns
    -------
    Way

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.contest.keys import event_keys
    >>> jar = Item("C1", Station.COUNT, "jar")
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8), items=(jar,))
    >>> way_to_fit(day, event_keys(day)["C1"]).words
    'Weigh the container empty'
    """
    if key.item.station is Station.MASS:
        why = "The target mass is set by the rule set and is exact."
        return Way((), "Nothing to measure here", why)
    if key.item.station is Station.VOLUME:
        return _settled(key, _edges(event, key.item)) or _to_read(event, key)
    plan = _plan(event, key.item, expected_pieces)
    return _settled(key, _count_steps(event, key.item, plan)) or _to_weigh(event, key, plan)


def _settled(key: ItemKey, steps: tuple[Step, ...]) -> Way | None:
    """What to do with a key that may be used; ``None`` while something is missing."""
    if key.fit and key.assigned is not None and all(step.is_done for step in steps):
        words = "This key is fit: close and seal it"
        u, limit = map(percent_text, (key.assigned.relative_expanded_u, key.assigned.u_limit))
        return Way(steps, words, f"U is {u}, the limit {limit}. Print the certificate.")
    if key.decision is not None and key.key is not None:
        words = f"Used by decision of {key.decision.by}"
        if not key.rests_on_a_word:
            return Way(steps, words, key.decision.reason)
        why = f"{key.decision.reason}. It is {key.whose_word}. It counts as exact"
        return Way(steps, words, why, kind=_first_open(steps))
    return None


def _first_open(steps: tuple[Step, ...]) -> str:
    return next((step.kind for step in steps if not step.is_done and step.kind), "")


def _plan(event: Event, item: Item, expected_pieces: int | None) -> PlanRow:
    """Samples to count: as those before, else what the material of the catalogue asks for."""
    plan = _first_plan(event, item, expected_pieces)
    counted = [sample.pieces for sample in event.samples if sample.item == item.code]
    return replace(plan, pieces_per_sample=counted[-1]) if counted else plan


def _first_plan(event: Event, item: Item, expected_pieces: int | None) -> PlanRow:
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


def _count_steps(event: Event, item: Item, plan: PlanRow) -> tuple[Step, ...]:
    by_hand = [count for count in event.hand_counts if count.item == item.code]
    total = sample_total(event, item.code)
    if by_hand and total is None:
        return (_hand_step(len(by_hand)),)
    weighed = [row for row in event.containers if row.item == item.code]
    n = total.n if total else 0
    return (
        _mass_step("empty", "Weigh it empty", [row.tare_g for row in weighed]),
        Step(
            "sample",
            f"Count and weigh {plan.n_samples} samples of {plan.pieces_per_sample}",
            f"{n} so far, {total.pieces} pieces" if total else "",
            # From three on the readings themselves say how many more it takes.
            n >= FEWEST_PLANNED,
        ),
        _mass_step("full", "Fill it, weigh it full", [row.gross_g for row in weighed]),
    )


def _hand_step(n: int) -> Step:
    return Step("hand-count", "Two people count all pieces", f"{n} of {COUNTS}", n >= COUNTS)


def _mass_step(kind: str, title: str, read: Iterable[Decimal | None]) -> Step:
    masses = [f"{mass:f} g" for mass in read if mass is not None]
    return Step(kind, title, masses[-1] if masses else "", bool(masses))


_TO_WEIGH: Final = {
    "empty": (
        "Weigh the container empty",
        f"With the lid it will have. Under {BY_HAND} pieces, two people count them all instead.",
    ),
    "full": (
        "Fill it, then weigh it full",
        "All pieces in, nothing else: on the scale that weighed it empty.",
    ),
    "hand-count": (
        "Let a second person count all pieces",
        "Without knowing the first count: two counts that agree bear a key.",
    ),
}


def _to_weigh(event: Event, key: ItemKey, plan: PlanRow) -> Way:
    steps = _count_steps(event, key.item, plan)
    step = next((step for step in steps if not step.is_done), None)
    if step is None:
        return _mend(key, steps, kind="sample", pieces=plan.pieces_per_sample)
    if step.kind == "sample":
        total = sample_total(event, key.item.code)
        n = total.n if total else 0
        return Way(
            steps,
            f"Count {plan.pieces_per_sample} pieces and weigh them",
            f"Sample {n + 1} of about {plan.n_samples}. Tare the dish away first; take the pieces "
            "as they come, broken ones too.",
            kind="sample",
            pieces=plan.pieces_per_sample,
        )
    words, why = _TO_WEIGH[step.kind]
    return Way(steps, words, why, kind=step.kind)


def _edges(event: Event, item: Item) -> tuple[Step, ...]:
    faces = item.faces
    stated = Step("", "Say which faces are read", faces.value if faces else "", faces is not None)
    return (stated, *(_edge_step(event, item, side) for side in Side))


def _edge_step(event: Event, item: Item, side: Side) -> Step:
    n = sum(row.item == item.code and row.side is side for row in event.box_readings)
    told = f"{n} of {EDGE_READINGS}" if 0 < n < EDGE_READINGS else f"{n} readings" if n else ""
    return Step("edge", f"Read the {side.value} three times", told, n >= EDGE_READINGS, side)


def _to_read(event: Event, key: ItemKey) -> Way:
    steps = _edges(event, key.item)
    step = next((step for step in steps if not step.is_done), None)
    if step is None:
        return replace(_mend(key, steps, kind="edge"), side=_least_read(event, key.item))
    if step.side is None:
        why = (
            "The volume a child judges and the volume the ruler gives must be the same one. Answer "
            "beside What is known of it."
        )
        return Way(steps, "Inside or outside?", why)
    n = sum(row.item == key.item.code and row.side is step.side for row in event.box_readings)
    why = (
        f"Reading {n + 1} of {EDGE_READINGS}. Lay the ruler at another place each time, and read "
        "it afresh."
    )
    return Way(steps, f"Read the {step.side.value}", why, kind="edge", side=step.side)


def _least_read(event: Event, item: Item) -> Side:
    """The edge with the fewest readings, so that further ones go round."""
    read = [row.side for row in event.box_readings if row.item == item.code]
    return min(Side, key=read.count)


def _mend(key: ItemKey, steps: tuple[Step, ...], *, kind: str, pieces: int | None = None) -> Way:
    """All steps are taken and the key is not fit: what the readings themselves advise."""
    if key.problem or key.assigned is None:
        return Way(steps, "Look at the readings once more", key.problem, kind=kind, pieces=pieces)
    advice = key.assigned.advice or ("Measure it once more",)
    words = next((line for line in advice if " bring" in line), advice[0])
    why = ". ".join(line for line in advice if line != words)
    return Way(steps, words, why, kind=kind, pieces=pieces)
