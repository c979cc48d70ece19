"""The records of one event: what was measured, who took part, what they answered.

Everything a result depends on is here, so that a result can be computed again from it and from
nothing else.  Numbers a person wrote down are ``Decimal``: exactly what stands on the paper.
"""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from nearmark.contest.rules import RuleSet
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station


class AnswerStatus(StrEnum):
    """What stands in the answer field of a sheet."""

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
    """A dry material as used at this event.

    Attributes
    ----------
    piece_cv : relative or None
        Coefficient of variation of the piece mass, when known from elsewhere.
    moisture_u : relative
        Allowance for moisture taken up or dust lost between samples and filling, as a relative
        standard uncertainty of the count.
    """

    code: str
    name: str
    piece_cv: Decimal | None = None
    moisture_u: Decimal = Decimal(0)
    cautions: tuple[str, ...] = ()


class SamplesFrom(StrEnum):
    """Where the counted samples of a container came from."""

    LOT = "lot"
    CONTAINER = "container"


class Faces(StrEnum):
    """Which faces of a box its edges are read between."""

    INSIDE = "inside"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to estimate; its key is sealed until release.

    Attributes
    ----------
    code : str
        Printed on the label and the answer sheet; never gives the key away.
    material : str
        Code of the material; empty for a box.
    weight : dimensionless or None
        ``None``: the station's weight.
    samples_from : SamplesFrom or None
        Of a container; ``None``: from the lot it was filled from.
    faces : Faces or None
        Of a box; ``None``: not stated.
    wall_cm : cm or None
        Thickness of one wall of a box read outside whose inner volume is asked for; ``None``: the
        volume between the faces that were read.
    bulge_cm : cm or None
        What a side of a box may differ by from its reading because faces bulge.
    mixing_u : relative or None
        Of a container: standard uncertainty of what all its samples share because the lot was not
        mixed; 0: they came from all depths; ``None``: not stated.
    """

    code: str
    station: Station
    name: str
    material: str = ""
    weight: Decimal | None = None
    samples_from: SamplesFrom | None = None
    faces: Faces | None = None
    wall_cm: Decimal | None = None
    bulge_cm: Decimal | None = None
    mixing_u: Decimal | None = None


@dataclass(frozen=True, slots=True)
class CountedSample:
    """A counted and weighed sample of the pieces of an item.

    Attributes
    ----------
    pieces : pieces, >= 1
    mass_g : g
        Net mass of the counted pieces.
    instrument : str
        Name of the scale.
    """

    item: str
    pieces: int
    mass_g: Decimal
    instrument: str


@dataclass(frozen=True, slots=True)
class ContainerWeighing:
    """A container on the scale, filled, empty or both; repeated rows are repeated readings.

    Attributes
    ----------
    gross_g, tare_g : g, or None
        Filled and empty; one of the two at least.
    """

    item: str
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
    """A numbered cup with its own tare.

    Attributes
    ----------
    number : str
        Written on the cup.
    tare_g : g
    batch : str
        Cups of one batch are alike; empty when the cup stands alone.
    """

    number: str
    tare_g: Decimal
    instrument: str
    batch: str = ""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two children, or one alone, under one code.

    Attributes
    ----------
    members : tuple of str, one or two
    heat : str
        Empty until scheduled.
    """

    code: str
    school: str
    members: tuple[str, ...]
    status: PairStatus = PairStatus.ENTERED
    heat: str = ""

    @property
    def is_solo(self) -> bool:
        """Whether one child takes part alone."""
        return len(self.members) == 1


@dataclass(frozen=True, slots=True)
class AnswerReading:
    """What one person read off a pair's sheet, or off the scale, for one item.

    Attributes
    ----------
    reading : 1 or 2
        First or second blind reading.
    clerk : str
        Who read it.
    value : unit of the station, or None
        Pieces, cm3; at the mass station the *gross* mass in g.
    cup : str
        Number of the cup handed in; only at the mass station.
    scale : str
        Name of the scale that showed the gross mass; empty: the one that weighed the empty cup.
    """

    pair: str
    item: str
    reading: int
    clerk: str
    status: AnswerStatus
    value: Decimal | None = None
    cup: str = ""
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
    """The lead's decision to use a key in spite of its uncertainty, or another value for it.

    Attributes
    ----------
    value : unit of the station, or None
        ``None``: the measured value stands although it is not fit.
    """

    item: str
    value: Decimal | None
    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class AuditReading:
    """What the paper showed when a sheet was read again, without sight of what had been typed.

    Attributes
    ----------
    clerk : str
        Who read it again.
    value : unit of the station, or None
        As in ``AnswerReading``.
    """

    pair: str
    item: str
    clerk: str
    status: AnswerStatus
    value: Decimal | None = None
    cup: str = ""


@dataclass(frozen=True, slots=True)
class Closing:
    """The lead's word that an open point is settled.

    Attributes
    ----------
    point : str
        Id of the open point; it holds the values, so that a changed one is open again.
    """

    point: str
    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class Event:
    """One event, complete.

    Attributes
    ----------
    seed : int
        Public seed of every random draw of this event (rank confidence, paper audit).
    """

    name: str
    day: date
    venue: str = ""
    rules: RuleSet = field(default_factory=RuleSet)
    seed: int = 0
    instruments: tuple[Instrument, ...] = ()
    materials: tuple[Material, ...] = ()
    items: tuple[Item, ...] = ()
    samples: tuple[CountedSample, ...] = ()
    containers: tuple[ContainerWeighing, ...] = ()
    hand_counts: tuple[HandCount, ...] = ()
    box_readings: tuple[BoxReading, ...] = ()
    cups: tuple[Cup, ...] = ()
    pairs: tuple[Pair, ...] = ()
    answers: tuple[AnswerReading, ...] = ()
    adjudications: tuple[Adjudication, ...] = ()
    key_decisions: tuple[KeyDecision, ...] = ()
    audit_readings: tuple[AuditReading, ...] = ()
    closings: tuple[Closing, ...] = ()
