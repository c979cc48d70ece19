"""What to do about a value that is not fit: one record each, facts only."""

from dataclasses import dataclass

from nearmark.measurement.acts import Act


@dataclass(frozen=True, slots=True)
class ActBrings:
    """An act that lowers U of a box.

    Attributes
    ----------
    act : Act
    now, then : relative
        U before, and when it is done and finds what was read already.
    """

    act: Act
    now: float
    then: float


@dataclass(frozen=True, slots=True)
class OnlyTogether:
    """No act alone reaches the limit, all of them together do.

    Attributes
    ----------
    limit : relative
    """

    limit: float


@dataclass(frozen=True, slots=True)
class NoActReaches:
    """No act on this box reaches the limit.

    Attributes
    ----------
    limit : relative
    has_acts : bool
        Whether some help all the same.
    """

    limit: float
    has_acts: bool


@dataclass(frozen=True, slots=True)
class OneMoreSample:
    """What one more sample is worth.

    Attributes
    ----------
    pieces : pieces
    now, then : relative
        U before and after, if the new sample scatters as the others did.
    minutes : int
        To count and weigh it.
    """

    pieces: int
    now: float
    then: float
    minutes: int


@dataclass(frozen=True, slots=True)
class SamplesReach:
    """Samples of the size so far that should reach the limit.

    Attributes
    ----------
    pieces, n_samples : pieces, samples
    minutes : int
    limit : relative
    """

    pieces: int
    n_samples: int
    minutes: int
    limit: float


@dataclass(frozen=True, slots=True)
class LargerSamplesReach:
    """Larger samples that should reach the limit.

    Attributes
    ----------
    pieces, n_samples : pieces, samples
    minutes : int
    limit : relative
    is_less_work : bool
        Whether samples of the size so far would reach it too, with more work.
    """

    pieces: int
    n_samples: int
    minutes: int
    limit: float
    is_less_work: bool


@dataclass(frozen=True, slots=True)
class ScaleTooCoarse:
    """Samples so small that the step of the scale is in the way.

    Attributes
    ----------
    pieces : pieces
    step_g : g
    """

    pieces: int
    step_g: float


@dataclass(frozen=True, slots=True)
class SamplesDoNotReach:
    """Samples of this size that do not reach the limit.

    Attributes
    ----------
    pieces : pieces
    limit : relative
    n_tried : samples, or None
        So many more would not; ``None``: any number.
    """

    pieces: int
    limit: float
    n_tried: int | None


@dataclass(frozen=True, slots=True)
class LookElsewhere:
    """No samples reach the limit."""


@dataclass(frozen=True, slots=True)
class CountByHand:
    """So few pieces that counting them all is surer.

    Attributes
    ----------
    pieces : pieces
    """

    pieces: int


@dataclass(frozen=True, slots=True)
class SecondPersonCounts:
    """One person alone has counted."""


@dataclass(frozen=True, slots=True)
class AnotherPersonCounts:
    """Counts of several people that are not sure enough.

    Attributes
    ----------
    now, limit : relative
    """

    now: float
    limit: float


@dataclass(frozen=True, slots=True)
class NetMassUnsure:
    """A net mass that is not sure enough.

    Attributes
    ----------
    now, limit : relative
    component : str
        The largest row of its budget.
    is_batch : bool
        Whether that is the scatter of the cups of a batch.
    """

    now: float
    limit: float
    component: str
    is_batch: bool


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
    """A ruler that cannot bring a box under its limit, and what would.

    Attributes
    ----------
    ruler : str
    limit : relative
    u : relative
        U of readings that agree.
    is_likely_only : bool
        Whether that holds if the edges that are not read yet are as long as the others.
    is_least : bool
        Whether U is that or more, because edges are missing.
    ways : tuple of tuple of Act
        Each of them reaches the limit; the acts of one way together.
    edge_cm : cm, or None
        A box with edges of that length or more would do.
    """

    ruler: str
    limit: float
    u: float
    is_likely_only: bool
    is_least: bool
    ways: tuple[tuple[Act, ...], ...]
    edge_cm: int | None
