"""How many work and how many wait at each station over the day, as bands over simulated days."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.day_flow.bands import Band, band
from nearmark.contest.day_flow.day import RoomDay
from nearmark.contest.day_flow.draws import Floats
from nearmark.contest.day_flow.figures import Played
from nearmark.contest.day_flow.walk import FIRST_STOP, PLACE, SCALE
from nearmark.station import Station

MAX_TIMES: Final = 120
_STEPS_MIN: Final = (1, 2, 5, 10, 15, 30, 60)


class Spot(StrEnum):
    """Where pairs work or wait."""

    PLACES = "places"
    SCALES = "scales"
    CONTAINERS = "containers"
    BOXES = "boxes"


@dataclass(frozen=True, slots=True)
class BandLine:
    """A number of pairs at each time, as a band over the days (shape (n_times,) each)."""

    low: tuple[float, ...]
    usual: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class SpotOverTime:
    """One station of a room over the day."""

    spot: Spot
    room_for: int  # pairs that can work there at once
    busy: BandLine  # pairs that work there
    queue: BandLine  # pairs that wait there


@dataclass(frozen=True, slots=True)
class RoomOverTime:
    """One room over the day."""

    times_min: tuple[float, ...]  # shape (n_times,), min after the first start
    spots: tuple[SpotOverTime, ...]
    starts_min: tuple[Band, ...]  # when each heat begins (min)
    end_min: Band  # when the last pair leaves (min)


def room_over_time(plan: RoomDay, days: Sequence[Played]) -> RoomOverTime:
    """Bands over the simulated days of one room.

    >>> from nearmark.contest.day_flow.day import Day
    >>> from nearmark.contest.day_flow.room import RoomPlan, usual_stops
    >>> from nearmark.contest.day_flow.summary import days_played
    >>> plan = RoomDay(RoomPlan(usual_stops()), Day((4,)))
    >>> found = room_over_time(plan, [day[0] for day in days_played([plan], n_days=3)])
    >>> [(each.spot.value, each.room_for) for each in found.spots]
    [('places', 12), ('scales', 1), ('containers', 6), ('boxes', 4)]
    """
    ends = band(float(day.walk.left_min.max()) for day in days)
    times = _times(max(float(day.walk.left_min.max()) for day in days))
    starts = np.array([day.walk.started_min for day in days])
    return RoomOverTime(
        tuple(times.tolist()),
        tuple(_spot(spot, columns, n, days, times) for spot, columns, n in _spots(plan)),
        tuple(band(starts[:, heat].tolist()) for heat in range(starts.shape[1])),
        ends,
    )


def _spots(plan: RoomDay) -> list[tuple[Spot, list[int], int]]:
    room = plan.room
    found = [(Spot.PLACES, [PLACE], room.places), (Spot.SCALES, [SCALE], room.scales)]
    for spot, station in ((Spot.CONTAINERS, Station.COUNT), (Spot.BOXES, Station.VOLUME)):
        own = [k for k, stop in enumerate(room.stops) if stop.station is station]
        if own:
            n = sum(room.stops[k].at_once for k in own)
            found.append((spot, [FIRST_STOP + k for k in own], n))
    return found


def _times(end_min: float) -> Floats:
    step = next((s for s in _STEPS_MIN if end_min / s < MAX_TIMES), _STEPS_MIN[-1])
    # Between two whole steps: at a start itself nobody has come yet.
    return np.arange(step / 2, end_min + step, step)


def _spot(
    spot: Spot, columns: list[int], n: int, days: Sequence[Played], times: Floats
) -> SpotOverTime:
    queue, busy = [], []
    for day in days:
        asked, began, ended = (
            _passed(each[:, columns], times)
            for each in (day.walk.asked_min, day.walk.began_min, day.walk.ended_min)
        )
        queue.append(asked - began)
        busy.append(began - ended)
    return SpotOverTime(spot, n, _line(busy), _line(queue))


def _passed(moments: Floats, times: Floats) -> NDArray[np.intp]:
    """How many of the moments are over at each time; NaN sorts behind all."""
    return np.searchsorted(np.sort(moments, axis=None), times, side="right")


def _line(rows: list[NDArray[np.intp]]) -> BandLine:
    low, usual, high = np.quantile(np.array(rows), (0.1, 0.5, 0.9), axis=0)
    return BandLine(tuple(low.tolist()), tuple(usual.tolist()), tuple(high.tolist()))
