"""The parts of a meeting by the minute."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nearmark.coaching.limits import checked
from nearmark.coaching.teaching_order import Lesson

USUAL_MIN: Final = 20
MIN_MIN: Final = 8
MAX_MIN: Final = 84

WARM_UP_MIN: Final = 2
CLOSING_MIN: Final = 2
SLOT_MIN: Final = 4
"""One estimate of a child, written down (common practice, no source)."""


class PartKind(StrEnum):
    """What a part of a meeting is."""

    WARM_UP = "warm-up"
    LESSON = "lesson"
    STATIONS = "stations"
    CLOSING = "closing"


@dataclass(frozen=True, slots=True)
class Part:
    """Some minutes of a meeting."""

    kind: PartKind
    # Since the meeting began; how long (min).
    begins_min: int
    minutes: int
    lesson: Lesson | None = None
    slot: int | None = None  # of the stations: number in the rota, from 0


def timetable(minutes: int, lessons: Sequence[Lesson] = ()) -> tuple[Part, ...]:
    """The parts of a meeting by the minute.

    Warm-up, slots of equal length, closing; what is left over goes to the closing.

    >>> [(part.kind.value, part.minutes) for part in timetable(15, [Lesson.HOLD])]
    [('warm-up', 2), ('lesson', 5), ('stations', 5), ('closing', 3)]

    Parameters
    ----------
    minutes : min, 8 to 84
    lessons : Lesson, shape (n,); still to be taught: they come before the stations, one a slot

    Raises
    ------
    InputError : if the minutes make no sense
    """
    checked(minutes, "minutes", MIN_MIN, MAX_MIN)
    free = minutes - WARM_UP_MIN - CLOSING_MIN
    n_slots = free // SLOT_MIN
    slot_min = free // n_slots
    parts = [Part(PartKind.WARM_UP, 0, WARM_UP_MIN)]
    n_lessons = min(n_slots, len(lessons))
    for i in range(n_slots):
        begins = WARM_UP_MIN + i * slot_min
        if i < n_lessons:
            parts.append(Part(PartKind.LESSON, begins, slot_min, lesson=lessons[i]))
        else:
            parts.append(Part(PartKind.STATIONS, begins, slot_min, slot=i - n_lessons))
    begins = WARM_UP_MIN + n_slots * slot_min
    return (*parts, Part(PartKind.CLOSING, begins, minutes - begins))
