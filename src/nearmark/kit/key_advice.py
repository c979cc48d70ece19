"""What to do about a value that is not fit: one record each, facts only."""

from dataclasses import dataclass

from nearmark.measurement.acts import Act


@dataclass(frozen=True, slots=True)
class ActBrings:
    """An act that lowers U of a box."""

    act: Act
    # U before, and when it is done and finds what was read already (relative).
    now: float
    then: float


@dataclass(frozen=True, slots=True)
class OnlyTogether:
    """No act alone reaches the limit, all of them together do."""

    limit: float  # relative


@dataclass(frozen=True, slots=True)
class NoActReaches:
    """No act on this box reaches the limit."""

    limit: float  # relative
    has_acts: bool  # whether some help all the same


@dataclass(frozen=True, slots=True)
class OneMoreSample:
    """What one more sample is worth."""

    pieces: int
    # U before and after, if the new sample scatters as the others did (relative).
    now: float
    then: float
    minutes: int  # to count and weigh it


@dataclass(frozen=True, slots=True)
class SamplesReach:
    """Samples of the size so far that should reach the limit."""

    # Pieces, samples.
    pieces: int
    n_samples: int
    minutes: int
    limit: float  # relative


@dataclass(frozen=True, slots=True)
class LargerSamplesReach:
    """Larger samples that should reach the limit."""

    # Pieces, samples.
    pieces: int
    n_samples: int
    minutes: int
    limit: float  # relative
    is_less_work: bool  # whether samples of the size so far would reach it too, with more work


@dataclass(frozen=True, slots=True)
class ScaleTooCoarse:
    """Samples so small that the step of the scale is in the way."""

    pieces: int
    step_g: float


@dataclass(frozen=True, slots=True)
class SamplesDoNotReach:
    """Samples of this size that do not reach the limit."""

    pieces: int
    limit: float  # relative
    n_tried: int | None  # so many more would not; ``None``: any number (samples, or None)


@dataclass(frozen=True, slots=True)
class LookElsewhere:
    """No samples reach the limit."""


@dataclass(frozen=True, slots=True)
class CountByHand:
    """So few pieces that two people count them all: surer, or the only way."""

    pieces: int


@dataclass(frozen=True, slots=True)
class SecondPersonCounts:
    """One person alone has counted."""


@dataclass(frozen=True, slots=True)
class AnotherPersonCounts:
    """Counts of several people that are not sure enough."""

    # Relative.
    now: float
    limit: float


@dataclass(frozen=True, slots=True)
class NetMassUnsure:
    """A net mass that is not sure enough."""

    # Relative.
    now: float
    limit: float
    component: str  # the largest row of its budget
    is_batch: bool  # whether that is the scatter of the cups of a batch


KeyAdvice = (
    ActBrings
    | OnlyTogether
    | NoActReaches
    | OneMoreSample
    | SamplesReach
    | LargerSamplesReach
    | ScaleTooCoarse
    | SamplesDoNotReach
    | LookElsewhere
    | CountByHand
    | SecondPersonCounts
    | AnotherPersonCounts
    | NetMassUnsure
)


@dataclass(frozen=True, slots=True)
class RulerOutlook:
    """A ruler that cannot bring a box under its limit, and what would."""

    ruler: str
    limit: float  # relative
    u: float  # U of readings that agree (relative)
    # Whether that holds if the edges that are not read yet are as long as the others.
    is_likely_only: bool
    is_least: bool  # whether U is that or more, because edges are missing
    # Each of them reaches the limit; the acts of one way together.
    ways: tuple[tuple[Act, ...], ...]
    edge_cm: int | None  # a box with edges of that length or more would do (cm, or None)
