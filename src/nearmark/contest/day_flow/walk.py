"""One room played through a day: each pair scoops, queues for the scale, then goes freely."""

import math
from collections.abc import Generator
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import simpy
from numpy.typing import NDArray
from simpy.resources.resource import PriorityRequest

from nearmark.contest.day_flow.day import RoomDay
from nearmark.contest.day_flow.draws import Draws, Floats
from nearmark.contest.day_flow.room import Break, Choice, Overrun

Going = Generator[simpy.Event, Any, None]

PLACE: Final = 0
SCALE: Final = 1
FIRST_STOP: Final = 2
"""Columns of a walk: the place, the scale, then the stops of the room."""


@dataclass(frozen=True, slots=True)
class Walk:
    """What became of each pair of a room; all times in min after the first planned start."""

    # Shape (n_pairs, 2 + n_stops), min: when a pair came to the queue, when its turn was, when it
    # was through; NaN: it did not come there.  Who gave up in the queue began and ended then.
    asked_min: Floats
    began_min: Floats
    ended_min: Floats
    put_back_min: Floats  # when a helper had put its cup away (shape (n_pairs,), min)
    left_min: Floats  # when its minutes were up, or all was done (shape (n_pairs,), min)
    is_done: NDArray[np.bool_]  # shape (n_pairs, n_stops)
    started_min: Floats  # when each heat began (shape (n_heats,), min)

    @property
    def scoop_wait_min(self) -> Floats:
        """Minutes each pair waited for a place: shape (n_pairs,)."""
        return self.began_min[:, PLACE] - self.asked_min[:, PLACE]

    @property
    def scale_wait_min(self) -> Floats:
        """Minutes each pair waited for the scale: shape (n_pairs,)."""
        return self.began_min[:, SCALE] - self.asked_min[:, SCALE]

    @property
    def stop_wait_min(self) -> Floats:
        """Minutes each pair waited at all free stations together: shape (n_pairs,)."""
        waits = self.began_min[:, FIRST_STOP:] - self.asked_min[:, FIRST_STOP:]
        return np.asarray(np.nansum(waits, axis=1))

    @property
    def wait_min(self) -> Floats:
        """Minutes each pair lost to waiting: shape (n_pairs,)."""
        return self.scoop_wait_min + self.scale_wait_min + self.stop_wait_min


def walked(each: RoomDay, draws: Draws) -> Walk:
    """Play one day of one room.

    >>> from nearmark.contest.day_flow.day import Day
    >>> from nearmark.contest.day_flow.draws import drawn
    >>> from nearmark.contest.day_flow.room import RoomPlan
    >>> each = RoomDay(RoomPlan(()), Day((3,), 30))
    >>> walked(each, drawn(each, 1)).left_min.shape
    (3,)

    Notes
    -----
    The minutes of a pair start with its heat, for late pairs when they come.  A cup that was handed
    in is weighed even when they are up.  At a free station a pair stops when they are up: what it
    has in hand then is not done.  Where heats run over instead, a pair does everything, and a heat
    starts when each heat that should be over by then is over.

    Discrete events are run by SimPy.
    """
    return _Playing(each, draws).played()


