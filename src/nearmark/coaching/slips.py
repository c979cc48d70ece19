"""Slips of the sum: what was worked out instead of layer x layers, or of the three sides."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nearmark.coaching.attempt import Attempt, Layers, Sides
from nearmark.coaching.limits import checked

TOLERANCE: Final = 0.05
"""Natural log; honest rounding to two figures stays within it, half as much would flag one honest
answer in eight (20,000 invented boxes; project's model notes, section 3)."""

_EXACT: Final = 0.005
"""Relative: a wrong sum is worked out as exactly as a right one: it fits as written, or to this."""


class Slip(StrEnum):
    """What went wrong, in words."""

    NONE = "no slip"
    TRANSPOSED = "two digits swapped"
    DECIMAL = "a factor of ten"
    TWO_SIDES = "two sides multiplied only"
    SUM = "added instead of multiplied"
    DOUBLED = "doubled"
    HALVED = "halved"
    SURFACE = "the surface instead of the volume"
    TWICE = "one side used twice"
    OTHER = "does not fit the parts"


_FIGURES_NEEDED: Final = {Slip.DECIMAL: 1, Slip.SURFACE: 3, Slip.TWICE: 3}
"""Figures from which a written number shows the slip; two for the others.  With fewer, chance alone
would fit one of the many ways in which three sides can be mixed up."""


@dataclass(frozen=True, slots=True)
class FoundSlip:
    """One recorded number against its own parts."""

    slip: Slip
    parts: Layers | Sides  # as the pupil had them
    detail: str = ""  # the sum that gives the recorded number; empty when there is none

    @property
    def product(self) -> float:
        """Of the pupil's own parts, pieces or cm3."""
        return self.parts.product

    @property
    def is_known(self) -> bool:
        """Whether there is a slip, and it is known which."""
        return self.slip not in (Slip.NONE, Slip.OTHER)


def find_slip(recorded: float, parts: Layers | Sides) -> FoundSlip:
    """Find the slip that turns the parts into the recorded number.

    A right product that was written with one figure is no slip.

    >>> found = find_slip(96, Sides(12, 8, 5))
    >>> found.slip.value, found.product, found.detail
    ('two sides multiplied only', 480, '12 x 8')
    >>> find_slip(400, Layers(42, 9)).slip, find_slip(3780, Layers(42, 9)).slip
    (<Slip.NONE: 'no slip'>, <Slip.DECIMAL: 'a factor of ten'>)

    Parameters
    ----------
    recorded : pieces or cm3, > 0
    parts : as the pupil had them

    Raises
    ------
    InputError : if a number is not above zero
    """
    checked(recorded, "recorded number", 1e-6, 1e12, mend="Give it in pieces or cm3")
    for value in parts.factors:
        checked(value, "part", 1e-6, 1e6, mend="Check the number")
    product = parts.product
    if _is_transposed(recorded, product):
        return FoundSlip(Slip.TRANSPOSED, parts, f"{product:.0f} became {recorded:.0f}")
    if abs(math.log(recorded / product)) <= TOLERANCE or is_one_figure(recorded, product):
        return FoundSlip(Slip.NONE, parts)
    fitting = [
        (abs(math.log(recorded / value)), i, slip, detail)
        for i, (slip, value, detail) in enumerate(_candidates(parts))
        if _fits(recorded, value, _FIGURES_NEEDED.get(slip, 2))
    ]
    if not fitting:
        return FoundSlip(Slip.OTHER, parts)
    _, _, slip, detail = min(fitting)
    return FoundSlip(slip, parts, detail)


def is_rounding(recorded: float, product: float) -> bool:
    """Whether a number is a product honestly rounded, to however many figures.

    >>> is_rounding(1100, 1050), is_rounding(1000, 1050), is_rounding(900, 1050)
    (True, True, False)

    Parameters
    ----------
    recorded, product : any one unit, > 0
    """
    return recorded == rounded(product, figures(recorded))


def is_one_figure(recorded: float, product: float) -> bool:
    """Whether a number is a product written with one figure only, and so far from it.

    >>> is_one_figure(2000, 1609), is_one_figure(1600, 1609), is_one_figure(1900, 1609)
    (True, False, False)

    Parameters
    ----------
    recorded, product : any one unit, > 0
    """
    return figures(recorded) == 1 and is_rounding(recorded, product) and recorded != product


def figures(value: float) -> int:
    """Figures a number was written with, zeros at the end not counted.

    >>> figures(2000), figures(1609), figures(12.5)
    (1, 4, 3)

    Parameters
    ----------
    value : any unit, > 0
    """
    return len(f"{value:.12g}".replace(".", "").strip("0")) if value < 1e12 else 12


def rounded(value: float, n_figures: int) -> float:
    """A number rounded to some figures, a half upwards as children do.

    >>> rounded(1609, 1), rounded(1250, 2), rounded(0.0449, 1)
    (2000.0, 1300.0, 0.04)

    Parameters
    ----------
    value : any unit, > 0
    n_figures : figures, >= 1
    """
    place = math.floor(math.log10(value)) + 1 - n_figures
    steps = math.floor(value / 10.0**place + 0.5)
    return float(steps * 10**place) if place >= 0 else steps / 10**-place


def slips_among(attempts: Iterable[Attempt]) -> list[tuple[Attempt, FoundSlip]]:
    """The attempts whose number does not fit their own parts, where it is known why.

    >>> from datetime import date
    >>> from nearmark.station import Station
    >>> box = Attempt(date(2027, 2, 3), "Ada", Station.VOLUME, "tea box", 96, 500,
    ...               parts=Sides(12, 8, 5))
    >>> [slip.detail for _, slip in slips_among([box])]
    ['12 x 8']

    Parameters
    ----------
    attempts : those without layers or sides are passed over
    """
    found = (
        (attempt, find_slip(attempt.estimate, attempt.parts))
        for attempt in attempts
        if isinstance(attempt.parts, Layers | Sides)
    )
    return [(attempt, slip) for attempt, slip in found if slip.is_known]


def _is_transposed(recorded: float, product: float) -> bool:
    """Whether swapping two neighbouring digits of the recorded number gives the product."""
    if abs(recorded - product) <= max(1.0, _EXACT * product) or recorded != round(recorded):
        return False
    digits, wanted = str(round(recorded)), str(round(product))
    return any(
        digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :] == wanted
        for i in range(len(digits) - 1)
    )


