"""What a person should look at beside an answer: one record a question, facts only."""

from dataclasses import dataclass
from decimal import Decimal

from nearmark.contest.event import AnswerStatus


@dataclass(frozen=True, slots=True)
class SaidValue:
    """What one reading says, whoever made it."""

    status: AnswerStatus
    value: Decimal | None  # ``None`` unless it is answered (unit of the station, or None)
    cup: str = ""  # at the mass station; else empty


@dataclass(frozen=True, slots=True)
class NoNumber:
    """Answered, and no number was entered."""


@dataclass(frozen=True, slots=True)
class ImpossibleNumber:
    """A number that cannot be an answer."""

    value: Decimal  # unit of the item


@dataclass(frozen=True, slots=True)
class CupWithoutTare:
    """Nobody weighed the cup empty, and it belongs to no batch."""

    cup: str  # empty when no number was entered


@dataclass(frozen=True, slots=True)
class CupOnUnknownScale:
    """A scale that weighed the cup is not among the instruments of the event."""

    cup: str
    scale: str


@dataclass(frozen=True, slots=True)
class NetMassRefused:
    """The weighings of a cup bear no net mass."""

    cup: str
    refusal: str  # the words of the error


@dataclass(frozen=True, slots=True)
class ReadDifferently:
    """Two people read different things."""

    said: tuple[SaidValue, ...]


@dataclass(frozen=True, slots=True)
class ReadOnce:
    """One person read it, once."""


@dataclass(frozen=True, slots=True)
class ReadTwiceByOne:
    """One person made both readings."""

    clerk: str


@dataclass(frozen=True, slots=True)
class DecidedByReader:
    """Who decided had made a first or second reading."""

    clerk: str


@dataclass(frozen=True, slots=True)
class DecidedTooEarly:
    """A third person decided before two people had read it."""

    clerk: str


@dataclass(frozen=True, slots=True)
class DecidedAgainstBoth:
    """A third person decided otherwise than both readings."""

    clerk: str
    decided: SaidValue
    both: SaidValue


NetQuestion = CupWithoutTare | CupOnUnknownScale | NetMassRefused

Question = (
    NoNumber
    | ImpossibleNumber
    | NetQuestion
    | ReadDifferently
    | ReadOnce
    | ReadTwiceByOne
    | DecidedByReader
    | DecidedTooEarly
    | DecidedAgainstBoth
)
