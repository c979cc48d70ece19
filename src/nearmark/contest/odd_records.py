"""What can be odd about answers, cups, counts and decided keys: one record each, facts only."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from nearmark.kit.odd_records import OddReading, OddSpread
from nearmark.measurement.slips import Meant


class AnswerSlip(StrEnum):
    """How an answer came to be far from what others wrote."""

    DIGIT_MISSING = "digit missing"
    DIGIT_TOO_MANY = "digit too many"
    THOUSANDS = "thousands"
    THREE_TOO_MANY = "three digits too many"
    ANOTHER_ROW = "another row"


@dataclass(frozen=True, slots=True)
class FarAnswer:
    """An answer far from those of other pairs.

    Attributes
    ----------
    value : unit of the item
    slip : AnswerSlip or None
        What would explain it; ``None``: no common slip does.
    item : str
        Of ``ANOTHER_ROW``: the item on which others wrote about as much.
    """

    value: Decimal
    slip: AnswerSlip | None
    item: str = ""


@dataclass(frozen=True, slots=True)
class AnswerOutside:
    """An answer outside what the rule set takes as possible.

    Attributes
    ----------
    value, lowest, highest : unit of the item
    """

    value: Decimal
    lowest: float
    highest: float


@dataclass(frozen=True, slots=True)
class OddGross:
    """A filled cup whose contents cannot be near the target.

    Attributes
    ----------
    gross_g, tare_g : g
    meant : Meant or None
        The slip of the pen after which the mass is usual.
    """

    gross_g: Decimal
    tare_g: Decimal
    meant: Meant | None


@dataclass(frozen=True, slots=True)
class CupHandedInTwice:
    """A cup that another pair handed in too.

    Attributes
    ----------
    cup, first : str
        Number of the cup, code of the other pair.
    """

    cup: str
    first: str


@dataclass(frozen=True, slots=True)
class AnswerOfAbsent:
    """An answer of a pair that is marked absent."""


@dataclass(frozen=True, slots=True)
class CountsDiffer:
    """Two people counted another number of pieces.

    Attributes
    ----------
    pieces, first_pieces : pieces
        The later count, and the first one.
    first_counter : str
        Who counted first; may be empty.
    meant : Meant or None
        The slip that makes one number of the other.
    """

    pieces: int
    first_pieces: int
    first_counter: str
    meant: Meant | None


@dataclass(frozen=True, slots=True)
class WallTakenOffInside:
    """A box read inside, from which the walls are taken off all the same.

    Attributes
    ----------
    wall_cm : cm
    """

    wall_cm: Decimal


@dataclass(frozen=True, slots=True)
class KeyFarFromMeasured:
    """A decided key far from the measured one.

    Attributes
    ----------
    decided, measured : unit of the item
    meant : Meant or None
        The slip that makes one number of the other.
    """

    decided: Decimal
    measured: Decimal
    meant: Meant | None


@dataclass(frozen=True, slots=True)
class SpreadOfMaterial:
    """An odd spread typed for a material that no item has samples of.

    Attributes
    ----------
    material : str
        Its name.
    """

    material: str
    spread: OddSpread


Odd = (
    FarAnswer
    | AnswerOutside
    | OddGross
    | CupHandedInTwice
    | AnswerOfAbsent
    | CountsDiffer
    | WallTakenOffInside
    | KeyFarFromMeasured
    | SpreadOfMaterial
    | OddReading
)
