"""The bed while it moves: arrays of all pieces and the order of one time step.

Lengths are in mean widths, times in sqrt(w / g), masses in the mass of a cubic width; so gravity
is one.
"""

from dataclasses import dataclass
from typing import Final

import numba
import numpy as np

from nearmark.packing.kernel_balls import BALL_FIELDS
from nearmark.packing.kernel_contacts import (
    deal_out,
    kept_impulses,
    prepare,
    shares_of_slabs,
    sweep,
)
from nearmark.packing.kernel_lanes import FIELDS, GAP, IMPULSE, SPARE, L
from nearmark.packing.kernel_motion import energies, kick, move, overspent, overtravel, turn_parts
from nearmark.packing.kernel_neighbours import carried_impulses, near_pairs
from nearmark.packing.rain import FALL_SPEED, Rain
from nearmark.packing.request import PackingRequest
from nearmark.packing.shapes import Solid

# OpenMP's threads spin while they wait: on a shared machine a step then takes ten times as long.
numba.config.THREADING_LAYER = "workqueue"  # type: ignore[attr-defined]
THREADS: Final[int] = numba.get_num_threads()
FEW_GRAINS = 1500
"""Below this a second thread costs more in waiting than it saves."""


@dataclass(frozen=True, slots=True)
class Method:
    """How the bed is stepped; the defaults are those that the tests and benchmarks hold."""

    step: float = 0.03  # sqrt(w / g)
    sweeps: int = 4  # how often each contact is solved in a step (per step)
    # How far beyond touching a pair of pieces of one part that lie still is looked after; larger
    # means rarer pair searches. Of more parts less, for their near pairs grow with the square of
    # them (widths).
    skin: float = 0.4
    shove_rate: float = 0.3  # share of an overlap undone in a step (dimensionless)
    slop: float = 0.0005  # overlap left alone, so that a contact stays a contact (widths)
    fall_speed: float = FALL_SPEED  # the most a piece can reach (sqrt(g w))
    near: float = 0.01  # gap up to which a pair is solved even when nothing moves (widths)
    ahead: float = 4.0  # for how long pairs that can touch are dealt out to blocks (steps)
    # How much farther than thought a piece may go before they are dealt out again (widths).
    surprise: float = 0.03
    # For how long a piece may go on as fast as it is before pairs are searched again: what falls is
    # looked after farther than what lies (steps).
    roam: float = 4.0
    # The most that this adds to the skin on the side of one piece; it makes the slabs thicker
    # (widths).
    most_roam: float = 0.4


