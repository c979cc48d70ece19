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
    cross,
    push_centres,
    three,
    turned_impulse,
)

BALL_LEVER, BALL_OTHER, BALL_LIGHT, BALL_FIELDS = (k * L for k in (9, 10, 11, 13))
"""Distance of the contact from the owner's and the other's centre; 1/mass of both."""

_ZERO, _ONE, _TINY = np.float32(0), np.float32(1), np.float32(1e-30)
_SPIN, _ACROSS = np.float32(2.5), np.float32(2 / 7)


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _push(w, l, nx, ny, nz, px, py, pz):
    m, o = w[l + BALL_LIGHT], w[l + BALL_LIGHT + L]
    push_centres(w, l, m, o, px, py, pz)
    tx, ty, tz = cross(nx, ny, nz, px, py, pz)
    m, o = _SPIN * m / w[l + BALL_LEVER], _SPIN * o / w[l + BALL_OTHER]
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
        nx, ny, nz = three(w, l + NORMAL)
        vx, vy, vz = three(w, l + SPEED)
        ox, oy, oz = three(w, l + SPEED + NEXT)
        sx, sy, sz = three(w, l + SPEED + 3 * L)
        tx, ty, tz = three(w, l + SPEED + NEXT + 3 * L)
        r, q = w[l + BALL_LEVER], w[l + BALL_OTHER]
        sx, sy, sz = cross(r * sx + q * tx, r * sy + q * ty, r * sz + q * tz, nx, ny, nz)
        ux, uy, uz = vx - ox, vy - oy, vz - oz
        un = ux * nx + uy * ny + uz * nz
        old, gap, mass = w[l + IMPULSE], w[l + GAP], w[l + MASS]
        gap = max(_ZERO, gap)
        new = old - EAGER * (un + gap) * mass
        new = max(_ZERO, new)
        ox, oy, oz = three(w, l + IMPULSE + L)
        f = _ACROSS * mass
        tx = ox - f * (ux - un * nx - sx)
        ty = oy - f * (uy - un * ny - sy)
        tz = oz - f * (uz - un * nz - sz)
        rub = mu_grain if w[l + BALL_LIGHT + L] > _ZERO else mu_wall
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
        nx, ny, nz = three(w, l + NORMAL)
        vx, vy, vz = three(w, l + SPEED)
        ox, oy, oz = three(w, l + SPEED + NEXT)
        deep = -rate * (w[l + GAP] + slop)
        p = (deep - (vx - ox) * nx - (vy - oy) * ny - (vz - oz) * nz) * w[l + MASS]
        p = max(_ZERO, p)
        p = p if deep > _ZERO else _ZERO
        m, o = p * w[l + BALL_LIGHT], p * w[l + BALL_LIGHT + L]
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
        nx, ny, nz = three(w, l + NORMAL)
        px, py, pz = turned_impulse(w, l, nx, ny, nz)
        _push(w, l, nx, ny, nz, px, py, pz)
