"""Compiled pictures of the bed: which piece is in front at each point, which space is filled."""

import math

import numpy as np
from numba import njit


@njit(cache=True, error_model="numpy")
def _beads(length, radius):
    """Balls that stand for a capsule, a quarter of a radius apart: its side 0.8 % low at most."""
    return max(1, math.ceil(length / (0.25 * radius)) + 1) if length > 0.0 else 1


@njit(cache=True, error_model="numpy")
def _stamp(depth, ident, who, u, v, w, r):
    """Draw one ball seen along w, larger w in front; pixels are unit squares.  Returns nothing."""
    nu, nv = depth.shape
    for a in range(max(0, int(math.floor(u - r))), min(nu, int(math.floor(u + r)) + 1)):
        for b in range(max(0, int(math.floor(v - r))), min(nv, int(math.floor(v + r)) + 1)):
            d2 = r * r - (a + 0.5 - u) ** 2 - (b + 0.5 - v) ** 2
            if d2 >= 0.0:
                front = w + math.sqrt(d2)
                if front > depth[a, b]:
                    depth[a, b] = front
                    ident[a, b] = who


@njit(cache=True, error_model="numpy")
def id_picture(starts, ends, radii, nu, nv):
    """Depth and index of the front piece per pixel, and each piece's own silhouette in pixels.

    Coordinates are pixels (u, v) and depth w.
    """
    depth = np.full((nu, nv), -np.inf)
    ident = np.full((nu, nv), -1, np.int64)
    own = np.zeros(starts.shape[0], np.int64)
    for i in range(starts.shape[0]):
        lo_u, lo_v, hi_u, hi_v = np.inf, np.inf, -np.inf, -np.inf
        for k in range(starts.shape[1]):
            r = radii[i, k]
            lo_u = min(lo_u, min(starts[i, k, 0], ends[i, k, 0]) - r)
            lo_v = min(lo_v, min(starts[i, k, 1], ends[i, k, 1]) - r)
            hi_u = max(hi_u, max(starts[i, k, 0], ends[i, k, 0]) + r)
            hi_v = max(hi_v, max(starts[i, k, 1], ends[i, k, 1]) + r)
        ou, ov = math.floor(lo_u), math.floor(lo_v)
        alone = np.full((int(hi_u - ou) + 2, int(hi_v - ov) + 2), -np.inf)
        mask = np.full(alone.shape, -1, np.int64)
        for k in range(starts.shape[1]):
            du = ends[i, k, 0] - starts[i, k, 0]
            dv = ends[i, k, 1] - starts[i, k, 1]
            dw = ends[i, k, 2] - starts[i, k, 2]
            n = _beads(math.sqrt(du * du + dv * dv + dw * dw), radii[i, k])
            for m in range(n):
                s = m / (n - 1) if n > 1 else 0.0
                u, v, w = (
                    starts[i, k, 0] + s * du,
                    starts[i, k, 1] + s * dv,
                    starts[i, k, 2] + s * dw,
                )
                _stamp(depth, ident, i, u, v, w, radii[i, k])
                _stamp(alone, mask, i, u - ou, v - ov, w, radii[i, k])
        own[i] = (mask >= 0).sum()
    return depth, ident, own


@njit(cache=True, error_model="numpy")
def _shaken(a, b, c):
    """Three numbers of -0.5 to 0.5 that look like chance and hang on the cell only."""
    h = np.uint64(a) * np.uint64(0x9E3779B97F4A7C15)
    h = (h ^ np.uint64(b)) * np.uint64(0xBF58476D1CE4E5B9)
    h = (h ^ (h >> np.uint64(29)) ^ np.uint64(c)) * np.uint64(0x94D049BB133111EB)
    h ^= h >> np.uint64(31)
    mask, one = np.uint64(0x1FFFFF), 1.0 / 0x200000
    return (
        (h & mask) * one - 0.5,
        ((h >> np.uint64(21)) & mask) * one - 0.5,
        ((h >> np.uint64(42)) & mask) * one - 0.5,
    )


@njit(cache=True, error_model="numpy")
def filled_cells(starts, ends, radii, first, step, shape):
    """Which cells of a grid have a point inside a piece, one point drawn at random in each cell.

    ``first`` is the middle of the corner cell, ``step`` the sides of a cell.  With the middles
    instead, an ordered pile meets the points in the same few ways everywhere and is read wrong.
    """
    filled = np.zeros((shape[0], shape[1], shape[2]), np.bool_)
    lo, hi = np.empty(3, np.int64), np.empty(3, np.int64)
    for i in range(starts.shape[0]):
        for k in range(starts.shape[1]):
            r = radii[i, k]
            dx, dy, dz = ends[i, k] - starts[i, k]
            dd = dx * dx + dy * dy + dz * dz
            for a in range(3):
                least = min(starts[i, k, a], ends[i, k, a]) - r - first[a]
                most = max(starts[i, k, a], ends[i, k, a]) + r - first[a]
                lo[a] = max(0, math.floor(least / step[a]))
                hi[a] = min(shape[a] - 1, math.ceil(most / step[a]))
            for a in range(lo[0], hi[0] + 1):
                for b in range(lo[1], hi[1] + 1):
                    for c in range(lo[2], hi[2] + 1):
                        u, v, w = _shaken(a, b, c)
                        px = first[0] + (a + u) * step[0] - starts[i, k, 0]
                        py = first[1] + (b + v) * step[1] - starts[i, k, 1]
                        pz = first[2] + (c + w) * step[2] - starts[i, k, 2]
                        s = 0.0
                        if dd > 0.0:
                            s = min(1.0, max(0.0, (px * dx + py * dy + pz * dz) / dd))
                        qx, qy, qz = px - s * dx, py - s * dy, pz - s * dz
                        if qx * qx + qy * qy + qz * qz < r * r:
                            filled[a, b, c] = True
    return filled
