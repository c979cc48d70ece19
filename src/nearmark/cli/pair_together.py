"""Who decides at all stations together, for ``nearmark pairs``: one plan a pair can learn."""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from nearmark.coaching.assignment import Assignment
from nearmark.coaching.joint_plan import joint_plan
from nearmark.coaching.kinds import USUAL_ITEMS
from nearmark.coaching.pair_advice import Advice
from nearmark.errors import InputError
from nearmark.station import Station
from nearmark.words.coaching_pairs import mode_words, score_words


@dataclass(frozen=True, slots=True)
class Contest:
    """What the pair prepares for."""

    items: Mapping[Station, int]  # items by Station
    # An item takes when one decides, and when both work it out (min).
    alone: float = 0.0
    both: float = 0.0
    most: float = math.inf  # for all items (min)

    def plan(self, advice: Iterable[tuple[Station, Advice]]) -> Assignment | None:
        """The best plan over the stations both have practised; ``None`` without one."""
        times = (self.alone, self.both)
        return joint_plan(advice, self.items, minutes=times, most_minutes=self.most)


def read_items(texts: Sequence[str]) -> dict[Station, int]:
    """Items of the contest, such as ``count=3``; a station not named keeps the usual number.

    Returns items by Station. Raises InputError if a part is not a station with a number from 1 to
    99.

    >>> read_items(["count=2"])[Station.COUNT]
    2
    """
    items = dict(USUAL_ITEMS)
    for text in texts:
        part = re.fullmatch(r"(mass|count|volume)=([1-9]\d?)", text.strip(), re.ASCII)
        if part is None:
            raise InputError(
                "is not a station with its items",
                where="--items",
                value=text,
                mend="Write it like count=3; stations are mass, count and volume",
            )
        items[Station(part[1])] = int(part[2])
    return items


def together_words(plan: Assignment, first: str, second: str) -> str:
    """One plain line.

    ``first``, ``second``: names to print.
    """
    each = ", ".join(
        f"{station}: {mode_words(mode, first, second)}" for station, mode in plan.modes.items()
    )
    time = f", {plan.minutes:g} min" if plan.minutes else ""
    return f"Together: {each}{time}. {score_words(plan)}"
