"""What can be odd about samples, containers, cups and boxes: one record each, facts only."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from nearmark.kit.box_faces import Faces
from nearmark.kit.usual import UsualPiece
from nearmark.measurement.slips import Meant


@dataclass(frozen=True, slots=True)
class OtherCount:
    """Another number of pieces may have been counted."""

    pieces: int


@dataclass(frozen=True, slots=True)
class DishLeftOn:
    """Something empty may have been left on the scale."""

    cup: str  # number of a cup; empty: the container of the item
    mass_g: Decimal


@dataclass(frozen=True, slots=True)
class OtherSample:
    """What an odd sample is compared with: another one of the same item."""

    each_g: float  # mass of one piece of it
    # Whether the odd sample is near what is usual, so that the others may be wrong.
    is_unusual: bool = False


@dataclass(frozen=True, slots=True)
class OddSample:
    """A counted sample of which one piece weighs too much or too little."""

    pieces: int
    mass_g: Decimal
    beside: OtherSample | UsualPiece  # what it is compared with
    # The slip that explains it best; ``None``: none does.
    slip: OtherCount | Meant | DishLeftOn | None

    @property
    def each_g(self) -> float:
        """Mass of one piece, in g."""
        return float(self.mass_g) / self.pieces

    @property
    def ratio(self) -> float:
        """Mass of one piece, divided by that of what it is compared with."""
        beside = self.beside
        return self.each_g / (beside.mass_g if isinstance(beside, UsualPiece) else beside.each_g)


@dataclass(frozen=True, slots=True)
class OddSpread:
    """A typed spread from piece to piece that the samples or the catalogue contradict."""

    typed: float  # relative
    seen: float  # as the samples show, or as the catalogue has it (relative)
    is_of_catalogue: bool
    # A hundred times more or less than typed, if that explains it (relative, or None).
    meant: float | None


@dataclass(frozen=True, slots=True)
class FullNotHeavier:
    """A full container that is not heavier than the empty one."""

    full_g: Decimal
    empty_g: Decimal


@dataclass(frozen=True, slots=True)
class MassDiffers:
    """A container that weighed another mass before."""

    is_full: bool
    mass_g: Decimal
    before_g: Decimal
    meant: Meant | None  # the slip that makes one mass of the other


@dataclass(frozen=True, slots=True)
class OddCup:
    """An empty cup with an unusual mass."""

    tare_g: Decimal
    # Another cup of its batch; ``None``: it is compared with what cups weigh (g, or None).
    other_g: Decimal | None
    # What would be usual.
    lowest_g: float
    highest_g: float
    meant: Meant | None  # the slip after which the mass is usual


@dataclass(frozen=True, slots=True)
class OddSide:
    """A side that no box of the contest has."""

    edge: str  # ``length``, ``width`` or ``height``
    reading_cm: Decimal
    # Sides of boxes.
    lowest_cm: float
    highest_cm: float
    meant: Meant | None  # the slip after which the side is usual


@dataclass(frozen=True, slots=True)
class SideDiffers:
    """A side that was read differently before."""

    edge: str  # ``length``, ``width`` or ``height``
    reading_cm: Decimal
    before_cm: Decimal
    # What would explain it: the faces this one may have been read between; a text is the edge that
    # may have been read instead.
    slip: Meant | Faces | str | None


class BoxSlip(StrEnum):
    """How the volume of a box came to be unusual."""

    INCHES = "inches"
    MILLIMETRES = "millimetres"


@dataclass(frozen=True, slots=True)
class OddVolume:
    """A volume that no box of the contest has."""

    volume_cm3: float
    # Boxes of the contest.
    lowest_cm3: float
    highest_cm3: float
    slip: BoxSlip | None = None
    meant_cm3: float = 0.0  # the volume after that slip; 0 without one


OddReading = (
    OddSample
    | OddSpread
    | FullNotHeavier
    | MassDiffers
    | OddCup
    | OddSide
    | SideDiffers
    | OddVolume
)
