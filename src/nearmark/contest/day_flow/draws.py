"""What chance decides about a day, drawn before it is played: two plans meet the same pairs."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.day_flow.day import RoomDay
from nearmark.contest.day_flow.times import Minutes
from nearmark.kit.purchase import MAX_SCOOP_G

Floats = NDArray[np.float64]

SCOOP_MEDIAN_G: Final = 100.0
SCOOP_SIGMA: Final = 0.35
"""Scatter of children's scoops, of the logarithm of the mass: as the purchase list plans them, a
lognormal of 35 % about 100 g (invented for planning; replace by your own log)."""


@dataclass(frozen=True, slots=True)
class Draws:
    """Minutes of each pair, its scoop, and the order in which it likes to go."""

    # Shape (n_pairs,), min.
    arrive_min: Floats
    scoop_min: Floats
    weigh_min: Floats
    put_back_min: Floats
    stop_min: Floats  # shape (n_pairs, n_stops), min
    # Numbers of the stops, the one it would take first in front (shape (n_pairs, n_stops)).
    likes: NDArray[np.intp]
    scoop_g: Floats  # what is in the cup (shape (n_pairs,), g)


def drawn(each: RoomDay, seed: int, room_number: int = 0) -> Draws:
    """Times and scoops of all pairs of a room; the first numbers stay the same when more come.

    Each kind of time has its own stream, so that a plan with one scale more, or with other starts,
    meets the same pairs: the difference of two plans is then the plans' alone (common random
    numbers; A. M. Law, *Simulation Modeling and Analysis*, chapter 11; from memory).

    >>> from nearmark.contest.day_flow.day import Day
    >>> from nearmark.contest.day_flow.room import RoomPlan, usual_stops
    >>> drawn(RoomDay(RoomPlan(usual_stops()), Day((4,))), 1).stop_min.shape
    (4, 5)

    Parameters
    ----------
    seed : whole, from 0 on
    room_number : from 0 on; each room has its own streams
    """
    n, room = each.day.n_pairs, each.room

    def stream(number: int) -> np.random.Generator:
        return np.random.default_rng([seed, room_number, number])

    first_stop = 6
    stops = [_times(s.minutes, stream(first_stop + k), n) for k, s in enumerate(room.stops)]
    return Draws(
        arrive_min=_times(room.arrive, stream(0), n),
        scoop_min=_times(room.scoop, stream(1), n),
        weigh_min=_times(room.weigh, stream(2), n),
        put_back_min=_times(room.put_back, stream(3), n),
        stop_min=np.stack(stops, axis=1) if stops else np.zeros((n, 0)),
        likes=stream(4).random((n, len(stops))).argsort(axis=1),
        scoop_g=_scoops(stream(5), n),
    )


def _times(minutes: Minutes, rng: np.random.Generator, n: int) -> Floats:
    if minutes.low == minutes.high:
        return np.full(n, float(minutes.low))
    return rng.triangular(minutes.low, minutes.usual, minutes.high, n)


def _scoops(rng: np.random.Generator, n: int) -> Floats:
    scoops = SCOOP_MEDIAN_G * np.exp(SCOOP_SIGMA * rng.standard_normal(n))
    return np.asarray(np.minimum(scoops, MAX_SCOOP_G))
