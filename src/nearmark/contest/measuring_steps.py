"""The steps to a key that is fit, and what can be the next one: facts only."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from nearmark.contest.doubt import Doubt
from nearmark.contest.event import KeyDecision, Side
from nearmark.contest.keys import ItemKey
from nearmark.kit import AssignedValue
from nearmark.kit.box_faces import BoxFaces
from nearmark.kit.key_advice import (
    ActBrings,
    AnotherPersonCounts,
    CountByHand,
    KeyAdvice,
    OneMoreSample,
    SecondPersonCounts,
)
from nearmark.kit.sampling_plan import PlanRow

EDGE_READINGS: Final = 3
"""Readings of an edge: the fewest that show a scatter one can trust."""

BY_HAND_ADVICE: Final = (CountByHand, SecondPersonCounts, AnotherPersonCounts)

COUNTS: Final = 2
"""Counts by hand, by two people: one alone cannot show its own slip."""


@dataclass(frozen=True, slots=True)
class SampleTotal:
    """All counted samples of one item together."""

    n: int  # samples
    pieces: int
    mass_g: Decimal
    piece_g: float  # mass of one piece, all samples together
    size: int | None  # pieces in each, if every sample has as many (pieces, or None)


@dataclass(frozen=True, slots=True)
class MassSoFar:
    """The newest reading of a container."""

    mass_g: Decimal


@dataclass(frozen=True, slots=True)
class ReadingsSoFar:
    """How many readings of an edge there are, or how many people have counted."""

    # Readings.
    n: int
    wanted: int


SoFar = SampleTotal | MassSoFar | ReadingsSoFar | BoxFaces | AssignedValue | None
"""Of an assigned value: what the readings give; it is not fit."""


@dataclass(frozen=True, slots=True)
class NothingToMeasure:
    """The target mass is set by the rule set and is exact."""


@dataclass(frozen=True, slots=True)
class LookAgain:
    """A reading looks like a slip."""

    doubt: Doubt


@dataclass(frozen=True, slots=True)
class CloseIt:
    """The key is fit."""

    assigned: AssignedValue


@dataclass(frozen=True, slots=True)
class UsedByDecision:
    """The lead has decided about the key."""

    key: ItemKey
    decision: KeyDecision


@dataclass(frozen=True, slots=True)
class TakeStep:
    """The first step that is not done."""

    kind: str


@dataclass(frozen=True, slots=True)
class CountSample:
    """Another counted sample is to be weighed."""

    number: int  # of this one, counted from 1 (samples)
    plan: PlanRow


@dataclass(frozen=True, slots=True)
class ReadEdge:
    """An edge of a box is to be read."""

    side: Side
    number: int  # of this one, counted from 1 (readings)
    is_first: bool  # whether nothing was read of the box yet


@dataclass(frozen=True, slots=True)
class ReadingsInDoubt:
    """All steps are taken and the readings bear no key."""

    key: ItemKey


@dataclass(frozen=True, slots=True)
class MeasureMore:
    """All steps are taken and the key is not fit."""

    assigned: AssignedValue

    @property
    def advice(self) -> tuple[KeyAdvice, ...]:
        """What the readings advise: what brings most comes first."""
        found = self.assigned.advice
        return tuple(sorted(found, key=lambda one: not isinstance(one, ActBrings | OneMoreSample)))

    @property
    def is_by_hand(self) -> bool:
        """Whether a count by hand brings most."""
        return isinstance(next(iter(self.advice), None), BY_HAND_ADVICE)


Todo = (
    NothingToMeasure
    | LookAgain
    | CloseIt
    | UsedByDecision
    | TakeStep
    | CountSample
    | ReadEdge
    | ReadingsInDoubt
    | MeasureMore
)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way."""

    # What is read or said: ``empty``, ``sample``, ``full``, ``hand-count``, ``edge``, ``faces``;
    # ``more`` for what the readings themselves ask for.
    kind: str
    is_done: bool
    so_far: SoFar = None  # what is there already; ``None``: nothing
    side: Side | None = None


@dataclass(frozen=True, slots=True)
class MeasuringSteps:
    """The steps of one item, and the one to take now."""

    steps: tuple[Step, ...]
    todo: Todo  # the next thing to do
    kind: str = ""  # kind of the reading to make next; empty when none is
    side: Side | None = None  # edge to read next
