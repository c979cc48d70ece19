"""Compiled arithmetic of eight contacts of balls at once: what ``kernel_lanes`` does, made short.

The lever of a ball lies along the normal and its inertia is the same about every line.  So a
contact needs thirteen numbers instead of thirty-six, and how balls give way across the normal is
seven halves of how they do along it: 1 + 5/2, since 1/inertia is 5/2 over mass and radius squared.
"""

import math

import numpy as np
from numba import njit

from nearmark.packing.kernel_lanes import (
    EAGER,
    GAP,
    IMPULSE,
    LANE_MATH,
    MASS,
    NEXT,
    NORMAL,
    SPEED,
    L,
)

LEVER, OTHER, LIGHT, BALL_FIELDS = (k * L for k in (9, 10, 11, 13))
"""Distance of the contact from the owner's and the other's centre; 1/mass of both."""

_ZERO, _ONE, _TINY = np.float32(0), np.float32(1), np.float32(1e-30)
_SPIN, _ACROSS = np.float32(2.5), np.float32(2 / 7)


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _three(w, at):
    return w[at], w[at + L], w[at + 2 * L]


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _cross(ax, ay, az, bx, by, bz):
    return ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _push(w, l, nx, ny, nz, px, py, pz):
    m, o = w[l + LIGHT], w[l + LIGHT + L]
    w[l + SPEED] += m * px
    w[l + SPEED + L] += m * py
    w[l + SPEED + 2 * L] += m * pz
    w[l + SPEED + NEXT] -= o * px
    w[l + SPEED + NEXT + L] -= o * py
    w[l + SPEED + NEXT + 2 * L] -= o * pz
    tx, ty, tz = _cross(nx, ny, nz, px, py, pz)
    m, o = _SPIN * m / w[l + LEVER], _SPIN * o / w[l + OTHER]
    w[l + SPEED + 3 * L] -= m * tx
    w[l + SPEED + 4 * L] -= m * ty
    w[l + SPEED + 5 * L] -= m * tz
    w[l + SPEED + NEXT + 3 * L] -= o * tx
    w[l + SPEED + NEXT + 4 * L] -= o * ty
    w[l + SPEED + NEXT + 5 * L] -= o * tz


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def solve_balls(w, mu_grain, mu_wall):
    """Stop approach and slip of each lane, with Coulomb friction."""
    for l in range(L):
        nx, ny, nz = _three(w, l + NORMAL)
        vx, vy, vz = _three(w, l + SPEED)
        ox, oy, oz = _three(w, l + SPEED + NEXT)
        sx, sy, sz = _three(w, l + SPEED + 3 * L)
        tx, ty, tz = _three(w, l + SPEED + NEXT + 3 * L)
        r, q = w[l + LEVER], w[l + OTHER]
        sx, sy, sz = _cross(r * sx + q * tx, r * sy + q * ty, r * sz + q * tz, nx, ny, nz)
        ux, uy, uz = vx - ox, vy - oy, vz - oz
        un = ux * nx + uy * ny + uz * nz
        old, gap, mass = w[l + IMPULSE], w[l + GAP], w[l + MASS]
        gap = max(_ZERO, gap)
        new = old - EAGER * (un + gap) * mass
        new = max(_ZERO, new)
        ox, oy, oz = _three(w, l + IMPULSE + L)
        f = _ACROSS * mass
        tx = ox - f * (ux - un * nx - sx)
        ty = oy - f * (uy - un * ny - sy)
        tz = oz - f * (uz - un * nz - sz)
        rub = mu_grain if w[l + LIGHT + L] > _ZERO else mu_wall
        most2, pull2 = rub * new * rub * new, tx * tx + ty * ty + tz * tz
        f = math.sqrt(most2 / (pull2 + _TINY))
        f = f if pull2 > most2 else _ONE
        tx, ty, tz = f * tx, f * ty, f * tz
        w[l + IMPULSE] = new
        w[l + IMPULSE + L] = tx
        w[l + IMPULSE + 2 * L] = ty
        w[l + IMPULSE + 3 * L] = tz
        f = new - old
        _push(w, l, nx, ny, nz, f * nx + tx - ox, f * ny + ty - oy, f * nz + tz - oz)


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def shove_balls(w, rate, slop):
    """Move deep contacts apart; the speeds of ``w`` are here those of the shove."""
    for l in range(L):
        nx, ny, nz = _three(w, l + NORMAL)
        vx, vy, vz = _three(w, l + SPEED)
        ox, oy, oz = _three(w, l + SPEED + NEXT)
        deep = -rate * (w[l + GAP] + slop)
        p = (deep - (vx - ox) * nx - (vy - oy) * ny - (vz - oz) * nz) * w[l + MASS]
        p = max(_ZERO, p)
        p = p if deep > _ZERO else _ZERO
        m, o = p * w[l + LIGHT], p * w[l + LIGHT + L]
        w[l + SPEED] = vx + m * nx
        w[l + SPEED + L] = vy + m * ny
        w[l + SPEED + 2 * L] = vz + m * nz
        w[l + SPEED + NEXT] = ox - o * nx
        w[l + SPEED + NEXT + L] = oy - o * ny
        w[l + SPEED + NEXT + 2 * L] = oz - o * nz


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def warm_balls(w):
    """Give each lane the impulse of the last step, turned with the normal."""
    for l in range(L):
        nx, ny, nz = _three(w, l + NORMAL)
        tx, ty, tz = _three(w, l + IMPULSE + L)
        along = tx * nx + ty * ny + tz * nz
        tx, ty, tz = tx - along * nx, ty - along * ny, tz - along * nz
        w[l + IMPULSE + L] = tx
        w[l + IMPULSE + 2 * L] = ty
        w[l + IMPULSE + 3 * L] = tz
        f = w[l + IMPULSE]
        _push(w, l, nx, ny, nz, f * nx + tx, f * ny + ty, f * nz + tz)
