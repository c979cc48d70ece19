"""The steps to a key that is fit, and what can be the next one: facts only."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from nearmark.contest.doubt import Doubt
from nearmark.contest.event import Item, KeyDecision, Side
from nearmark.contest.keys import ItemKey
from nearmark.kit import AssignedValue
from nearmark.kit.sampling_plan import PlanRow

EDGE_READINGS: Final = 3
"""Readings of an edge: the fewest that show a scatter one can trust."""

COUNTS: Final = 2
"""Counts by hand, by two people: one alone cannot show its own slip."""


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


@dataclass(frozen=True, slots=True)
class MassSoFar:
    """The newest reading of a container.

    Attributes
    ----------
    mass_g : g
    """

    mass_g: Decimal


@dataclass(frozen=True, slots=True)
class ReadingsSoFar:
    """How many readings of an edge there are, or how many people have counted.

    Attributes
    ----------
    n, wanted : readings
    """

    n: int
    wanted: int


SoFar = SampleTotal | MassSoFar | ReadingsSoFar | Item | AssignedValue | None
"""An item: its faces that were read.  An assigned value: what the readings give; it is not fit."""


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
    """Another counted sample is to be weighed.

    Attributes
    ----------
    number : samples
        Of this one, counted from 1.
    """

    number: int
    plan: PlanRow


@dataclass(frozen=True, slots=True)
class ReadEdge:
    """An edge of a box is to be read.

    Attributes
    ----------
    number : readings
        Of this one, counted from 1.
    is_first : bool
        Whether nothing was read of the box yet.
    """

    side: Side
    number: int
    is_first: bool


@dataclass(frozen=True, slots=True)
class ReadingsInDoubt:
    """All steps are taken and the readings bear no key."""

    key: ItemKey


@dataclass(frozen=True, slots=True)
class MeasureMore:
    """All steps are taken and the key is not fit."""

    assigned: AssignedValue


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
    """One step of the way.

    Attributes
    ----------
    kind : str
        What is read or said: ``empty``, ``sample``, ``full``, ``hand-count``, ``edge``, ``faces``;
        ``more`` for what the readings themselves ask for.
    so_far : SoFar
        What is there already; ``None``: nothing.
    side : Side or None
        Of a box.
    """

    kind: str
    is_done: bool
    so_far: SoFar = None
    side: Side | None = None


@dataclass(frozen=True, slots=True)
class MeasuringSteps:
    """The steps of one item, and the one to take now.

    Attributes
    ----------
    todo : Todo
        The next thing to do.
    kind : str
        Kind of the reading to make next; empty when none is.
    side : Side or None
        Edge to read next.
    """

    steps: tuple[Step, ...]
    todo: Todo
    kind: str = ""
    side: Side | None = None
