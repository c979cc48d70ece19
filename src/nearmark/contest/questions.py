"""What a person should look at beside an answer: one record a question, facts only."""

from dataclasses import dataclass
from decimal import Decimal

from nearmark.contest.event import AnswerStatus


@dataclass(frozen=True, slots=True)
class SaidValue:
    """What one reading says, whoever made it.

    Attributes
    ----------
    value : unit of the station, or None
        ``None`` unless it is answered.
    cup : str
        At the mass station; else empty.
    """

    status: AnswerStatus
    value: Decimal | None
    cup: str = ""


@dataclass(frozen=True, slots=True)
class NoNumber:
    """Answered, and no number was entered."""


@dataclass(frozen=True, slots=True)
class ImpossibleNumber:
    """A number that cannot be an answer.

    Attributes
    ----------
    value : unit of the item
    """

    value: Decimal


@dataclass(frozen=True, slots=True)
class CupWithoutTare:
    """Nobody weighed the cup empty, and it belongs to no batch.

    Attributes
    ----------
    cup : str
        Empty when no number was entered.
    """

    cup: str


@dataclass(frozen=True, slots=True)
class CupOnUnknownScale:
    """A scale that weighed the cup is not among the instruments of the event."""

    cup: str
    scale: str


@dataclass(frozen=True, slots=True)
class NetMassRefused:
    """The weighings of a cup bear no net mass.

    Attributes
    ----------
    refusal : str
        The words of the error.
    """

    cup: str
    refusal: str


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
