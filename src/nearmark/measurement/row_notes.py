"""Why a row of an uncertainty budget is what it is: facts only."""

from dataclasses import dataclass
from enum import StrEnum


class Reason(StrEnum):
    """A reason that needs no number."""

    # Of one repeated reading.
    CONTAINED = "contained in the repeatability"
    ONE_READING = "one reading"
    # Of a count by weighing.
    SHARED_BY_SAMPLES = "shared by the samples"
    ROUNDING_HIDDEN = "rounding hidden by agreeing samples"
    TOO_LITTLE_SCATTER = "too little scatter"
    STATED_SPREAD = "stated piece spread"
    FROM_CONTAINER = "samples from the container"
    SAME_SCALE = "same scale for samples and container"
    MIXING_NOT_STATED = "mixing not stated"
    ALL_DEPTHS = "samples from all depths"
    ONE_PLACE = "samples from one place"
    # Of a count by hand.
    ONE_COUNT = "one count"
    ONE_PERSON = "counts of one person"
    SHOWN_BY_ANOTHER = "shown by another person"
    WEIGHTED = "weighted"
    # Of a box.
    ZERO_NOT_STATED = "zero not stated"
    SAME_RULER = "same ruler for all sides"
    SAME_WALLS = "same walls for all sides"
    EXACT_PRODUCT = "exact product"


@dataclass(frozen=True, slots=True)
class FromSamples:
    """The scatter of samples, with its degrees of freedom."""

    dof: int


@dataclass(frozen=True, slots=True)
class WidenedByStudent:
    """Student's factor is in ``u`` already, for these degrees of freedom."""

    dof: int


@dataclass(frozen=True, slots=True)
class UpperBound:
    """The upper bound of the scatter of the samples at a level, 0 to 1."""

    level: float


@dataclass(frozen=True, slots=True)
class FewSamples:
    """What few samples, and stopping when they look good, may hide."""

    level: float  # of the upper bound of the scatter, 0 to 1 (dimensionless)
    # Piece spread believed beforehand, and the largest unless the samples show more (relative).
    usual_cv: float
    max_cv: float


@dataclass(frozen=True, slots=True)
class FullCounts:
    """Complete counts by several people, and whether they agree."""

    n: int
    agree: bool


@dataclass(frozen=True, slots=True)
class WeighingAgrees:
    """A count by weighing that agrees with the counts by hand."""

    # Pieces.
    weighed: float
    expanded_u: float
    e_n: float  # difference over the joint expanded uncertainty, 0 to 1 (dimensionless)


@dataclass(frozen=True, slots=True)
class CornerFactor:
    """What a corner off a right angle multiplies the volume by (dimensionless)."""

    factor: float


RowNote = (
    Reason
    | FromSamples
    | WidenedByStudent
    | UpperBound
    | FewSamples
    | FullCounts
    | WeighingAgrees
    | CornerFactor
)
