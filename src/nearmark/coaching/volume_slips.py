"""Slips of arithmetic in a volume: what was worked out instead of length x width x height."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nearmark.coaching.attempt import Attempt, Sides
from nearmark.coaching.limits import checked

TOLERANCE: Final = 0.05
"""Natural log; honest rounding to two figures stays within it, half as much would flag one honest
answer in eight (20,000 invented boxes; project's model notes, section 3)."""

_SWAP_SHARE: Final = 0.005


class Slip(StrEnum):
    """What went wrong, in words."""

    NONE = "no slip"
    TRANSPOSED = "two digits swapped"
    DECIMAL = "a factor of ten"
    TWO_SIDES = "two sides multiplied only"
    SUM = "sides added instead of multiplied"
    DOUBLED = "doubled"
    HALVED = "halved"
    SURFACE = "the surface instead of the volume"
    TWICE = "one side used twice"
    OTHER = "does not fit the sides"


@dataclass(frozen=True, slots=True)
class FoundSlip:
    """One recorded volume against its own sides.

    Attributes
    ----------
    slip : Slip
    product_cm3 : cm3
        Length x width x height of the pupil's own sides.
    detail : str
        The sum that gives the recorded number; empty when there is none.
    """

    slip: Slip
    product_cm3: float
    detail: str = ""

    @property
    def words(self) -> str:
        """One plain sentence."""
        if self.slip is Slip.NONE:
            return "The product fits the sides."
        shown = f" ({self.detail})" if self.detail else ""
        return f"{self.slip.value.capitalize()}{shown}: your sides give {self.product_cm3:.0f} cm3."


def find_slip(recorded_cm3: float, sides: Sides) -> FoundSlip:
    """Find the slip that turns the sides into the recorded volume.

    Swapped digits come first: the others have a tolerance, which would hide them.

    Parameters
    ----------
    recorded_cm3 : cm3, > 0
    sides : Sides
        As the pupil had them.

    Returns
    -------
    FoundSlip

    Raises
    ------
    InputError
        If a number is not above zero.

    Examples
    --------
    >>> find_slip(96, Sides(12, 8, 5)).words
    'Two sides multiplied only (12 x 8): your sides give 480 cm3.'
    """
    checked(recorded_cm3, "recorded volume", 1e-6, 1e12, mend="Give it in cm3")
    for name, value in zip(("length", "width", "height"), sides.cm, strict=True):
        checked(value, name, 1e-6, 1e6, mend="Give it in cm")
    product = math.prod(sides.cm)
    if is_transposed(recorded_cm3, product):
        return FoundSlip(Slip.TRANSPOSED, product, f"{product:.0f} became {recorded_cm3:.0f}")
    if abs(math.log(recorded_cm3 / product)) <= TOLERANCE:
        return FoundSlip(Slip.NONE, product)
    found = [
        (abs(math.log(recorded_cm3 / value)), i, slip, detail)
        for i, (slip, value, detail) in enumerate(_candidates(sides, product))
    ]
    gap, _, slip, detail = min(found)
    return FoundSlip(slip, product, detail) if gap <= TOLERANCE else FoundSlip(Slip.OTHER, product)


def slips_among(attempts: Iterable[Attempt]) -> list[tuple[Attempt, FoundSlip]]:
    """The attempts at boxes whose volume does not fit their own sides, with the likely slip.

    Parameters
    ----------
    attempts : iterable of Attempt
        Those without sides are passed over.

    Returns
    -------
    list of (Attempt, FoundSlip)

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Station
    >>> box = Attempt(date(2027, 2, 3), "Ada", Station.VOLUME, "tea box", 96, 500,
    ...               parts=Sides(12, 8, 5))
    >>> [slip.detail for _, slip in slips_among([box])]
    ['12 x 8']
    """
    found = (
        (attempt, find_slip(attempt.estimate, attempt.parts))
        for attempt in attempts
        if isinstance(attempt.parts, Sides)
    )
    return [(attempt, slip) for attempt, slip in found if slip.slip is not Slip.NONE]


def is_transposed(recorded: float, product: float) -> bool:
    """Whether swapping two neighbouring digits of the recorded number gives the product.

    Parameters
    ----------
    recorded, product : any one unit

    Returns
    -------
    bool

    Examples
    --------
    >>> is_transposed(387, 378), is_transposed(380, 378)
    (True, False)
    """
    if abs(recorded - product) <= max(1.0, _SWAP_SHARE * product) or recorded != round(recorded):
        return False
    digits, wanted = str(round(recorded)), str(round(product))
    return any(
        digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :] == wanted
        for i in range(len(digits) - 1)
    )


def _candidates(sides: Sides, product: float) -> list[tuple[Slip, float, str]]:
    """What a slip would have given, the likelier ones first: they win a tie."""
    a, b, c = sides.cm
    tens = [(Slip.DECIMAL, product * 10.0**power, "") for power in (1, -1, 2, -2, 3, -3)]
    pairs = [
        (Slip.TWO_SIDES, first * second, f"{first:g} x {second:g}")
        for first, second in ((a, b), (a, c), (b, c))
    ]
    twice = [
        (Slip.TWICE, product * used / left, f"{used:g} twice, {left:g} left out")
        for used in sides.cm
        for left in sides.cm
        if used != left
    ]
    return [
        *tens,
        *pairs,
        (Slip.SUM, a + b + c, f"{a:g} + {b:g} + {c:g}"),
        (Slip.DOUBLED, 2 * product, ""),
        (Slip.HALVED, product / 2, ""),
        (Slip.SURFACE, 2 * (a * b + b * c + a * c), ""),
        *twice,
    ]
