"""Compiled arithmetic of eight contacts at once, written so that the compiler makes vectors of it.

A block is eight contacts of which no two move the same piece, so solving them together is solving
them one after the other.  ``w`` is a block in one flat array of floats: field by field, eight
numbers each; a loop over the lanes without branches then becomes vector instructions.  All is in
single precision: impulses are kept from step to step and errors of them are mended by the next
sweep, while positions and gaps are doubles elsewhere.
"""

import math
from typing import Final

import numpy as np
from numba import njit

L: Final = 8
"""Contacts in a block."""

SPARE = 128
"""Rows behind the pieces of every table of pieces: what empty lanes and walls move, never in fact.
Two for a slab; where an empty lane is placed, the two are far apart."""

LANE_MATH: Final = {"contract", "nnan", "ninf", "nsz"}
"""What the compiler may take for granted: nothing that hangs on the order of the lanes."""

_ZERO, _ONE, _HALF, _TINY = np.float32(0), np.float32(1), np.float32(0.5), np.float32(1e-30)

IMPULSE, NORMAL, GAP, MASS = (k * L for k in (0, 4, 7, 8))
"""First fields of every block: impulse along the normal and across it (3), which change from sweep
to sweep; normal towards the owner (3); speed that would close the gap; mass along the normal."""

LEVER, OTHER, ACROSS, MIN_SIZE, FIELDS = (k * L for k in (9, 12, 15, 21, 22))
"""The other fields: levers of owner and other; mass across the normal as a matrix (xx yy zz xy xz
yz) that knows no normal part; least mass across."""

SPEED, EASE, LANES_ROOM = (k * L for k in (22, 38, 54))
"""Behind the fields, while a block is worked on: velocity and spin of the owners and of the others;
1/mass and 1/inertia in the world (like the matrix) of both.  Each takes eight rows of lanes."""

EAGER: Final = np.float32(1.2)
"""By how much a contact overdoes what would stop it alone: the others lean on it, too, and the bed
carries its weight with fewer sweeps."""

