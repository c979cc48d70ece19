"""Tasks to do at home with nothing bought: something to look at, to estimate, then to check."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from nearmark.coaching.limits import checked
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class HomeTask:
    """One task.

    Attributes
    ----------
    words : str
        What to do; the estimate always comes before the check.
    fields : tuple of str
        Numbers to write down, in the order in which they are found.
    """

    station: Station
    title: str
    words: str
    fields: tuple[str, ...]


TASKS: Final[dict[Station, tuple[HomeTask, ...]]] = {
    Station.MASS: (
        HomeTask(
            Station.MASS,
            "Scoop 100 g",
            "Scoop rice, sugar or your bag's pieces into a cup until it feels like 100 g without "
            "the cup. Then weigh the full cup and the empty one.",
            ("full cup, g", "empty cup, g", "scooped, g"),
        ),
        HomeTask(
            Station.MASS,
            "A light cup and a heavy mug",
            "Scoop 100 g into a light cup, then 100 g into a heavy mug. Weigh both, then both "
            "empty. Did the mug's own mass fool your hand?",
            ("in the cup, g", "in the mug, g"),
        ),
        HomeTask(
            Station.MASS,
            "What is 100 g?",
            "Find three things that feel like 100 g and write your guess for each. Then weigh "
            "them, and keep the closest in mind.",
            ("first: guess, g", "weighed, g", "second: guess, g", "weighed, g"),
        ),
    ),
    Station.COUNT: (
        HomeTask(
            Station.COUNT,
            "A glass of pieces",
            "Fill a clear glass with dry pasta, buttons or beads. Count one layer, count the "
            "layers at the side, multiply on paper. Then count them all.",
            ("one layer", "layers", "estimate", "counted"),
        ),
        HomeTask(
            Station.COUNT,
            "Fast and slow",
            "Look at a jar from the side for ten seconds and write a number. Then take layer "
            "times layers. Count, and see which was closer.",
            ("fast", "slow", "counted"),
        ),
        HomeTask(
            Station.COUNT,
            "Heaps of ten",
            "Put ten pieces in a heap, then pour a larger heap beside it. How many tens is it? "
            "Write it, then count.",
            ("estimate", "counted"),
        ),
    ),
    Station.VOLUME: (
        HomeTask(
            Station.VOLUME,
            "A box from the kitchen",
            "Take length, width and height with your own hand, multiply on paper. Then take the "
            "three sides with a ruler and multiply again.",
            ("length, cm", "width, cm", "height, cm", "my volume, cm³", "by ruler, cm³"),
        ),
        HomeTask(
            Station.VOLUME,
            "The thin side",
            "Find a flat box. Take its thinnest side twice: it matters most. Multiply, then "
            "check with a ruler.",
            ("thin side, cm", "again, cm", "my volume, cm³", "by ruler, cm³"),
        ),
        HomeTask(
            Station.VOLUME,
            "How many small ones?",
            "How many of a small box would fill a large one? Write it, then work it out from "
            "the sides of both.",
            ("estimate", "small, cm³", "large, cm³", "how many"),
        ),
    ),
}


def home_tasks(order: Sequence[Station], week: int, *, n: int = 3) -> tuple[HomeTask, ...]:
    """The tasks of one week, what is worth most first.

    Parameters
    ----------
    order : Station, shape (k,)
        As the practice plan puts them; a station left out comes last.
    week : weeks, 0 to 1000
        Since the season began: the tasks change with it.
    n : tasks, 1 to 3

    Returns
    -------
    tuple of HomeTask, shape (n,)
        Of different stations.

    Raises
    ------
    InputError
        If a number makes no sense.

    Examples
    --------
    >>> [task.title for task in home_tasks([Station.VOLUME], 1)]
    ['The thin side', 'A light cup and a heavy mug', 'Fast and slow']
    """
    checked(week, "week", 0, 1000)
    checked(n, "tasks", 1, len(Station))
    stations = list(dict.fromkeys([*order, *Station]))[:n]
    return tuple(TASKS[station][week % len(TASKS[station])] for station in stations)
