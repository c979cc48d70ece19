"""What to do next with one item: the way from an empty container to a key that is fit."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from nearmark.contest.doubt import Doubt
from nearmark.contest.event import Event, Item, Side
from nearmark.contest.keys import ItemKey
from nearmark.contest.rules import Station
from nearmark.errors import NearmarkError
from nearmark.kit import CountOptions, material, percent_text, plan_samples
from nearmark.kit.assigned_value import DEFAULT_U_LIMIT
from nearmark.kit.counting import BY_HAND
from nearmark.kit.sampling_plan import FEWEST_PLANNED, PlanRow

EDGE_READINGS: Final = 3
"""Readings of an edge: the fewest that show a scatter one can trust."""

COUNTS: Final = 2
"""Counts by hand, by two people: one alone cannot show its own slip."""

PIECES_UNKNOWN: Final = PlanRow(100, 9, 900, DEFAULT_U_LIMIT)
"""A plan where nothing is known of the pieces: for a piece spread of 10 %, as simulated in
``benchmarks/stopping.py``."""

USUAL_PIECES: Final = 2000
"""Planned with while nobody knows how many there are: the middle of the middle size."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way.

    Attributes
    ----------
    kind : str
        What is read or said: ``empty``, ``sample``, ``full``, ``hand-count``, ``edge``, ``faces``;
        ``more`` for what the readings themselves ask for.
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
    """

    steps: tuple[Step, ...]
    words: str
    why: str = ""
    kind: str = ""
    side: Side | None = None


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
    size : pieces, or None
        Pieces in each, if every sample has as many.
    """

    n: int
    pieces: int
    mass_g: Decimal
    piece_g: float
    size: int | None

    @property
    def words(self) -> str:
        """``3 samples of 100``, or ``2 samples, 250 pieces``."""
        samples = f"{self.n} sample{'' if self.n == 1 else 's'}"
        return f"{samples} of {self.size}" if self.size else f"{samples}, {self.pieces} pieces"


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
    sizes = {row.pieces for row in rows}
    size = sizes.pop() if len(sizes) == 1 else None
    return SampleTotal(len(rows), pieces, mass_g, float(mass_g) / pieces, size)


