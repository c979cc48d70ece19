"""What can be odd about answers, cups, counts and decided keys: one record each, facts only."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from nearmark.kit.box_faces import BoxFaces
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
    """An answer far from those of other pairs."""

    value: Decimal  # unit of the item
    slip: AnswerSlip | None  # what would explain it; ``None``: no common slip does
    item: str = ""  # of ``ANOTHER_ROW``: the item on which others wrote about as much


@dataclass(frozen=True, slots=True)
class AnswerOutside:
    """An answer outside what the rule set takes as possible."""

    # Unit of the item.
    value: Decimal
    lowest: float
    highest: float


@dataclass(frozen=True, slots=True)
class OddGross:
    """A filled cup whose contents cannot be near the target."""

    gross_g: Decimal
    tare_g: Decimal
    meant: Meant | None  # the slip of the pen after which the mass is usual


@dataclass(frozen=True, slots=True)
class CupHandedInTwice:
    """A cup that another pair handed in too."""

    # Number of the cup, code of the other pair.
    cup: str
    first: str


@dataclass(frozen=True, slots=True)
class AnswerOfAbsent:
    """An answer of a pair that is marked absent."""


@dataclass(frozen=True, slots=True)
class CountsDiffer:
    """Two people counted another number of pieces."""

    # The later count, and the first one.
    pieces: int
    first_pieces: int
    first_counter: str  # who counted first; may be empty
    meant: Meant | None  # the slip that makes one number of the other


@dataclass(frozen=True, slots=True)
class WallTakenOffInside:
    """A box read inside, from which the walls are taken off all the same."""

    box: BoxFaces


@dataclass(frozen=True, slots=True)
class KeyFarFromMeasured:
    """A decided key far from the measured one."""

    # Unit of the item.
    decided: Decimal
    measured: Decimal
    meant: Meant | None  # the slip that makes one number of the other


@dataclass(frozen=True, slots=True)
class SpreadOfMaterial:
    """An odd spread typed for a material that no item has samples of."""

    material: str  # its name
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
