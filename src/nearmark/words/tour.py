"""The tour of the invented event: what to look at on six pages, and what to try there."""

from enum import StrEnum
from typing import Final

from nearmark.words.translation import message, say


class TourStep(StrEnum):
    """One page of the tour, in the order in which they are shown."""

    KEYS = "keys"
    HEATS = "heats"
    WEIGH_IN = "weigh_in"
    DIFFERENCES = "differences"
    STANDINGS = "standings"
    PUBLIC = "public"


_TITLES: Final = {
    TourStep.KEYS: message("Items and keys"),
    TourStep.HEATS: message("Heats and check-in"),
    TourStep.WEIGH_IN: message("Weigh-in"),
    TourStep.DIFFERENCES: message("Differences"),
    TourStep.STANDINGS: message("Standings"),
    TourStep.PUBLIC: message("What everybody sees"),
}
_LOOKS: Final = {
    TourStep.KEYS: message(
        "Each item has a key, its true value; the verdict says whether it is fit to score against."
    ),
    TourStep.HEATS: message("The list of each heat says which pairs it has and who is here."),
    TourStep.WEIGH_IN: message(
        "A pair hands in its cup: code of the pair, number of the cup, what the scale shows."
    ),
    TourStep.DIFFERENCES: message(
        "Two people type each sheet, and neither sees the other's numbers. Where they differ, it "
        "shows here."
    ),
    TourStep.STANDINGS: message(
        "The places, and how sure the first three are. While the answers speak against a key, "
        "that cannot be said, and the page names the key."
    ),
    TourStep.PUBLIC: message("Anybody on the network can open this page."),
}
_TASKS: Final = {
    TourStep.KEYS: message(
        "C1 came with a slip: 241 for 421. If it is still so, open C1, strike the count out as "
        "typed wrong, and add 421 twice, counted by two people."
    ),
    TourStep.HEATS: message(
        "While a school is missing, one press on its name checks in all its pairs."
    ),
    TourStep.WEIGH_IN: message(
        'Under "Undo a hand-in" a cup is taken back. Then weigh it in again without the point, '
        "1036 for 103.6: you are asked before it is saved."
    ),
    TourStep.DIFFERENCES: message(
        "P09 came with one: C2 was typed as 2170 and as 2710. While it is here, choose a number "
        "as if you had the paper, and press Decide."
    ),
    TourStep.STANDINGS: message(
        "At the foot of the page you release the results; open points above it may need a reason."
    ),
    TourStep.PUBLIC: message(
        "Nobody sees a place here before you release the results at the foot of the standings."
    ),
}
_TASKS_RELEASED: Final = {
    TourStep.STANDINGS: message(
        "The results are out. At the foot of the page you can take them back, with a reason."
    ),
    TourStep.PUBLIC: message("The results are out: these are the places that you released."),
}
_LOCKED: Final = message(
    "The results are out, so nothing can be changed here until you take them back."
)


def tour_title(step: TourStep) -> str:
    """What the page of a step is called."""
    return say(_TITLES[step])


def tour_look(step: TourStep) -> str:
    """What there is to see on the page of a step, whatever was done in the event."""
    return say(_LOOKS[step])


def tour_task(step: TourStep) -> str:
    """What to try on the page of a step, before the results are out."""
    return say(_TASKS[step])


def tour_task_released(step: TourStep) -> str:
    """What can be done on the page of a step while the results are out."""
    return say(_TASKS_RELEASED.get(step, _LOCKED))
