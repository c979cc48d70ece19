"""Who decides at all stations together: one plan a pair can learn."""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from nearmark.coaching.assignment import Assignment, StationOption, assign
from nearmark.coaching.attempt import Station
from nearmark.coaching.deciders import Mode
from nearmark.coaching.pair_advice import Advice

USUAL_ITEMS: Final[Mapping[Station, int]] = {Station.MASS: 1, Station.COUNT: 3, Station.VOLUME: 2}
"""One cup, three containers, two boxes (common practice, no source)."""


def joint_plan(
    advices: Iterable[tuple[Station, Advice]], items: Mapping[Station, int] | None = None
) -> Assignment | None:
    """The best plan over the stations both pupils have practised.

    Size classes of a station share one plan: a mode's score there is their mean.

    Parameters
    ----------
    advices : iterable of (Station, Advice)
    items : mapping Station -> items of the contest, or None
        A station left out counts as usual; ``None``: the usual contest.

    Returns
    -------
    Assignment or None
        ``None`` when there is no such station.

    Raises
    ------
    InputError
        If a number of items makes no sense.

    Examples
    --------
    >>> import numpy as np
    >>> from nearmark.coaching.belief import Belief
    >>> from nearmark.coaching.pair_advice import advise
    >>> from nearmark.coaching.posterior import posterior
    >>> prior = Belief(0, 1, 3, 0.03)
    >>> steady, low = posterior([[0.02] * 9], prior), posterior([[-0.6] * 9], prior)
    >>> plan = joint_plan([(Station.COUNT, advise(steady, low, np.random.default_rng(1)))])
    >>> plan.modes[Station.COUNT]
    <Mode.FIRST: 'first'>
    """
    by_station: dict[Station, list[Advice]] = defaultdict(list)
    for station, advice in advices:
        by_station[station].append(advice)
    if not by_station:
        return None
    options = {station: _options(own) for station, own in by_station.items()}
    return assign(options, {**USUAL_ITEMS, **(items or {})})


def _options(advices: Sequence[Advice]) -> tuple[StationOption, ...]:
    found: dict[Mode, list[tuple[float, float]]] = defaultdict(list)
    for advice in advices:
        for option in advice.options:
            found[option.mode].append((option.score, option.p90))
    return tuple(
        StationOption(
            mode,
            math.fsum(score for score, _ in own) / len(own),
            math.fsum(p90 for _, p90 in own) / len(own),
        )
        for mode, own in found.items()
    )
