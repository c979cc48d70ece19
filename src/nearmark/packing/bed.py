"""The bed while it moves: arrays of all pieces and the order of one time step.

Lengths are in mean widths, times in sqrt(w / g), masses in the mass of a cubic width; so gravity
is one.
"""

from dataclasses import dataclass
from typing import Final

import numba
import numpy as np

from nearmark.packing.kernel_contacts import (
    BODY_COLUMNS,
    CONTACT_COLUMNS,
    prepare,
    shares_of_slabs,
    sweep,
)
from nearmark.packing.kernel_motion import energies, kick, move, place_parts, relative_travel
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
    """How the bed is stepped; the defaults are those that the tests and benchmarks hold.

    Attributes
    ----------
    step : sqrt(w / g)
    sweeps : per step
        How often each contact is solved in a step.
    skin : widths
        How far beyond touching a pair is looked after; larger means rarer pair searches.
    shove_rate : dimensionless
        Share of an overlap undone in a step.
    slop : widths
        Overlap left alone, so that a contact stays a contact.
    fall_speed : sqrt(g w)
        The most a piece can reach.
    """

    step: float = 0.03
    sweeps: int = 4
    skin: float = 0.25
    shove_rate: float = 0.3
    slop: float = 0.0005
    fall_speed: float = FALL_SPEED


class Bed:
    """All pieces, those let go so far in motion.

    Parameters
    ----------
    request : PackingRequest
    body : Solid
    drops : Rain
    method : Method
    """

    def __init__(self, request: PackingRequest, body: Solid, drops: Rain, method: Method) -> None:
        n = request.n_grains
        self.request, self.body, self.drops, self.method = request, body, drops, method
        self.x, self.q, self.size = drops.centres.copy(), drops.turns.copy(), drops.sizes
        self.state = np.zeros((n, BODY_COLUMNS))
        self.state[:, :6] = drops.velocities
        self.state[:, 12] = 1 / (body.volume * self.size**3)
        self.inv_local = 1 / (body.inertia * self.size[:, None] ** 5)
        self.reach = body.reach * self.size
        self.lever = self.reach if len(body.radii) > 1 else (body.reach - body.radii[0]) * self.size
        self.p0 = np.zeros((n, len(body.radii), 3))
        self.p1 = np.zeros_like(self.p0)
        self.moved, self.turned, self.quick = np.zeros((n, 3)), np.zeros(n), np.zeros(n)
        self.vessel = _vessel_row(request)
        self.active, self.steps, self.room = 0, 0, 24
        self.pairs = np.zeros((0, 4), np.int32)
        self.rows = np.zeros((0, CONTACT_COLUMNS))
        self.first = self.last = np.zeros(0, np.int64)

    @property
    def time(self) -> float:
        """Simulated so far, sqrt(w / g)."""
        return self.steps * self.method.step

    def advance(self, drag: float, care: int = 1) -> None:
        """Take one step.

        Parameters
        ----------
        drag : per sqrt(w / g)
            Rate at which free motion dies away.
        care : times
            Factor on the sweeps.
        """
        m = self.method
        n = int(np.searchsorted(self.drops.times, self.time, side="right"))
        threads = 1 if n < FEW_GRAINS else THREADS
        numba.set_num_threads(threads)
        body = self.body
        place_parts(n, self.x, self.q, body.starts, body.ends, self.size, self.p0, self.p1)
        stale = relative_travel(n, self.moved, self.turned, self.lever) > m.skin
        if n != self.active or stale:
            self._search(n)
        kick(
            n, self.q, self.state, self.inv_local, self.lever, self.quick, m.step, drag,
            m.fall_speed,
        )  # fmt: skip
        bounds = np.empty((2, threads + 1), np.int64)
        shares_of_slabs(self.load, threads, bounds)
        prepare(
            self.pairs, self.rows, self.row_start, self.slab_start, self.x, self.p0, self.p1,
            body.radii, self.size, self.vessel, self.state, self.quick, m.step,
            self.todo, self.n_todo, bounds,
        )  # fmt: skip
        np.subtract(self.n_todo, self.row_start[self.slab_start[:-1]], out=self.load)
        shares_of_slabs(self.load, threads, bounds)
        for k in range(care * m.sweeps):
            sweep(
                self.pairs, self.rows, self.row_start, self.slab_start, self.todo, self.n_todo,
                bounds, self.state, self.request.friction, self.request.wall_friction,
                m.step, m.shove_rate, m.slop, (self.steps + k) % 2 == 1,
            )  # fmt: skip
        move(n, self.x, self.q, self.state, self.moved, self.turned, m.step)
        self.steps += 1

    def _search(self, n: int) -> None:
        """Find anew which parts are near each other; known pairs keep their impulses."""
        while True:
            pairs, row_start, by_slab, slab_start, needed = near_pairs(
                self.x, n, self.p0, self.p1, self.body.radii, self.size, self.reach,
                self.method.skin, self.vessel, self.room,
            )  # fmt: skip
            if needed <= self.room:
                break
            self.room = needed + 8
        rows = np.zeros((len(pairs), CONTACT_COLUMNS))
        carried_impulses(pairs, rows, self.pairs, self.rows, self.first, self.last)
        self.pairs, self.rows, self.row_start, self.slab_start = pairs, rows, row_start, slab_start
        self.first, self.last = np.empty(n, np.int64), np.empty(n, np.int64)
        self.first[by_slab], self.last[by_slab] = row_start[:-1], row_start[1:]
        self.todo = np.empty(len(pairs), np.int64)
        self.n_todo = np.zeros(len(slab_start) - 1, np.int64)
        self.load = np.diff(row_start[slab_start])
        self.moved[:n] = 0.0
        self.turned[:n] = 0.0
        self.active = n

    def energy(self) -> tuple[float, float]:
        """Kinetic and potential energy per mass let go so far, in g w."""
        kinetic, potential = energies(self.active, self.x, self.state, self.inv_local)
        return float(kinetic), float(potential)

    def overlaps(self) -> np.ndarray:
        """Overlap of every pair that touches, widths, shape (n_touching,)."""
        gaps = self.rows[:, 13]
        return -gaps[(gaps < 0) & (self.rows[:, 0] >= 0)]

    def contacts_per_piece(self) -> float:
        """Mean number of bearing contacts: a pair counts for both pieces, a wall for one."""
        bearing = self.rows[:, 0] > 0
        walls = bearing & (self.pairs[:, 1] < 0)
        return float(2 * bearing.sum() - walls.sum()) / max(1, self.active)

    def tap(self, speed: float) -> None:
        """Throw the whole bed up at one speed, as a vessel that strikes the table does.

        Parameters
        ----------
        speed : sqrt(g w)
        """
        self.state[:, 2] += speed


def _vessel_row(request: PackingRequest) -> np.ndarray:
    """The vessel as the kernels read it, in widths: form, then three measures."""
    vessel, scale = request.vessel, 10 / request.width_mm
    half = scale * vessel.width_cm / 2
    if vessel.form == "box":
        return np.array([1.0, half, scale * vessel.depth_cm / 2, 0.0])
    return np.array([0.0, half, vessel.slope, scale * vessel.edge_cm])
