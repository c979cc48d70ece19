"""Tasks to do at home, as the home sheet prints them: the estimate always before the check."""

from typing import Final

from nearmark.coaching.home_tasks import HomeTask
from nearmark.words.translation import message, say

_TITLES: Final = {
    HomeTask.SCOOP: message("Scoop 100 g"),
    HomeTask.TWO_CUPS: message("A light cup and a heavy mug"),
    HomeTask.FEELS_LIKE: message("What is 100 g?"),
    HomeTask.GLASS: message("A glass of pieces"),
    HomeTask.FAST_AND_SLOW: message("Fast and slow"),
    HomeTask.HEAPS: message("Heaps of ten"),
    HomeTask.KITCHEN_BOX: message("A box from the kitchen"),
    HomeTask.THIN_SIDE: message("The thin side"),
    HomeTask.SMALL_IN_LARGE: message("How many small ones?"),
}

_WORDS: Final = {
    HomeTask.SCOOP: message(
        "Scoop rice, sugar or your bag's pieces into a cup until it feels like 100 g without the "
        "cup. Then weigh the full cup and the empty one."
    ),
    HomeTask.TWO_CUPS: message(
        "Scoop 100 g into a light cup, then 100 g into a heavy mug. Weigh both, then both empty. "
        "Did the mug's own mass fool your hand?"
    ),
    HomeTask.FEELS_LIKE: message(
        "Find three things that feel like 100 g and write your guess for each. Then weigh them, "
        "and keep the closest in mind."
    ),
    HomeTask.GLASS: message(
        "Fill a clear glass with dry pasta, buttons or beads. Count one layer, count the layers "
        "at the side, multiply on paper. Then count them all."
    ),
    HomeTask.FAST_AND_SLOW: message(
        "Look at a jar from the side for ten seconds and write a number. Then take layer times "
        "layers. Count, and see which was closer."
    ),
    HomeTask.HEAPS: message(
        "Put ten pieces in a heap, then pour a larger heap beside it. How many tens is it? Write "
        "it, then count."
    ),
    HomeTask.KITCHEN_BOX: message(
        "Take length, width and height with your own hand, multiply on paper. Then take the three "
        "sides with a ruler and multiply again."
    ),
    HomeTask.THIN_SIDE: message(
        "Find a flat box. Take its thinnest side twice: it matters most. Multiply, then check "
        "with a ruler."
    ),
    HomeTask.SMALL_IN_LARGE: message(
        "How many of a small box would fill a large one? Write it, then work it out from the "
        "sides of both."
    ),
}

_FIELDS: Final = {
    HomeTask.SCOOP: (message("full cup, g"), message("empty cup, g"), message("scooped, g")),
    HomeTask.TWO_CUPS: (message("in the cup, g"), message("in the mug, g")),
    HomeTask.FEELS_LIKE: (
        message("first: guess, g"),
        message("weighed, g"),
        message("second: guess, g"),
        message("weighed, g"),
    ),
    HomeTask.GLASS: (
        message("one layer"),
        message("layers"),
        message("estimate"),
        message("counted"),
    ),
    HomeTask.FAST_AND_SLOW: (message("fast"), message("slow"), message("counted")),
    HomeTask.HEAPS: (message("estimate"), message("counted")),
    HomeTask.KITCHEN_BOX: (
        message("length, cm"),
        message("width, cm"),
        message("height, cm"),
        message("my volume, cm³"),
        message("by ruler, cm³"),
    ),
    HomeTask.THIN_SIDE: (
        message("thin side, cm"),
        message("again, cm"),
        message("my volume, cm³"),
        message("by ruler, cm³"),
    ),
    HomeTask.SMALL_IN_LARGE: (
        message("estimate"),
        message("small, cm³"),
        message("large, cm³"),
        message("how many"),
    ),
}


def task_title(task: HomeTask) -> str:
    """The name of a task.

    >>> task_title(HomeTask.SCOOP)
    'Scoop 100 g'
    """
    return say(_TITLES[task])


def task_words(task: HomeTask) -> str:
    """What to do: first estimate, then check."""
    return say(_WORDS[task])


def task_fields(task: HomeTask) -> tuple[str, ...]:
    """The numbers to write down, in the order in which they are found.

    >>> task_fields(HomeTask.HEAPS)
    ('estimate', 'counted')
    """
    return tuple(say(field) for field in _FIELDS[task])
