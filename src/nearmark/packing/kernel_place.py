"""Compiled nearest points of eight pairs of parts at once: normal, gap and levers.

A part is a line of half length ``h`` about a point ``o`` off its piece's centre, with a radius; a
ball has no length.  Points on it are ``o + s h`` with s from -1 to 1.
"""

import math
from typing import Final

import numpy as np
from numba import njit

from nearmark.packing.kernel_balls import BALL_LEVER, BALL_OTHER
from nearmark.packing.kernel_lanes import GAP, LANE_MATH, LANES_ROOM, LEVER, NORMAL, OTHER, L

OWN_PART, OTHER_PART, APART, PLACE_ROOM = (LANES_ROOM + k * L for k in (0, 8, 16, 19))
"""Behind all else of a block: rows of the table of parts of owners and of others (o, h, radius, one
unused), and the difference of their pieces' centres."""

_ZERO, _ONE, _HALF = np.float32(0), np.float32(1), np.float32(0.5)
_MIN_SIZE: Final = np.float32(1e-12)

_PARALLEL: Final = np.float32(1e-5)
"""Square of the angle at which parts count as parallel, by and by: they touch along a line then,
whose middle is the steadiest single point."""


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _dot(w, a, b):
    return w[a] * w[b] + w[a + L] * w[b + L] + w[a + 2 * L] * w[b + 2 * L]


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _within_one(s):
    s = min(_ONE, s)
    return max(-_ONE, s)


@njit(cache=True, inline="always", error_model="numpy", fastmath=LANE_MATH)
def _point(w, at, l, s):
    return (
        w[l + at] + s * w[l + at + 3 * L],
        w[l + at + L] + s * w[l + at + 4 * L],
        w[l + at + 2 * L] + s * w[l + at + 5 * L],
    )


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def place_lanes(w, per_step):
    """Normal, gap and levers of each lane from the parts and the difference of the centres.

    Gaps are given as the speed that closes them in a step.
    """
    for l in range(L):
        a, b = l + OWN_PART + 3 * L, l + OTHER_PART + 3 * L
        uu, vv, uv = _dot(w, a, a), _dot(w, b, b), _dot(w, a, b)
        dx = w[l + APART] + w[l + OWN_PART] - w[l + OTHER_PART]
        dy = w[l + APART + L] + w[l + OWN_PART + L] - w[l + OTHER_PART + L]
        dz = w[l + APART + 2 * L] + w[l + OWN_PART + 2 * L] - w[l + OTHER_PART + 2 * L]
        ud = w[a] * dx + w[a + L] * dy + w[a + 2 * L] * dz
        vd = w[b] * dx + w[b + L] * dy + w[b + 2 * L] * dz
        det = uu * vv - uv * uv
        det = max(_ZERO, det)
        s = _within_one((uv * vd - ud * vv) / (det + _PARALLEL * uu * vv + _MIN_SIZE))
        t = _within_one((uv * s + vd) / (vv + _MIN_SIZE))
        s = _within_one((uv * t - ud) / (uu + _MIN_SIZE))
        ax, ay, az = _point(w, OWN_PART, l, s)
        bx, by, bz = _point(w, OTHER_PART, l, t)
        nx = w[l + APART] + ax - bx
        ny = w[l + APART + L] + ay - by
        nz = w[l + APART + 2 * L] + az - bz
        d = math.sqrt(nx * nx + ny * ny + nz * nz)
        f = _ONE / (d + _MIN_SIZE)
        nx, ny, nz = nx * f, ny * f, nz * f
        nz = nz if d > _MIN_SIZE else _ONE
        r, q = w[l + OWN_PART + 6 * L], w[l + OTHER_PART + 6 * L]
        gap = d - r - q
        w[l + NORMAL] = nx
        w[l + NORMAL + L] = ny
        w[l + NORMAL + 2 * L] = nz
        w[l + GAP] = gap * per_step
        r, q = r + _HALF * gap, q + _HALF * gap
        w[l + LEVER] = ax - r * nx
        w[l + LEVER + L] = ay - r * ny
        w[l + LEVER + 2 * L] = az - r * nz
        w[l + OTHER] = bx + q * nx
        w[l + OTHER + L] = by + q * ny
        w[l + OTHER + 2 * L] = bz + q * nz


@njit(cache=True, error_model="numpy", fastmath=LANE_MATH)
def place_balls(w, per_step):
    """Normal, gap and levers of balls."""
    for l in range(L):
        nx, ny, nz = w[l + APART], w[l + APART + L], w[l + APART + 2 * L]
        d = math.sqrt(nx * nx + ny * ny + nz * nz)
        f = _ONE / (d + _MIN_SIZE)
        w[l + NORMAL] = nx * f
        w[l + NORMAL + L] = ny * f
        nz = nz * f
        w[l + NORMAL + 2 * L] = nz if d > _MIN_SIZE else _ONE
        r, q = w[l + OWN_PART + 6 * L], w[l + OTHER_PART + 6 * L]
        gap = d - r - q
        w[l + GAP] = gap * per_step
        w[l + BALL_LEVER] = r + _HALF * gap
        w[l + BALL_OTHER] = q + _HALF * gap
