"""What a slip of the pen, of the key or of the unit looks like: what may have been meant instead.

Nothing here knows what a number is a number of.  A slip is only ever a question: it never changes
a reading.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from itertools import pairwise
from typing import Final

from nearmark.units import CM_PER_INCH

POINTS: Final = (1, -1, 2, -2, 3, -3)
"""Places a decimal point may be off, likeliest first: one place, then two, then thousands."""

MM_PER_CM: Final = 10


class SlipKind(StrEnum):
    """How a number came to be another one."""

    POINT = "decimal point"
    EXCHANGED = "digits exchanged"
    DIGIT = "one digit"
    INCHES = "inches"
    MILLIMETRES = "millimetres"


@dataclass(frozen=True, slots=True)
class Meant:
    """A number that may have been meant."""

    kind: SlipKind
    value: Decimal  # unit of the number


def pen_slips(number: Decimal) -> Iterator[Meant]:
    """Slips of the decimal point and exchanged digits, likeliest first.

    >>> [f"{meant.value:f}" for meant in pen_slips(Decimal("86"))][:4]
    ['8.6', '860', '68', '0.86']

    Parameters
    ----------
    number : any unit, > 0
    """
    shifted = [Meant(SlipKind.POINT, _shifted(number, -places)) for places in POINTS]
    yield from shifted[:2]
    for _, swapped in exchanged_digits(number):
        yield Meant(SlipKind.EXCHANGED, swapped)
    yield from shifted[2:]


def length_slips(length_cm: Decimal) -> Iterator[Meant]:
    """Slips of a length that should be in cm: the unit first, then those of the pen.

    >>> [f"{meant.value:f}" for meant in length_slips(Decimal("6.4"))][:2]
    ['16.3', '0.64']

    Parameters
    ----------
    length_cm : cm, > 0
    """
    inches = float(length_cm) * CM_PER_INCH
    yield Meant(SlipKind.INCHES, Decimal(f"{inches:.1f}"))
    yield Meant(SlipKind.MILLIMETRES, _shifted(length_cm, -1))
    yield from pen_slips(length_cm)


def likeliest(slips: Iterable[Meant], low: float, high: float) -> Meant | None:
    """The first slip after which the number is a usual one; ``None``: no slip explains it.

    >>> likeliest(pen_slips(Decimal("42.9")), 3.5, 5).value
    Decimal('4.29')

    Parameters
    ----------
    slips : Meant, likeliest first
    low, high : unit of the number; what is usual
    """
    return next((slip for slip in slips if low <= float(slip.value) <= high), None)


def exchanged_digits(number: Decimal) -> Iterator[tuple[int, Decimal]]:
    """The number with two neighbouring digits exchanged, for every pair of unequal neighbours.

    >>> list(exchanged_digits(Decimal("52.0")))
    [(1, Decimal('25.0')), (2, Decimal('50.2'))]

    Parameters
    ----------
    number : any unit, > 0

    Yields
    ------
    position of the first digit, counted from 1; the number
    """
    text = format(number, "f")
    places = [i for i, c in enumerate(text) if c.isdigit()]
    for position, (i, j) in enumerate(pairwise(places), start=1):
        swapped = list(text)
        swapped[i], swapped[j] = text[j], text[i]
        # A number is not written with a leading zero, so it cannot have been meant.
        if text[i] != text[j] and (swapped[0] != "0" or text[0] == "0"):
            yield position, Decimal("".join(swapped))


def slip_between(number: Decimal, meant: Decimal) -> Meant | None:
    """The slip of the pen that makes one number of another; ``None``: no single slip does.

    >>> slip_between(Decimal(24984), Decimal(14984))
    Meant(kind=<SlipKind.DIGIT: 'one digit'>, value=Decimal('14984'))

    Parameters
    ----------
    number, meant : any unit, > 0
    """
    for slip in pen_slips(number):
        if slip.value == meant:
            return Meant(slip.kind, meant)
    one, other = format(number, "f"), format(meant, "f")
    if len(one) == len(other) and sum(a != b for a, b in zip(one, other, strict=True)) == 1:
        return Meant(SlipKind.DIGIT, meant)
    return None


def _shifted(number: Decimal, places: int) -> Decimal:
    """The number with its decimal point moved, written without needless zeros."""
    text = format(number.scaleb(places), "f")
    return Decimal(text.rstrip("0").rstrip(".") if "." in text else text)