class _Playing:
    def __init__(self, each: RoomDay, draws: Draws) -> None:
        self.room, self.day = each.room, each.day
        env = self.env = simpy.Environment()
        self.places = simpy.Resource(env, self.room.places)
        self.helpers = simpy.PriorityResource(env, self.room.helpers)
        self.scales = simpy.Resource(env, self.room.scales)
        self.stops = [simpy.Resource(env, stop.at_once) for stop in self.room.stops]
        n, n_stops = each.day.n_pairs, len(self.stops)
        # Lists: an element of an array costs more than the event that it belongs to.
        rows = range(n)
        self.asked, self.began, self.ended = (
            [[math.nan] * (FIRST_STOP + n_stops) for _ in rows] for _ in range(3)
        )
        self.is_done = [[False] * n_stops for _ in rows]
        self.left, self.put_back = [0.0] * n, [0.0] * n
        self.started: list[float] = []
        self.still_here = list(self.day.heats)
        self.is_over = [env.event() for _ in self.day.heats]
        self.late = self.day.late_min()
        self.arrive, self.scoop = draws.arrive_min.tolist(), draws.scoop_min.tolist()
        self.weigh, self.putting = draws.weigh_min.tolist(), draws.put_back_min.tolist()
        self.takes, self.likes = draws.stop_min.tolist(), draws.likes.tolist()

    def played(self) -> Walk:
        for pause in self.room.breaks:
            self.env.process(self._pause(pause))
        self.env.process(self._heats())
        self.env.run()
        return Walk(
            np.array(self.asked),
            np.array(self.began),
            np.array(self.ended),
            np.array(self.put_back),
            np.array(self.left),
            np.array(self.is_done, bool).reshape(len(self.left), len(self.stops)),
            np.array(self.started),
        )

    def _pause(self, pause: Break) -> Going:
        yield self.env.timeout(pause.start_min)
        with self.helpers.request(priority=-1) as away:
            yield away
            yield self.env.timeout(max(pause.end_min - self.env.now, 0))

    def _heats(self) -> Going:
        env, first = self.env, 0
        for heat, planned in enumerate(self.day.starts_min()):
            yield env.timeout(max(planned - env.now, 0))
            if self.room.overrun is Overrun.LATER:
                n_over = math.floor(heat - self.room.minutes / self.day.interval_min + 1e-9) + 1
                yield from self.is_over[: max(n_over, 0)]
            self.started.append(env.now)
            for pair in range(first, first + self.day.heats[heat]):
                env.process(self._pair(pair, heat))
            first += self.day.heats[heat]

    def _pair(self, pair: int, heat: int) -> Going:
        env = self.env
        asked, began, ended = self.asked[pair], self.began[pair], self.ended[pair]
        stops_at = self.room.overrun is Overrun.UNDONE
        end = env.now + self.late[pair] + self.room.minutes if stops_at else math.inf
        yield env.timeout(self.late[pair] + self.arrive[pair])
        asked[PLACE] = env.now
        turn = self.places.request()
        if not turn.triggered:
            yield turn
        began[PLACE] = env.now
        yield env.timeout(self.scoop[pair])
        self.places.release(turn)
        ended[PLACE] = asked[SCALE] = env.now
        helper = self.helpers.request(priority=0)
        if not helper.triggered:
            yield helper
        turn = self.scales.request()
        if not turn.triggered:
            yield turn
        began[SCALE] = env.now
        yield env.timeout(self.weigh[pair])
        self.scales.release(turn)
        ended[SCALE] = env.now
        self._put_away(pair, helper)
        yield from self._free(pair, end)
        self.left[pair] = env.now
        self.still_here[heat] -= 1
        if not self.still_here[heat]:
            self.is_over[heat].succeed()

    def _put_away(self, pair: int, helper: PriorityRequest) -> None:
        self.put_back[pair] = self.env.now + self.putting[pair]

        def free(_: object) -> None:
            self.helpers.release(helper)

        if self.putting[pair]:
            self.env.timeout(self.putting[pair]).callbacks.append(free)
        else:
            free(None)

    def _free(self, pair: int, end: float) -> Going:
        env = self.env
        left = self._wishes(pair)
        while left and env.now < end:
            stop = self._next(left)
            left.remove(stop)
            column, there = FIRST_STOP + stop, self.stops[stop]
            self.asked[pair][column] = env.now
            turn = there.request()
            if not turn.triggered:
                yield turn if end == math.inf else turn | env.timeout(end - env.now)
            self.began[pair][column] = self.ended[pair][column] = env.now
            if not turn.triggered:
                turn.cancel()
                return
            ready = env.now + self.takes[pair][stop]
            # Not below 0, which rounding could bring when its turn was the last moment.
            yield env.timeout(max(min(ready, end) - env.now, 0))
            there.release(turn)
            self.ended[pair][column] = env.now
            self.is_done[pair][stop] = ready <= end

    def _wishes(self, pair: int) -> list[int]:
        """Numbers of the stops, the one that it would take first in front."""
        likes: list[int] = self.likes[pair]
        match self.room.choice:
            case Choice.ORDER:
                return list(range(len(likes)))
            case Choice.HABIT:
                stations = [stop.station for stop in self.room.stops]
                return sorted(range(len(likes)), key=lambda s: stations[s] != stations[likes[0]])
            case _:
                return likes[:]

    def _next(self, left: list[int]) -> int:
        """Of the stops not yet visited; equally short queues by what the pair likes."""
        if self.room.choice is not Choice.SHORTEST:
            return left[0]
        return min(left, key=self._queue)

    def _queue(self, stop: int) -> float:
        """Pairs before one's turn, for each pair that is seen at once; below 1: there is room."""
        there = self.stops[stop]
        return max((there.count + len(there.queue)) / there.capacity, 1 - 1e-9)
