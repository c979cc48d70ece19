"""Who decides at all stations together, for ``nearmark pairs``: one plan a pair can learn."""

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from nearmark.coaching.assignment import Assignment, StationOption, assign
from nearmark.coaching.attempt import Station
from nearmark.coaching.deciders import Mode
from nearmark.coaching.pair_advice import Advice
from nearmark.errors import InputError

USUAL_ITEMS: Final = {Station.MASS: 1, Station.COUNT: 3, Station.VOLUME: 2}
"""Items of a usual contest: one cup, three containers, two boxes (common practice, no source)."""

_BOTH: Final = (Mode.AVERAGE, Mode.WEIGHTED)


@dataclass(frozen=True, slots=True)
class Contest:
    """What the pair prepares for.

    Attributes
    ----------
    items : mapping Station -> items
    alone, both : min
        An item takes when one decides, and when both work it out.
    most : min
        For all items.
    """

    items: Mapping[Station, int]
    alone: float = 0.0
    both: float = 0.0
    most: float = math.inf


def read_items(texts: Sequence[str]) -> dict[Station, int]:
    """Items of the contest, such as ``count=3``; a station not named keeps the usual number.

    Parameters
    ----------
    texts : sequence of str

    Returns
    -------
    dict of Station -> items

    Raises
    ------
    InputError
        If a part is not a station with a number from 1 to 99.

    Examples
    --------
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


def together(found: Iterable[tuple[Station, Advice]], contest: Contest) -> Assignment | None:
    """The best plan over the stations both have practised.

    Size classes of a station share one plan: a mode's score there is their mean.

    Parameters
    ----------
    found : iterable of (Station, Advice)
    contest : Contest

    Returns
    -------
    Assignment or None
        ``None`` when there is no such station.

    Raises
    ------
    InputError
        If no plan fits the minutes.
    """
    by_station: dict[Station, list[Advice]] = defaultdict(list)
    for station, advice in found:
        by_station[station].append(advice)
    if not by_station:
        return None
    options = {station: _options(own, contest) for station, own in by_station.items()}
    return assign(options, contest.items, most_minutes=contest.most)


def _options(given: Sequence[Advice], contest: Contest) -> tuple[StationOption, ...]:
    found: dict[Mode, list[tuple[float, float]]] = defaultdict(list)
    for advice in given:
        for option in advice.options:
            found[option.mode].append((option.score, option.p90))
    return tuple(
        StationOption(
            mode,
            math.fsum(score for score, _ in own) / len(own),
            math.fsum(p90 for _, p90 in own) / len(own),
            contest.both if mode in _BOTH else contest.alone,
        )
        for mode, own in found.items()
    )


def together_words(plan: Assignment, first: str, second: str) -> str:
    """One plain line.

    Parameters
    ----------
    plan : Assignment
    first, second : str
        Names to print.
    """
    who = {
        Mode.FIRST: first,
        Mode.SECOND: second,
        Mode.AVERAGE: "the average of both",
        Mode.WEIGHTED: "the weighted average",
    }
    each = ", ".join(f"{station}: {who[mode]}" for station, mode in plan.modes.items())
    time = f", {plan.minutes:g} min" if plan.minutes else ""
    chance = f"{100 * plan.p_all_90:.1f}" if plan.p_all_90 >= 0.001 else "under 0.1"
    return (
        f"Together: {each} (about {plan.mean_score:.1f} points an item{time}; "
        f"all items at 90 or more: {chance} %)."
    )
