"""What a club that never scored is taught first, one lesson a slot, in this order."""

from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from nearmark.coaching.limits import checked
from nearmark.station import Station


class Lesson(StrEnum):
    """One lesson; everybody has the same at hand, so nobody waits."""

    HOLD = "hold 100 g"
    LAYER = "one layer"
    LAYERS = "layers"
    HAND = "own hand"
    CALCULATOR = "calculator"
    PAIRS = "pairs"


ORDER: Final = tuple(Lesson)
"""From what is felt to what is counted, measured, multiplied and agreed (common practice, no
source)."""

STATION_OF: Final = {
    Lesson.HOLD: Station.MASS,
    Lesson.LAYER: Station.COUNT,
    Lesson.LAYERS: Station.COUNT,
    Lesson.HAND: Station.VOLUME,
    Lesson.CALCULATOR: Station.VOLUME,
    Lesson.PAIRS: Station.COUNT,
}
"""What each lesson is for."""


def lessons_left(n_held: int) -> Sequence[Lesson]:
    """The lessons after some were held.

    >>> [lesson.value for lesson in lessons_left(4)]
    ['calculator', 'pairs']

    Parameters
    ----------
    n_held : lessons, 0 to 1000
    """
    return ORDER[int(checked(n_held, "lessons held", 0, 1000)) :]
