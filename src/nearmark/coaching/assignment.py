"""Who decides at every station together, within the minutes there are."""

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from nearmark.coaching.deciders import Mode
from nearmark.coaching.limits import checked
from nearmark.errors import InputError
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class StationOption:
    """One mode at one station."""

    mode: Mode
    score: float  # expected of an item (points)
    p90: float  # of 90 points or more (probability)
    minutes: float = 0.0  # an item takes, as measured in practice


@dataclass(frozen=True, slots=True)
class Assignment:
    """A mode for every station."""

    modes: dict[Station, Mode]
    mean_score: float  # expected of an item, over all items (points)
    # That every item reaches 90, items taken as independent: small even for good pairs
    # (probability).
    p_all_90: float
    minutes: float


def assign(
    options: Mapping[Station, Sequence[StationOption]],
    items: Mapping[Station, int],
    *,
    most_minutes: float = math.inf,
) -> Assignment:
    """The combination with the highest expected total that the time allows.

    >>> solo = StationOption(Mode.FIRST, 90.0, 0.5, minutes=2)
    >>> both = StationOption(Mode.AVERAGE, 92.0, 0.6, minutes=4)
    >>> assign({Station.COUNT: (solo, both)}, {Station.COUNT: 3}, most_minutes=10).modes
    {<Station.COUNT: 'count'>: <Mode.FIRST: 'first'>}

    Parameters
    ----------
    items : mapping Station -> items of the contest, >= 1
    most_minutes : min

    Raises
    ------
    InputError : if a station has no option or no item, or no combination fits the time
    """
    stations = sorted(options)
    for station in stations:
        checked(items.get(station, 0), f"items at {station}", 1, 1000, mend="How many are there?")
    if not stations or not all(options.values()):
        raise InputError("no mode to choose from", where="options", mend="Give each station one")
    every = [
        _assignment(dict(zip(stations, chosen, strict=True)), items)
        for chosen in itertools.product(*(options[station] for station in stations))
    ]
    fitting = [each for each in every if each.minutes <= most_minutes]
    if not fitting:
        least = min(each.minutes for each in every)
        raise InputError(
            "no combination is that quick",
            where="most minutes",
            value=most_minutes,
            mend=f"The quickest takes {least:g} min",
        )
    return max(fitting, key=lambda each: (each.mean_score, -each.minutes))


def _assignment(
    chosen: Mapping[Station, StationOption], items: Mapping[Station, int]
) -> Assignment:
    n = sum(items[station] for station in chosen)
    return Assignment(
        {station: option.mode for station, option in chosen.items()},
        sum(items[station] * option.score for station, option in chosen.items()) / n,
        math.prod(option.p90 ** items[station] for station, option in chosen.items()),
        sum(items[station] * option.minutes for station, option in chosen.items()),
    )