def _fits(recorded: float, value: float, n_figures: int) -> bool:
    if abs(recorded - value) <= _EXACT * value:
        return True
    written = figures(recorded)
    return written >= n_figures and recorded == rounded(value, written)


def _candidates(parts: Layers | Sides) -> list[tuple[Slip, float, str]]:
    """What a slip would have given, the likelier ones first: they win a tie."""
    own, product = parts.factors, parts.product
    found = [(Slip.DECIMAL, product * 10.0**power, "") for power in (1, -1, 2, -2, 3, -3)]
    if isinstance(parts, Sides):
        found += [
            (Slip.TWO_SIDES, first * second, f"{first:g} x {second:g}")
            for first, second in ((own[0], own[1]), (own[0], own[2]), (own[1], own[2]))
        ]
    found += [
        (Slip.SUM, math.fsum(own), " + ".join(f"{each:g}" for each in own)),
        (Slip.DOUBLED, 2 * product, ""),
        (Slip.HALVED, product / 2, ""),
    ]
    if isinstance(parts, Sides):
        a, b, c = own
        found.append((Slip.SURFACE, 2 * (a * b + b * c + a * c), ""))
        found += [
            (Slip.TWICE, product * used / left, f"{used:g} twice, {left:g} left out")
            for used in own
            for left in own
            if used != left
        ]
    return found
