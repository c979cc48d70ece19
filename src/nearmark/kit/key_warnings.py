"""What a person should look at before trusting a value: one record each, facts only."""

from dataclasses import dataclass
from enum import StrEnum

from nearmark.kit.odd_records import OddSpread


@dataclass(frozen=True, slots=True)
class OffGrid:
    """An indication that its instrument cannot show."""

    where: str  # ``gross``, ``tare``, ``sample 3``, or an edge
    # ``value``, ``step``: unit of the instrument.
    value: float
    unit: str
    step: float
    instrument: str
    may_be_inches: bool = False


@dataclass(frozen=True, slots=True)
class FarFromOthers:
    """A repeat so far off that two digits may have changed places."""

    where: str  # ``gross``, ``tare``, or an edge
    # ``value``, ``median``: unit of the instrument.
    value: float
    unit: str
    median: float


@dataclass(frozen=True, slots=True)
class PiecesVary:
    """Samples that scatter as if single pieces varied by more than their mass."""

    piece_cv: float  # relative


@dataclass(frozen=True, slots=True)
class SamplesAllAgree:
    """Samples that agree to the last digit."""


@dataclass(frozen=True, slots=True)
class LongSide:
    """A side so long that it may be in millimetres."""

    edge: str
    length_cm: float


@dataclass(frozen=True, slots=True)
class LargeBox:
    """A box so large that it may be in millimetres."""

    volume_cm3: float


@dataclass(frozen=True, slots=True)
class SidesReadOnce:
    """Each side was read once."""


@dataclass(frozen=True, slots=True)
class SkewCorner:
    """A corner off a right angle."""

    off_deg: float
    share: float  # taken off the volume (relative)


@dataclass(frozen=True, slots=True)
class CountsDisagree:
    """Counts by hand that differ by more than miscounts of single pieces explain."""

    counts: tuple[int, ...]
    # Pieces.
    explained: float
    apart: int


@dataclass(frozen=True, slots=True)
class ManyPieces:
    """A count by hand above which miscounts grow."""

    limit: int  # pieces


KeyWarning = (
    OffGrid
    | FarFromOthers
    | PiecesVary
    | SamplesAllAgree
    | OddSpread
    | LongSide
    | LargeBox
    | SidesReadOnce
    | SkewCorner
    | CountsDisagree
    | ManyPieces
)


class Lack(StrEnum):
    """What a value lacks to be fit, however small U is."""

    SECOND_COUNTER = "only one person counted"
