"""One day played through: each pair scoops, queues for the scale, then goes where it likes."""

from collections.abc import Generator
from dataclasses import dataclass
from typing import Any

import numpy as np
import simpy
from numpy.typing import NDArray

from nearmark.contest.day_flow.draws import Draws, Floats
from nearmark.contest.day_flow.room import Choice, Room

Going = Generator[simpy.Event, Any, None]


@dataclass(frozen=True, slots=True)
class Walk:
    """What became of each pair; all times in min after the first start."""

    # Minutes waited for a place, for the scale, and at all free stations together (shape
    # (n_pairs,), min).
    scoop_wait_min: Floats
    scale_wait_min: Floats
    stop_wait_min: Floats
    handed_in_min: Floats  # when it hands in its cup (shape (n_pairs,), min)
    left_min: Floats  # when its minutes were up, or all was done (shape (n_pairs,), min)
    is_done: NDArray[np.bool_]  # shape (n_pairs, n_stops)
    scale_busy_min: float  # min, of all scales together
    scale_queue: int  # the longest queue at the scale (pairs)

    @property
    def wait_min(self) -> Floats:
        """Minutes each pair lost to waiting: shape (n_pairs,)."""
        return self.scoop_wait_min + self.scale_wait_min + self.stop_wait_min


def walked(room: Room, starts_min: list[float], draws: Draws) -> Walk:
    """Play one day.

    Parameters
    ----------
    starts_min : shape (n_pairs,), min
        When each pair's own minutes start (``Day.arrivals_min``).

    Notes
    -----
    A cup that was handed in is weighed even when the minutes of its pair are up.  At a free station
    a pair stops when its minutes are up: what it has in hand then is not done.  Discrete events
    are run by SimPy.

    Examples
    --------
    >>> from nearmark.contest.day_flow.draws import drawn
    >>> from nearmark.contest.day_flow.room import Day, Room
    >>> day, room = Day((3,)), Room(())
    >>> walked(room, day.arrivals_min(), drawn(day, room, 1)).scale_queue
    1
    """
    return _Playing(room, starts_min, draws).played()


class _Playing:
    def __init__(self, room: Room, starts_min: list[float], draws: Draws) -> None:
        self.room, self.draws, self.starts = room, draws, starts_min
        self.env = simpy.Environment()
        self.places = simpy.Resource(self.env, room.places)
        self.scale = simpy.PriorityResource(self.env, room.scales)
        self.stops = [simpy.Resource(self.env, stop.at_once) for stop in room.stops]
        n = len(starts_min)
        self.waits = np.zeros((3, n))
        self.handed_in, self.left = np.zeros((2, n))
        self.is_done = np.zeros((n, len(room.stops)), bool)
        self.busy = 0.0
        self.longest = 0

    def played(self) -> Walk:
        for pause in self.room.breaks:
            self.env.process(self._pause(pause.start_min, pause.end_min))
        for pair in range(len(self.starts)):
            self.env.process(self._pair(pair))
        self.env.run()
        return Walk(
            self.waits[0],
            self.waits[1],
            self.waits[2],
            self.handed_in,
            self.left,
            self.is_done,
            self.busy,
            self.longest,
        )

    def _pause(self, start: float, end: float) -> Going:
        yield self.env.timeout(start)
        with self.scale.request(priority=-1) as away:
            yield away
            yield self.env.timeout(max(end - self.env.now, 0))

    def _pair(self, pair: int) -> Going:
        env, draws = self.env, self.draws
        yield env.timeout(self.starts[pair])
        end = env.now + self.room.minutes
        with self.places.request() as place:
            yield place
            self.waits[0, pair] = env.now - self.starts[pair]
            yield env.timeout(draws.scoop_min[pair])
        asked = self.handed_in[pair] = env.now
        with self.scale.request(priority=0) as turn:
            self.longest = max(self.longest, len(self.scale.queue))
            yield turn
            self.waits[1, pair] = env.now - asked
            yield env.timeout(draws.weigh_min[pair])
        self.busy += draws.weigh_min[pair]
        yield from self._free(pair, end)
        self.left[pair] = env.now

    def _free(self, pair: int, end: float) -> Going:
        env = self.env
        left = self._wishes(pair)
        while left and env.now < end:
            stop = self._next(left)
            left.remove(stop)
            asked = env.now
            with self.stops[stop].request() as turn:
                yield turn | env.timeout(end - env.now)
                self.waits[2, pair] += env.now - asked
                if not turn.triggered:
                    return
                takes = self.draws.stop_min[pair, stop]
                self.is_done[pair, stop] = env.now + takes <= end
                yield env.timeout(min(takes, end - env.now))

    def _wishes(self, pair: int) -> list[int]:
        if self.room.choice is Choice.ORDER:
            return list(range(len(self.stops)))
        return [int(stop) for stop in self.draws.likes[pair]]

    def _next(self, left: list[int]) -> int:
        """Of the stops not yet visited; equally short queues by what the pair likes."""
        if self.room.choice is not Choice.SHORTEST:
            return left[0]
        return min(left, key=self._queue)

    def _queue(self, stop: int) -> float:
        """Pairs before one's turn, for each pair that is seen at once; below 1: there is room."""
        there = self.stops[stop]
        return max((there.count + len(there.queue)) / there.capacity, 1 - 1e-9)
