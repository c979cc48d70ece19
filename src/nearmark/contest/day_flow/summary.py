"""What many simulated days say of a plan: each figure as a band over the seeds."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from typing import Final

import numpy as np

from nearmark.contest.day_flow.bands import Band, band
from nearmark.contest.day_flow.day import RoomDay
from nearmark.contest.day_flow.draws import drawn
from nearmark.contest.day_flow.figures import DayFigures, Played, figures_of, wait_by_order
from nearmark.contest.day_flow.over_time import RoomOverTime, room_over_time
from nearmark.contest.day_flow.room import Overrun
from nearmark.contest.day_flow.walk import walked
from nearmark.errors import InputError

N_SEEDS: Final = 100
MAX_SEEDS: Final = 1000


@dataclass(frozen=True, slots=True)
class RoomBands:
    """What many simulated days say of one room."""

    name: str
    heats: tuple[int, ...]  # pairs in each heat
    heat_wait_min: tuple[Band, ...]  # for each heat, the band of its mean wait, min
    # Wait of who hands in the cup first, second ... of a heat, mean of the heats (min).
    order_wait_min: tuple[Band, ...]
    over_time: RoomOverTime


@dataclass(frozen=True, slots=True)
class DayBands:
    """What many simulated days say of a plan."""

    figures: DayFigures[Band]  # each figure as a band over the days
    rooms: tuple[RoomBands, ...]
    n_days: int  # simulated days
    # Of the plan, for the words; as in the first room.
    overrun: Overrun = Overrun.UNDONE
    is_returned: bool = True


def days_played(
    rooms: Sequence[RoomDay],
    *,
    n_days: int = N_SEEDS,
    first_seed: int = 0,
    progress: Callable[[float], None] | None = None,
) -> list[tuple[Played, ...]]:
    """Play a day many times: shape (n_days, n_rooms).

    >>> from nearmark.contest.day_flow.day import Day
    >>> from nearmark.contest.day_flow.room import RoomPlan, usual_stops
    >>> len(days_played([RoomDay(RoomPlan(usual_stops()), Day((4,)))], n_days=3))
    3

    Parameters
    ----------
    rooms : shape (n_rooms,); nobody changes the room, and no helper: each room goes its own way
    n_days : 1 to 1000
    first_seed : the days have this seed and the following ones
    progress : called with 0 to 1 after each day; what it raises stops the work
    """
    if not 1 <= n_days <= MAX_SEEDS:
        raise InputError(
            f"must be from 1 to {MAX_SEEDS}",
            where="simulated days",
            value=n_days,
            mend="100 show the bands, 400 show them smooth",
        )
    found = []
    for k in range(n_days):
        draws = [drawn(plan, first_seed + k, number) for number, plan in enumerate(rooms)]
        walks = [walked(*each) for each in zip(rooms, draws, strict=True)]
        found.append(tuple(map(Played, rooms, draws, walks)))
        if progress is not None:
            progress((k + 1) / n_days)
    return found


def day_bands(
    rooms: Sequence[RoomDay],
    *,
    n_days: int = N_SEEDS,
    first_seed: int = 0,
    progress: Callable[[float], None] | None = None,
) -> DayBands:
    """Bands of a plan over simulated days.

    >>> from nearmark.contest.day_flow.day import Day, equal_heats
    >>> from nearmark.contest.day_flow.room import RoomPlan, usual_stops
    >>> plan = RoomDay(RoomPlan(usual_stops()), Day(equal_heats(24), 30))
    >>> day_bands([plan], n_days=9).figures.end_min
    Band(low=60.0, usual=60.0, high=60.0)

    Parameters
    ----------
    rooms : shape (n_rooms,)
    n_days : 1 to 1000
    first_seed : the days have this seed and the following ones
    progress : called with 0 to 1 after each day; what it raises stops the work
    """
    days = days_played(rooms, n_days=n_days, first_seed=first_seed, progress=progress)
    figures = [figures_of(day) for day in days]
    bands = [band(getattr(each, f.name) for each in figures) for f in fields(DayFigures)]
    found = [_room(plan, [day[k] for day in days]) for k, plan in enumerate(rooms)]
    first = rooms[0].room
    return DayBands(DayFigures(*bands), tuple(found), n_days, first.overrun, first.is_returned)


def _room(plan: RoomDay, days: list[Played]) -> RoomBands:
    heats = plan.day.heats
    first = np.cumsum([0, *heats])[:-1]
    waits = np.array([day.walk.wait_min for day in days])
    by_heat = np.add.reduceat(waits, first, axis=1) / np.array(heats)
    by_order = np.array([wait_by_order(day) for day in days])
    return RoomBands(
        plan.room.name,
        heats,
        tuple(map(band, by_heat.T.tolist())),
        tuple(map(band, by_order.T.tolist())),
        room_over_time(plan, days),
    )
