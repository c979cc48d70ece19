"""What can be odd about samples, containers, cups and boxes: one record each, facts only."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from nearmark.kit.usual import UsualPiece
from nearmark.measurement.slips import Meant


@dataclass(frozen=True, slots=True)
class OtherCount:
    """Another number of pieces may have been counted.

    Attributes
    ----------
    pieces : pieces
    """

    pieces: int


@dataclass(frozen=True, slots=True)
class DishLeftOn:
    """Something empty may have been left on the scale.

    Attributes
    ----------
    cup : str
        Number of a cup; empty: the container of the item.
    mass_g : g
    """

    cup: str
    mass_g: Decimal


@dataclass(frozen=True, slots=True)
class OtherSample:
    """What an odd sample is compared with: another one of the same item.

    Attributes
    ----------
    each_g : g
        Mass of one piece of it.
    is_unusual : bool
        Whether the odd sample is near what is usual, so that the others may be wrong.
    """

    each_g: float
    is_unusual: bool = False


@dataclass(frozen=True, slots=True)
class OddSample:
    """A counted sample of which one piece weighs too much or too little.

    Attributes
    ----------
    pieces : pieces
    mass_g : g
    beside : OtherSample or UsualPiece
        What it is compared with.
    slip : OtherCount, Meant, DishLeftOn or None
        The slip that explains it best; ``None``: none does.
    """

    pieces: int
    mass_g: Decimal
    beside: OtherSample | UsualPiece
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
    """A typed spread from piece to piece that the samples or the catalogue contradict.

    Attributes
    ----------
    typed : relative
    seen : relative
        As the samples show, or as the catalogue has it.
    is_of_catalogue : bool
    meant : relative, or None
        A hundred times more or less than typed, if that explains it.
    """

    typed: float
    seen: float
    is_of_catalogue: bool
    meant: float | None


@dataclass(frozen=True, slots=True)
class FullNotHeavier:
    """A full container that is not heavier than the empty one.

    Attributes
    ----------
    full_g, empty_g : g
    """

    full_g: Decimal
    empty_g: Decimal


@dataclass(frozen=True, slots=True)
class MassDiffers:
    """A container that weighed another mass before.

    Attributes
    ----------
    is_full : bool
    mass_g, before_g : g
    meant : Meant or None
        The slip that makes one mass of the other.
    """

    is_full: bool
    mass_g: Decimal
    before_g: Decimal
    meant: Meant | None


@dataclass(frozen=True, slots=True)
class OddCup:
    """An empty cup with an unusual mass.

    Attributes
    ----------
    tare_g : g
    other_g : g, or None
        Another cup of its batch; ``None``: it is compared with what cups weigh.
    lowest_g, highest_g : g
        What would be usual.
    meant : Meant or None
        The slip after which the mass is usual.
    """

    tare_g: Decimal
    other_g: Decimal | None
    lowest_g: float
    highest_g: float
    meant: Meant | None


@dataclass(frozen=True, slots=True)
class OddSide:
    """A side that no box of the contest has.

    Attributes
    ----------
    edge : str
        ``length``, ``width`` or ``height``.
    reading_cm : cm
    lowest_cm, highest_cm : cm
        Sides of boxes.
    meant : Meant or None
        The slip after which the side is usual.
    """

    edge: str
    reading_cm: Decimal
    lowest_cm: float
    highest_cm: float
    meant: Meant | None


class FacesSlip(StrEnum):
    """How one reading may have been taken, against all others."""

    OUTSIDE = "outside"
    INSIDE = "inside"


@dataclass(frozen=True, slots=True)
class SideDiffers:
    """A side that was read differently before.

    Attributes
    ----------
    edge : str
        ``length``, ``width`` or ``height``.
    reading_cm, before_cm : cm
    slip : Meant, FacesSlip, str or None
        What would explain it; a text is the edge that may have been read instead.
    """

    edge: str
    reading_cm: Decimal
    before_cm: Decimal
    slip: Meant | FacesSlip | str | None


class BoxSlip(StrEnum):
    """How the volume of a box came to be unusual."""

    INCHES = "inches"
    MILLIMETRES = "millimetres"


@dataclass(frozen=True, slots=True)
class OddVolume:
    """A volume that no box of the contest has.

    Attributes
    ----------
    volume_cm3 : cm3
    lowest_cm3, highest_cm3 : cm3
        Boxes of the contest.
    slip : BoxSlip or None
    meant_cm3 : cm3
        The volume after that slip; 0 without one.
    """

    volume_cm3: float
    lowest_cm3: float
    highest_cm3: float
    slip: BoxSlip | None = None
    meant_cm3: float = 0.0


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