def way_to_fit(
    event: Event,
    key: ItemKey,
    *,
    expected_pieces: int | None = None,
    doubts: Sequence[Doubt] = (),
) -> Way:
    """The steps to a key that is fit, and what to do now.

    Parameters
    ----------
    event : Event
    key : ItemKey
        Of the same event.
    expected_pieces : pieces, or None
        About what the container will hold, to plan the samples with.
    doubts : Doubt, shape (n,)
        That are open; a key that is fit is not closed over one of its own.

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
    steps = _steps(event, key)
    step = next((step for step in steps if not step.is_done), None)
    settled = _settled(key, steps)
    if settled is not None and key.decision is not None:
        return settled
    own = next((doubt for doubt in doubts if doubt.item == key.item.code), None)
    if own is not None and (step is None or step.kind == "more"):
        return Way(steps, "Look at one reading once more", f"{own.words}. {own.ask}")
    if settled is not None:
        return settled
    if step is None or step.kind == "more":
        kind = "edge" if key.item.station is Station.VOLUME else "sample"
        side = _least_read(event, key.item) if kind == "edge" else None
        return replace(_mend(key, steps, kind=kind), side=side)
    return _to_do(event, key, steps, step, expected_pieces)


def _steps(event: Event, key: ItemKey) -> tuple[Step, ...]:
    if key.item.station is Station.VOLUME:
        steps = _edges(event, key.item)
    else:
        steps = _count_steps(event, key.item)
    taken = all(step.is_done for step in steps)
    if taken and key.assigned is not None and not key.fit and key.decision is None:
        u, limit = map(percent_text, (key.assigned.relative_expanded_u, key.assigned.u_limit))
        told = key.assigned.missing or f"U is {u}, the limit {limit}"
        steps = (*steps, Step("more", "Measure more until the key is fit", told, is_done=False))
    return steps


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
        return (_hand_step(len({count.counter for count in by_hand})),)
    weighed = [row for row in event.containers if row.item == item.code]
    enough = total is not None and total.n >= FEWEST_PLANNED
    title = f"Count and weigh {FEWEST_PLANNED} samples or more"
    return (
        _mass_step("empty", "Weigh it empty", [row.tare_g for row in weighed]),
        Step("sample", title, total.words if total else "", enough),
        _mass_step("full", "Fill it, weigh it full", [row.gross_g for row in weighed]),
    )


def _hand_step(n: int) -> Step:
    return Step("hand-count", "Two people count all pieces", f"{n} of {COUNTS}", n >= COUNTS)


def _mass_step(kind: str, title: str, read: Iterable[Decimal | None]) -> Step:
    masses = [f"{mass:f} g" for mass in read if mass is not None]
    return Step(kind, title, masses[-1] if masses else "", bool(masses))


_TO_DO: Final = {
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
    "faces": (
        "Inside or outside?",
        "The volume a child judges and the volume the ruler gives must be the same one.",
    ),
}


def _to_do(
    event: Event, key: ItemKey, steps: tuple[Step, ...], step: Step, expected_pieces: int | None
) -> Way:
    """The first step that is not done."""
    if step.kind == "edge" and step.side is not None:
        return _read_edge(event, key.item, steps, step.side)
    if step.kind == "sample":
        total = sample_total(event, key.item.code)
        plan = _plan(event, key.item, expected_pieces)
        why = (
            f"Sample {(total.n if total else 0) + 1}, at least {FEWEST_PLANNED}. The plan is "
            f"about {plan.n_samples} of {plan.pieces_per_sample} pieces, {plan.minutes} minutes "
            "in all. Tare "
            "the dish away first; take the pieces from all depths, as they come, broken ones too."
        )
        return Way(steps, "Count pieces and weigh them", why, kind="sample")
    words, why = _TO_DO[step.kind]
    return Way(steps, words, why, kind=step.kind)


def _edges(event: Event, item: Item) -> tuple[Step, ...]:
    stated = Step("faces", "Say: inside or outside", _faces_words(item), item.faces is not None)
    return (stated, *(_edge_step(event, item, side) for side in Side))


def _faces_words(item: Item) -> str:
    if item.faces is None:
        return ""
    wall = f", less two walls of {item.wall_cm:f} cm" if item.wall_cm else ""
    return f"{item.faces.value}{wall}"


def _edge_step(event: Event, item: Item, side: Side) -> Step:
    n = sum(row.item == item.code and row.side is side for row in event.box_readings)
    told = f"{n} of {EDGE_READINGS}" if 0 < n < EDGE_READINGS else f"{n} readings" if n else ""
    return Step("edge", f"Read the {side.value} three times", told, n >= EDGE_READINGS, side)


def _read_edge(event: Event, item: Item, steps: tuple[Step, ...], side: Side) -> Way:
    n = sum(row.item == item.code and row.side is side for row in event.box_readings)
    why = (
        f"Reading {n + 1} of {EDGE_READINGS}. Lay the ruler at another place each time, and read "
        "it afresh."
    )
    if not any(row.item == item.code for row in event.box_readings):
        why += " Is the end of the ruler worn? Then read from its 10 cm mark."
    return Way(steps, f"Read the {side.value}", why, kind="edge", side=side)


def _least_read(event: Event, item: Item) -> Side:
    """The edge with the fewest readings, so that further ones go round."""
    read = [row.side for row in event.box_readings if row.item == item.code]
    return min(Side, key=read.count)


def _mend(key: ItemKey, steps: tuple[Step, ...], *, kind: str) -> Way:
    """All steps are taken and the key is not fit: what the readings themselves advise."""
    if key.problem or key.assigned is None:
        return Way(steps, "Look at the readings once more", key.problem, kind=kind)
    advice = key.assigned.advice or ("Measure it once more",)
    words = next((line for line in advice if " bring" in line), advice[0])
    why = ". ".join(line for line in advice if line != words)
    return Way(steps, words, why, kind=kind)
