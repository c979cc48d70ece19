"""Tasks to do at home with nothing bought: something to look at, to estimate, then to check."""

from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from nearmark.coaching.limits import checked
from nearmark.station import Station


class HomeTask(StrEnum):
    """One task."""

    SCOOP = "scoop"
    TWO_CUPS = "two cups"
    FEELS_LIKE = "feels like"
    GLASS = "glass"
    FAST_AND_SLOW = "fast and slow"
    HEAPS = "heaps"
    KITCHEN_BOX = "kitchen box"
    THIN_SIDE = "thin side"
    SMALL_IN_LARGE = "small in large"


TASKS: Final[dict[Station, tuple[HomeTask, ...]]] = {
    Station.MASS: (HomeTask.SCOOP, HomeTask.TWO_CUPS, HomeTask.FEELS_LIKE),
    Station.COUNT: (HomeTask.GLASS, HomeTask.FAST_AND_SLOW, HomeTask.HEAPS),
    Station.VOLUME: (HomeTask.KITCHEN_BOX, HomeTask.THIN_SIDE, HomeTask.SMALL_IN_LARGE),
}
"""Each station's own; a week takes one of them."""


def home_tasks(order: Sequence[Station], week: int, *, n: int = 3) -> tuple[HomeTask, ...]:
    """The tasks of one week, of different stations, what is worth most first.

    >>> [task.value for task in home_tasks([Station.VOLUME], 1)]
    ['thin side', 'two cups', 'fast and slow']

    Parameters
    ----------
    order : Station, shape (k,); as the practice plan puts them; a station left out comes last
    week : weeks, 0 to 1000; since the season began: the tasks change with it
    n : tasks, 1 to 3

    Raises
    ------
    InputError : if a number makes no sense
    """
    checked(week, "week", 0, 1000)
    checked(n, "tasks", 1, len(Station))
    stations = list(dict.fromkeys([*order, *Station]))[:n]
    return tuple(TASKS[station][week % len(TASKS[station])] for station in stations)
