"""Who decides at all stations together: one plan a pair can learn."""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from nearmark.coaching.assignment import Assignment, StationOption, assign
from nearmark.coaching.deciders import Mode
from nearmark.coaching.kinds import USUAL_ITEMS
from nearmark.coaching.pair_advice import Advice
from nearmark.station import Station

_ALONE: Final = (Mode.FIRST, Mode.SECOND)


def joint_plan(
    known: Iterable[tuple[Station, Advice]],
    items: Mapping[Station, int] | None = None,
    *,
    minutes: tuple[float, float] = (0.0, 0.0),
    most_minutes: float = math.inf,
) -> Assignment | None:
    """The best plan over the stations both pupils have practised.

    ``None`` when there is no such station.

    Size classes of a station share one plan: a mode's score there is their mean.

    >>> import numpy as np
    >>> from nearmark.coaching.belief import Belief
    >>> from nearmark.coaching.pair_advice import advise
    >>> from nearmark.coaching.posterior import posterior
    >>> prior = Belief(0, 1, 3, 0.03)
    >>> steady, low = posterior([[0.02] * 9], prior), posterior([[-0.6] * 9], prior)
    >>> plan = joint_plan([(Station.COUNT, advise(steady, low, np.random.default_rng(1)))])
    >>> list(plan.modes), plan.mean_score > 80
    ([<Station.COUNT: 'count'>], True)

    Parameters
    ----------
    items : mapping Station -> items of the contest, or None
        A station left out counts as usual; ``None``: the usual contest.
    minutes : min, (alone, both); an item takes when one decides, and when both work it out
    most_minutes : min; for all items

    Raises
    ------
    InputError : if a number of items makes no sense, or no plan fits the minutes
    """
    by_station: dict[Station, list[Advice]] = defaultdict(list)
    for station, advice in known:
        by_station[station].append(advice)
    if not by_station:
        return None
    options = {station: _options(own, minutes) for station, own in by_station.items()}
    return assign(options, {**USUAL_ITEMS, **(items or {})}, most_minutes=most_minutes)


def _options(known: Sequence[Advice], minutes: tuple[float, float]) -> tuple[StationOption, ...]:
    found: dict[Mode, list[tuple[float, float]]] = defaultdict(list)
    for advice in known:
        for option in advice.options:
            found[option.mode].append((option.score, option.p90))
    return tuple(
        StationOption(
            mode,
            math.fsum(score for score, _ in own) / len(own),
            math.fsum(p90 for _, p90 in own) / len(own),
            minutes[mode not in _ALONE],
        )
        for mode, own in found.items()
    )
