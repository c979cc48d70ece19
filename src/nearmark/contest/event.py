"""The records of one event: what was measured, who took part, what they answered.

Everything a result depends on is here, so that a result can be computed again from it and from
nothing else.  Numbers a person wrote down are ``Decimal``: exactly what is on the paper.
"""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from nearmark.contest.heat_wish import HeatWish
from nearmark.contest.rules import RuleSet
from nearmark.kit.box_faces import NOT_STATED, BoxFaces
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station


class AnswerStatus(StrEnum):
    """What is in the answer field of a sheet."""

    ANSWERED = "answered"
    BLANK = "blank"
    ILLEGIBLE = "illegible"


class PairStatus(StrEnum):
    """Whether a pair is placed."""

    ENTERED = "entered"
    ABSENT = "absent"
    GUEST = "guest"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Material:
    """A dry material as used at this event."""

    code: str
    name: str
    # Coefficient of variation of the piece mass, when known from elsewhere (relative or None).
    piece_cv: Decimal | None = None
    # Allowance for moisture taken up or dust lost between samples and filling, as a relative
    # standard uncertainty of the count (relative).
    moisture_u: Decimal = Decimal(0)
    cautions: tuple[str, ...] = ()


class SamplesFrom(StrEnum):
    """Where the counted samples of a container came from."""

    LOT = "lot"
    CONTAINER = "container"


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to estimate; its key is sealed until release."""

    code: str  # printed on the label and the answer sheet; never gives the key away
    station: Station
    name: str
    material: str = ""  # code of the material; empty for a box
    weight: Decimal | None = None  # ``None``: the station's weight (dimensionless or None)
    # Of a container; ``None``: from the lot it was filled from.
    samples_from: SamplesFrom | None = None
    box: BoxFaces = NOT_STATED
    # Of a container: standard uncertainty of what all its samples share because the lot was not
    # mixed; 0: they came from all depths; ``None``: not stated (relative or None).
    mixing_u: Decimal | None = None
    divisions: tuple[str, ...] = ()  # whose pairs estimate it; empty: every pair


@dataclass(frozen=True, slots=True)
class CountedSample:
    """A counted and weighed sample of the pieces of an item."""

    item: str
    pieces: int  # pieces, >= 1
    mass_g: Decimal  # net mass of the counted pieces
    instrument: str  # name of the scale


@dataclass(frozen=True, slots=True)
class ContainerWeighing:
    """A container on the scale, filled, empty or both; repeated rows are repeated readings."""

    item: str
    # Filled and empty; one of the two at least (g, or None).
    gross_g: Decimal | None
    tare_g: Decimal | None
    instrument: str


@dataclass(frozen=True, slots=True)
class HandCount:
    """One complete count by hand of an item's pieces."""

    item: str
    pieces: int
    counter: str


class Side(StrEnum):
    """An edge of a box."""

    LENGTH = "length"
    WIDTH = "width"
    HEIGHT = "height"


@dataclass(frozen=True, slots=True)
class BoxReading:
    """One reading of one edge of a box, in cm."""

    item: str
    side: Side
    reading_cm: Decimal
    instrument: str


@dataclass(frozen=True, slots=True)
class Cup:
    """A numbered cup with its own tare."""

    number: str  # written on the cup
    tare_g: Decimal
    instrument: str
    batch: str = ""  # cups of one batch are alike; empty when the cup is alone


@dataclass(frozen=True, slots=True)
class Division:
    """Pairs ranked among themselves, such as the grades 3 and 4."""

    name: str
    awarded_places: int = 3  # places that get an award (>= 0)


@dataclass(frozen=True, slots=True)
class Room:
    """A room with places and a clock of its own."""

    name: str
    places: int  # pairs per heat, >= 1
    # Of these, how many somebody in a wheelchair reaches; ``None``: all.
    accessible_places: int | None = None


@dataclass(frozen=True, slots=True)
class Pair:
    """Two children, or one alone, under one code."""

    code: str
    school: str
    members: tuple[str, ...]  # tuple of str, one or two
    status: PairStatus = PairStatus.ENTERED
    heat: str = ""  # empty until scheduled
    room: str = ""  # empty until scheduled, and in an event without rooms
    division: str = ""  # empty: in none

    @property
    def is_solo(self) -> bool:
        """Whether one child takes part alone."""
        return len(self.members) == 1


@dataclass(frozen=True, slots=True)
class AnswerReading:
    """What one person read off a pair's sheet, or off the scale, for one item."""

    pair: str
    item: str
    reading: int  # first or second blind reading (1 or 2)
    clerk: str  # who read it
    status: AnswerStatus
    # Pieces, cm3; at the mass station the *gross* mass in g (unit of the station, or None).
    value: Decimal | None = None
    cup: str = ""  # number of the cup handed in; only at the mass station
    # Name of the scale that showed the gross mass; empty: the one that weighed the empty cup.
    scale: str = ""


@dataclass(frozen=True, slots=True)
class Adjudication:
    """A third person's reading of the paper where two readings differ; it decides."""

    pair: str
    item: str
    clerk: str
    status: AnswerStatus
    value: Decimal | None
    cup: str
    reason: str


@dataclass(frozen=True, slots=True)
class KeyDecision:
    """The lead's decision to use a key in spite of its uncertainty, or another value for it."""

    item: str
    # ``None``: the measured value is used although it is not fit (unit of the station, or None).
    value: Decimal | None
    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class AuditReading:
    """What the paper showed when a sheet was read again, without sight of what had been typed."""

    pair: str
    item: str
    clerk: str  # who read it again
    status: AnswerStatus
    value: Decimal | None = None  # as in ``AnswerReading`` (unit of the station, or None)
    cup: str = ""


@dataclass(frozen=True, slots=True)
class Closing:
    """The lead's word that an open point is settled."""

    point: str  # id of the open point; it holds the values, so that a changed one is open again
    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class Event:
    """One event, complete."""

    name: str
    day: date
    venue: str = ""
    rules: RuleSet = field(default_factory=RuleSet)
    seed: int = 0  # public seed of every random draw of this event (rank confidence, paper audit)
    instruments: tuple[Instrument, ...] = ()
    materials: tuple[Material, ...] = ()
    divisions: tuple[Division, ...] = ()
    rooms: tuple[Room, ...] = ()
    items: tuple[Item, ...] = ()
    samples: tuple[CountedSample, ...] = ()
    containers: tuple[ContainerWeighing, ...] = ()
    hand_counts: tuple[HandCount, ...] = ()
    box_readings: tuple[BoxReading, ...] = ()
    cups: tuple[Cup, ...] = ()
    pairs: tuple[Pair, ...] = ()
    heat_wishes: tuple[HeatWish, ...] = ()
    answers: tuple[AnswerReading, ...] = ()
    adjudications: tuple[Adjudication, ...] = ()
    key_decisions: tuple[KeyDecision, ...] = ()
    audit_readings: tuple[AuditReading, ...] = ()
    closings: tuple[Closing, ...] = ()

    @property
    def decided(self) -> dict[tuple[str, str], Adjudication]:
        """The answers that somebody decided, by pair and item."""
        return {(a.pair, a.item): a for a in self.adjudications}

    @property
    def typed(self) -> dict[tuple[str, str], AnswerReading | Adjudication]:
        """What was typed for each answer: the decision, else the first reading."""
        first: dict[tuple[str, str], AnswerReading | Adjudication] = {}
        for answer in self.answers:
            first.setdefault((answer.pair, answer.item), answer)
        return first | self.decided