class Bed:
    """All pieces, those let go so far in motion."""

    def __init__(self, request: PackingRequest, body: Solid, drops: Rain, method: Method) -> None:
        n = request.n_grains
        self.request, self.body, self.drops, self.method = request, body, drops, method
        self.q, self.size = drops.turns.copy(), drops.sizes
        self.centres = np.vstack([drops.centres, np.zeros((SPARE, 3))])
        self.centres[n + 1 :: 2] = 1000.0
        self.x = self.centres[:n]
        self.speed, self.shove, self.ease = (_table(n + SPARE) for _ in range(3))
        self.skin = 2 * method.skin / (1 + len(body.radii))
        self.are_balls = len(body.radii) == 1 and body.reach == body.radii[0]
        self.fields = BALL_FIELDS if self.are_balls else FIELDS
        self.speed[:n, :6] = drops.velocities
        self.ease[:n, 0] = 1 / (body.volume * self.size**3)
        self.inv_local = 1 / (body.inertia * self.size[:, None] ** 5)
        self.reach = body.reach * self.size
        self.lever = self.reach if len(body.radii) > 1 else (body.reach - body.radii[0]) * self.size
        self.moved = np.zeros((n, 3))
        self.turned, self.quick, self.spent, self.margin = np.zeros((4, n))
        self.vessel = _vessel_row(request)
        self.laws = tuple(
            np.float32(law)
            for law in (
                request.friction, request.wall_friction, method.shove_rate,
                method.slop / method.step,
            )
        )  # fmt: skip
        self.active, self.steps = 0, 0
        self.extra = np.zeros(n)
        self.room = np.empty((n, 16, 4), np.int32)
        self.pairs, self.impulses = np.zeros((0, 4), np.int32), np.zeros((0, 4), np.float32)
        self.parts = _table(n * len(body.radii) + SPARE)
        self.parts[-SPARE:, 6] = 1.0  # an empty lane has levers, too
        self._make_blocks(0)
        self.first = self.last = np.zeros(0, np.int64)

    @property
    def time(self) -> float:
        """Simulated so far, sqrt(w / g)."""
        return self.steps * self.method.step

    def advance(self, drag: float, care: int = 1) -> None:
        """Take one step.

        Parameters
        ----------
        drag : per sqrt(w / g); rate at which free motion dies away
        care : times; factor on the sweeps
        """
        m = self.method
        n = int(np.searchsorted(self.drops.times, self.time, side="right"))
        threads = 1 if n < FEW_GRAINS else THREADS
        numba.set_num_threads(threads)
        body = self.body
        kick(
            n, self.q, self.speed, self.shove, self.ease, self.inv_local, self.lever, self.quick,
            m.step, drag, m.fall_speed,
        )  # fmt: skip
        turn_parts(n, self.q, body.starts, body.ends, body.radii, self.size, self.parts)
        stale = overtravel(n, self.moved, self.turned, self.lever, self.extra) > self.skin / 2
        if n != self.active or stale:
            self._search(n)
            self._deal(threads)
        elif overspent(n, self.quick, self.spent, self.margin, m.step) > m.surprise:
            self._keep_impulses()
            self._deal(threads)
        bounds = _shares(self.n_blocks, threads)
        prepare(
            self.pairs, self._bed, self._blocks, self.deep, self.speed, self.block_first,
            self.n_blocks, bounds, self.are_balls,
            (np.float32(1 / m.step), np.float32(m.slop / m.step)),
        )  # fmt: skip
        for k in range(care * m.sweeps):
            sweep(
                self.block_first, self.n_blocks, bounds, self.rows, self.who, self.deep,
                self.ease, self.speed, self.shove, self.are_balls, (self.steps + k) % 2 == 1,
                *self.laws,
            )  # fmt: skip
        move(
            n, self.x, self.q, self.speed, self.shove, self.moved, self.turned, self.quick,
            self.spent, m.step,
        )  # fmt: skip
        self.steps += 1

    @property
    def _bed(self) -> tuple[np.ndarray, ...]:
        return self.centres, self.parts, self.vessel

    @property
    def _blocks(self) -> tuple[np.ndarray, ...]:
        return self.rows, self.who, self.ends, self.own_pairs, self.at_walls, self.ease

    def _deal(self, threads: int) -> None:
        """Deal the near pairs that can touch within some steps out to blocks."""
        m, n = self.method, self.active
        self.margin[:n] = m.near / 2 + m.ahead * m.step * self.quick[:n]
        self.spent[:n] = 0.0
        bounds = _shares(self.load, threads)
        while True:
            deal_out(
                (self.pairs, self.impulses, self.margin, self.last_block, self.filled),
                self._bed, self._blocks,
                (
                    self.row_start, self.slab_start, self.by_slab, self.block_first,
                    self.n_blocks,
                ),
                bounds, self.are_balls,
            )  # fmt: skip
            if (self.n_blocks <= np.diff(self.block_first)).all():
                break
            self._make_room(self.n_blocks)

    def _make_room(self, n_blocks: np.ndarray) -> None:
        """Give each slab room for so many blocks and some more."""
        np.cumsum(n_blocks + n_blocks // 8 + 2, out=self.block_first[1:])
        room = int(self.block_first[-1])
        if room > len(self.rows):
            self._make_blocks(room + room // 8)

    def _make_blocks(self, n: int) -> None:
        self.rows = np.empty((n, self.fields), np.float32)
        self.who, self.ends = np.empty((2, n, 2 * L), np.uint32)
        self.own_pairs = np.empty((n, L), np.int32)
        self.deep, self.at_walls = np.empty((2, n), bool)

    def _keep_impulses(self) -> None:
        used = int(self.block_first[-1])
        self.impulses = kept_impulses(len(self.pairs), self.own_pairs[:used], self.rows)

    def _search(self, n: int) -> None:
        """Find again which parts are near each other; known pairs keep their impulses."""
        if self.active:
            self._keep_impulses()
        m = self.method
        self.extra = np.minimum(m.most_roam, m.roam * m.step * self.quick)
        while True:
            pairs, row_start, by_slab, slab_start, needed = near_pairs(
                n, self._bed, self.reach, self.skin, self.extra, self.are_balls, self.room
            )
            if needed <= self.room.shape[1]:
                break
            self.room = np.empty((len(self.x), needed + 8, 4), np.int32)
        impulses = np.zeros((len(pairs), 4), np.float32)
        carried_impulses(pairs, impulses, self.pairs, self.impulses, self.first, self.last)
        self.pairs, self.impulses = pairs, impulses
        self.row_start, self.slab_start, self.by_slab = row_start, slab_start, by_slab
        self.first, self.last = np.empty(n, np.int64), np.empty(n, np.int64)
        self.first[by_slab], self.last[by_slab] = row_start[:-1], row_start[1:]
        self.filled, self.last_block = np.empty(len(pairs), np.int8), np.empty(n, np.int32)
        n_slabs = len(slab_start) - 1
        self.n_blocks, self.load = np.zeros(n_slabs, np.int64), np.diff(row_start[slab_start])
        self.block_first = np.zeros(n_slabs + 1, np.int64)
        self._make_room(self.load * 3 // (4 * L))
        self.moved[:n] = 0.0
        self.turned[:n] = 0.0
        self.active = n

    def energy(self) -> tuple[float, float]:
        """Kinetic and potential energy per mass let go so far, in g w."""
        kinetic, potential = energies(self.active, self.x, self.speed, self.ease, self.inv_local)
        return float(kinetic), float(potential)

    def overlaps(self) -> np.ndarray:
        """Overlap of every pair that touches, widths, shape (n_touching,)."""
        gaps = self._of_contacts(GAP)
        touching: np.ndarray = -self.method.step * gaps[gaps < 0].astype(float)
        return touching

    def _of_contacts(self, field: int) -> np.ndarray:
        """One field of all lanes that hold a contact."""
        used = int(self.block_first[-1])
        lanes = self.rows[:used, field : field + L]
        held: np.ndarray = lanes[self.own_pairs[:used] >= 0]
        return held

    def contacts_per_piece(self) -> float:
        """Mean number of bearing contacts: a pair counts for both pieces, a wall for one."""
        used = int(self.block_first[-1])
        held = self.own_pairs[:used] >= 0
        bearing = (self.rows[:used, IMPULSE : IMPULSE + L] > 0) & held
        walls = bearing & (self.who[:used, L:] >= len(self.x))
        return float(2 * bearing.sum() - walls.sum()) / max(1, self.active)

    def tap(self, speed: float) -> None:
        """Throw the whole bed up at one speed, as a vessel that strikes the table does.

        Parameters
        ----------
        speed : sqrt(g w)
        """
        self.speed[: len(self.x), 2] += speed


def _shares(load: np.ndarray, threads: int) -> np.ndarray:
    """Where the share of each thread begins among the even and among the odd slabs."""
    bounds = np.empty((2, threads + 1), np.int64)
    shares_of_slabs(load, threads, bounds)
    return bounds


def _table(n: int) -> np.ndarray:
    """Rows of eight floats, none of which lies across two lines of the cache."""
    raw = np.zeros(8 * n + 16, np.float32)
    skip = (-raw.ctypes.data // 4) % 16
    return raw[skip : skip + 8 * n].reshape(n, 8)


def _vessel_row(request: PackingRequest) -> np.ndarray:
    """The vessel as the kernels read it, in widths: form, then three measures."""
    vessel, scale = request.vessel, 10 / request.width_mm
    half = scale * vessel.width_cm / 2
    if vessel.form == "box":
        return np.array([1.0, half, scale * vessel.depth_cm / 2, 0.0])
    return np.array([0.0, half, vessel.slope, scale * vessel.edge_cm])
