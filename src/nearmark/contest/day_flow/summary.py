"""What many simulated days say of a plan: each figure as a band over the seeds."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.day_flow.draws import Floats, drawn
from nearmark.contest.day_flow.room import Day, Room
from nearmark.contest.day_flow.walk import Walk, walked
from nearmark.errors import InputError

N_SEEDS = 100
MAX_SEEDS = 1000


Figure = TypeVar("Figure")


@dataclass(frozen=True, slots=True)
class Band:
    """A figure over many days: nine days of ten lie above ``low``, nine of ten below ``high``."""

    low: float
    usual: float
    high: float


def band(values: Iterable[float]) -> Band:
    """Band of one figure.

    Parameters
    ----------
    values : shape (n_days,), in the unit of the figure

    Examples
    --------
    >>> band([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10])
    Band(low=1.0, usual=5.0, high=9.0)
    """
    low, usual, high = np.quantile(np.fromiter(values, float), (0.1, 0.5, 0.9))
    return Band(float(low), float(usual), float(high))


@dataclass(frozen=True, slots=True)
class DayFigures(Generic[Figure]):
    """Figures of a day: numbers of one simulated day, or bands over many."""

    # Min, mean of the pairs.
    scale_wait_min: Figure
    stop_wait_min: Figure
    wait_min: Figure  # min, mean of the pairs
    worst_wait_min: Figure  # of the pair that is worse off than 95 of 100 (min)
    # How much longer those wait who hand in their cup in the last third of their heat than those of
    # the first third (min).
    unfair_min: Figure
    unfinished: Figure  # share of all free items that pairs did not come to, 0 to 1
    late_pairs: Figure  # share of the pairs that did not finish everything, 0 to 1
    scale_queue: Figure  # pairs, the longest queue
    scale_busy: Figure  # share of the time from the first cup to the last, 0 to 1
    end_min: Figure  # min after the first start, when the last pair leaves


@dataclass(frozen=True, slots=True)
class DayBands:
    """What many simulated days say of a plan."""

    figures: DayFigures[Band]  # each figure as a band over the days
    heat_wait_min: tuple[Band, ...]  # for each heat, the band of its mean wait, min
    n_days: int  # simulated days


def days_walked(
    day: Day,
    room: Room,
    *,
    n_days: int = N_SEEDS,
    first_seed: int = 0,
    progress: Callable[[float], None] | None = None,
) -> list[Walk]:
    """Play a day many times.

    Parameters
    ----------
    n_days : 1 to 1000
    first_seed : the days have this seed and the following ones
    progress : callable, optional
        Called with 0 to 1 after each day; what it raises stops the work.

    Examples
    --------
    >>> from nearmark.contest.day_flow.room import usual_room
    >>> len(days_walked(Day((4,)), usual_room(), n_days=3))
    3
    """
    if not 1 <= n_days <= MAX_SEEDS:
        raise InputError(
            f"must be from 1 to {MAX_SEEDS}",
            where="simulated days",
            value=n_days,
            mend="100 show the bands, 400 show them smooth",
        )
    starts = day.arrivals_min()
    found = []
    for k in range(n_days):
        found.append(walked(room, starts, drawn(day, room, first_seed + k)))
        if progress is not None:
            progress((k + 1) / n_days)
    return found


def day_bands(
    day: Day,
    room: Room,
    *,
    n_days: int = N_SEEDS,
    first_seed: int = 0,
    progress: Callable[[float], None] | None = None,
) -> DayBands:
    """Bands of a plan over simulated days.

    Parameters
    ----------
    n_days : 1 to 1000
    first_seed : the days have this seed and the following ones
    progress : callable, optional
        Called with 0 to 1 after each day; what it raises stops the work.

    Examples
    --------
    >>> from nearmark.contest.day_flow.room import equal_heats, usual_room
    >>> found = day_bands(Day(equal_heats(24), 30), usual_room(), n_days=9)
    >>> found.figures.end_min
    Band(low=60.0, usual=60.0, high=60.0)
    """
    walks = days_walked(day, room, n_days=n_days, first_seed=first_seed, progress=progress)
    figures = [figures_of(day, room, walk) for walk in walks]
    heat = np.array(day.heat_of())
    by_heat = [[float(w.wait_min[heat == h].mean()) for w in walks] for h in range(len(day.heats))]
    bands = [band(getattr(each, f.name) for each in figures) for f in fields(DayFigures)]
    return DayBands(DayFigures(*bands), tuple(map(band, by_heat)), n_days)


def figures_of(day: Day, room: Room, walk: Walk) -> DayFigures[float]:
    """Figures of one simulated day.

    >>> from nearmark.contest.day_flow.room import Room, equal_heats
    >>> day, room = Day(equal_heats(24), 30), Room(())
    >>> round(figures_of(day, room, days_walked(day, room, n_days=1)[0]).end_min)
    42
    """
    wait = walk.wait_min
    starts = np.array(day.arrivals_min())
    served = walk.scale_busy_min / room.scales
    return DayFigures(
        scale_wait_min=float(walk.scale_wait_min.mean()),
        stop_wait_min=float(walk.stop_wait_min.mean()),
        wait_min=float(wait.mean()),
        worst_wait_min=float(np.quantile(wait, 0.95)),
        unfair_min=_unfair_min(np.array(day.heat_of()), walk),
        unfinished=float(1 - walk.is_done.mean()) if walk.is_done.size else 0.0,
        late_pairs=float(1 - walk.is_done.all(axis=1).mean()),
        scale_queue=float(walk.scale_queue),
        scale_busy=served / max(float(walk.left_min.max() - starts.min()), served, 1e-9),
        end_min=float(walk.left_min.max()),
    )


def _unfair_min(heat: NDArray[np.int_], walk: Walk) -> float:
    """Mean over the heats of more than two pairs; 0 without one."""
    handed_in = walk.handed_in_min
    found = []
    for h in range(int(heat.max()) + 1):
        own = np.flatnonzero(heat == h)
        third = len(own) // 3
        if third:
            order = own[np.argsort(handed_in[own], kind="stable")]
            wait: Floats = walk.wait_min
            found.append(wait[order[-third:]].mean() - wait[order[:third]].mean())
    return float(np.mean(found)) if found else 0.0
