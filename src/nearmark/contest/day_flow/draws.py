"""What chance decides about a day, drawn before it is played: two plans meet the same pairs."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.day_flow.room import Day, Minutes, Room

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Draws:
    """Minutes of each pair, and the order in which it likes to go."""

    # Shape (n_pairs,), min.
    scoop_min: Floats
    weigh_min: Floats
    stop_min: Floats  # shape (n_pairs, n_stops), min
    # Numbers of the stops, the one it would take first in front (shape (n_pairs, n_stops)).
    likes: NDArray[np.intp]


def drawn(day: Day, room: Room, seed: int) -> Draws:
    """Times of all pairs of a day; the first numbers stay the same when more pairs come.

    Each kind of time has its own stream, so that a plan with one scale more, or with other starts,
    meets the same pairs: the difference of two plans is then the plans' alone (common random
    numbers; A. M. Law, *Simulation Modeling and Analysis*, chapter 11; from memory).

    Parameters
    ----------
    seed : whole, from 0 on

    Examples
    --------
    >>> from nearmark.contest.day_flow.room import usual_room
    >>> drawn(Day((4,)), usual_room(), 1).stop_min.shape
    (4, 5)
    """
    n, stops = day.n_pairs, room.stops
    scoop, weigh, order = (np.random.default_rng([seed, stream]) for stream in range(3))
    each = [_times(s.minutes, np.random.default_rng([seed, 3, k]), n) for k, s in enumerate(stops)]
    likes = order.random((n, len(stops))).argsort(axis=1)
    return Draws(
        _times(room.scoop, scoop, n),
        _times(room.weigh, weigh, n),
        np.stack(each, axis=1) if each else np.zeros((n, 0)),
        likes,
    )


def _times(minutes: Minutes, rng: np.random.Generator, n: int) -> Floats:
    if minutes.low == minutes.high:
        return np.full(n, float(minutes.low))
    return rng.triangular(minutes.low, minutes.usual, minutes.high, n)