NEXT: Final = 8 * L
"""From what is an owner's to what is the other's."""


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def cross(ax, ay, az, bx, by, bz):
    """Vector product."""
    return ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _times(w, at, x, y, z):
    """A symmetric matrix of a block, one for each lane, times a vector."""
    xy, xz, yz = w[at + 3 * L], w[at + 4 * L], w[at + 5 * L]
    return (
        w[at] * x + xy * y + xz * z,
        xy * x + w[at + L] * y + yz * z,
        xz * x + yz * y + w[at + 2 * L] * z,
    )


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def three(w, at):
    """One vector of a lane."""
    return w[at], w[at + L], w[at + 2 * L]


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _speed(w, l):
    """Speed of the owner past the other at the contact."""
    vx, vy, vz = three(w, l + SPEED)
    sx, sy, sz = three(w, l + SPEED + 3 * L)
    rx, ry, rz = three(w, l + LEVER)
    tx, ty, tz = cross(sx, sy, sz, rx, ry, rz)
    ox, oy, oz = three(w, l + SPEED + NEXT)
    sx, sy, sz = three(w, l + SPEED + NEXT + 3 * L)
    rx, ry, rz = three(w, l + OTHER)
    ux, uy, uz = cross(sx, sy, sz, rx, ry, rz)
    return vx - ox + tx - ux, vy - oy + ty - uy, vz - oz + tz - uz


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def push_centres(w, l, m, o, px, py, pz):
    """What an impulse does to the velocities of owner and other; ``m``, ``o`` their 1/mass."""
    w[l + SPEED] += m * px
    w[l + SPEED + L] += m * py
    w[l + SPEED + 2 * L] += m * pz
    w[l + SPEED + NEXT] -= o * px
    w[l + SPEED + NEXT + L] -= o * py
    w[l + SPEED + NEXT + 2 * L] -= o * pz


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def turned_impulse(w, l, nx, ny, nz):
    """The impulse of the last step, its part across turned with the normal."""
    tx, ty, tz = three(w, l + IMPULSE + L)
    along = tx * nx + ty * ny + tz * nz
    tx, ty, tz = tx - along * nx, ty - along * ny, tz - along * nz
    w[l + IMPULSE + L] = tx
    w[l + IMPULSE + 2 * L] = ty
    w[l + IMPULSE + 3 * L] = tz
    f = w[l + IMPULSE]
    return f * nx + tx, f * ny + ty, f * nz + tz


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _push(w, l, px, py, pz):
    """Give an impulse to the owner and take it from the other."""
    push_centres(w, l, w[l + EASE], w[l + EASE + NEXT], px, py, pz)
    rx, ry, rz = three(w, l + LEVER)
    cx, cy, cz = cross(rx, ry, rz, px, py, pz)
    tx, ty, tz = _times(w, l + EASE + L, cx, cy, cz)
    w[l + SPEED + 3 * L] += tx
    w[l + SPEED + 4 * L] += ty
    w[l + SPEED + 5 * L] += tz
    rx, ry, rz = three(w, l + OTHER)
    cx, cy, cz = cross(rx, ry, rz, px, py, pz)
    tx, ty, tz = _times(w, l + EASE + NEXT + L, cx, cy, cz)
    w[l + SPEED + NEXT + 3 * L] -= tx
    w[l + SPEED + NEXT + 4 * L] -= ty
    w[l + SPEED + NEXT + 5 * L] -= tz


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def solve_lanes(w, mu_grain, mu_wall):
    """Stop approach and slip of each lane, with Coulomb friction."""
    for l in range(L):
        nx, ny, nz = three(w, l + NORMAL)
        ux, uy, uz = _speed(w, l)
        un = ux * nx + uy * ny + uz * nz
        old = w[l + IMPULSE]
        gap = w[l + GAP]
        gap = max(_ZERO, gap)
        new = old - EAGER * (un + gap) * w[l + MASS]
        new = max(_ZERO, new)
        ox, oy, oz = three(w, l + IMPULSE + L)
        tx, ty, tz = _times(w, l + ACROSS, ux, uy, uz)
        tx, ty, tz = ox - tx, oy - ty, oz - tz
        rub = mu_grain if w[l + EASE + NEXT] > _ZERO else mu_wall
        most2 = rub * new * rub * new
        slips = tx * tx + ty * ty + tz * tz > most2
        # It slips: friction then points against the slip, or it would drive what it brakes.
        f = w[l + MIN_SIZE]
        hx, hy, hz = ox - f * (ux - un * nx), oy - f * (uy - un * ny), oz - f * (uz - un * nz)
        pull2 = hx * hx + hy * hy + hz * hz
        f = math.sqrt(most2 / (pull2 + _TINY))
        f = f if pull2 > most2 else _ONE
        tx = hx * f if slips else tx
        ty = hy * f if slips else ty
        tz = hz * f if slips else tz
        w[l + IMPULSE] = new
        w[l + IMPULSE + L] = tx
        w[l + IMPULSE + 2 * L] = ty
        w[l + IMPULSE + 3 * L] = tz
        f = new - old
        _push(w, l, f * nx + tx - ox, f * ny + ty - oy, f * nz + tz - oz)


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def shove_lanes(w, rate, slop):
    """Move deep contacts apart; the speeds of ``w`` are here those of the shove."""
    for l in range(L):
        nx, ny, nz = three(w, l + NORMAL)
        ux, uy, uz = _speed(w, l)
        deep = -rate * (w[l + GAP] + slop)
        p = (deep - (ux * nx + uy * ny + uz * nz)) * w[l + MASS]
        p = max(_ZERO, p)
        p = p if deep > _ZERO else _ZERO
        _push(w, l, p * nx, p * ny, p * nz)


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def warm_lanes(w):
    """Give each lane the impulse of the last step, turned with the normal."""
    for l in range(L):
        nx, ny, nz = three(w, l + NORMAL)
        px, py, pz = turned_impulse(w, l, nx, ny, nz)
        _push(w, l, px, py, pz)


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _turn(w, lever, ease, l, x, y, z):
    """Moment about a piece of a unit force along x, y, z, and the spin that it gives."""
    rx, ry, rz = three(w, l + lever)
    cx, cy, cz = cross(rx, ry, rz, x, y, z)
    tx, ty, tz = _times(w, l + ease, cx, cy, cz)
    return cx, cy, cz, tx, ty, tz


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def mass_lanes(w):
    """Inverse of how the two pieces of each lane give way along the normal and across it."""
    for l in range(L):
        nx, ny, nz = three(w, l + NORMAL)
        light = w[l + EASE] + w[l + EASE + NEXT]
        light = light if light > _ZERO else _ONE  # an empty lane
        ax, ay, az, bx, by, bz = _turn(w, LEVER, EASE + L, l, nx, ny, nz)
        cx, cy, cz, dx, dy, dz = _turn(w, OTHER, EASE + NEXT + L, l, nx, ny, nz)
        w[l + MASS] = _ONE / (light + ax * bx + ay * by + az * bz + cx * dx + cy * dy + cz * dz)
        # Two directions across, without a branch: Duff et al. 2017, "Building an orthonormal
        # basis, revisited"; from memory, held by a test.
        s = _ONE if nz >= _ZERO else -_ONE
        f = -_ONE / (s + nz)
        g = nx * ny * f
        px, py, pz = _ONE + s * nx * nx * f, s * g, -s * nx
        qx, qy, qz = g, s + ny * ny * f, -ny
        ax, ay, az, bx, by, bz = _turn(w, LEVER, EASE + L, l, px, py, pz)
        aa = light + ax * bx + ay * by + az * bz
        ax, ay, az, dx, dy, dz = _turn(w, LEVER, EASE + L, l, qx, qy, qz)
        bb = light + ax * dx + ay * dy + az * dz
        ab = ax * bx + ay * by + az * bz
        ax, ay, az, bx, by, bz = _turn(w, OTHER, EASE + NEXT + L, l, px, py, pz)
        aa += ax * bx + ay * by + az * bz
        ax, ay, az, dx, dy, dz = _turn(w, OTHER, EASE + NEXT + L, l, qx, qy, qz)
        bb += ax * dx + ay * dy + az * dz
        ab += ax * bx + ay * by + az * bz
        half = _HALF * (aa - bb)
        w[l + MIN_SIZE] = _ONE / (_HALF * (aa + bb) + math.sqrt(half * half + ab * ab))
        f = _ONE / (aa * bb - ab * ab)
        aa, ab, bb = bb * f, -ab * f, aa * f
        w[l + ACROSS] = aa * px * px + ab * (px * qx + px * qx) + bb * qx * qx
        w[l + ACROSS + L] = aa * py * py + ab * (py * qy + py * qy) + bb * qy * qy
        w[l + ACROSS + 2 * L] = aa * pz * pz + ab * (pz * qz + pz * qz) + bb * qz * qz
        w[l + ACROSS + 3 * L] = aa * px * py + ab * (px * qy + qx * py) + bb * qx * qy
        w[l + ACROSS + 4 * L] = aa * px * pz + ab * (px * qz + qx * pz) + bb * qx * qz
        w[l + ACROSS + 5 * L] = aa * py * pz + ab * (py * qz + qy * pz) + bb * qy * qz
