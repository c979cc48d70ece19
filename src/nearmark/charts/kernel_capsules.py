"""Compiled: what is in front at each pixel of a picture of capsules, and how its surface is turned.

The compiler lets go of the interpreter's lock, so that a server answers meanwhile.
"""

import math

import numpy as np
from numba import njit


@njit(cache=True, error_model="numpy", nogil=True)
def _front(p, q, d, r):
    """Largest depth on a capsule above a point, and where along its axis; start at the origin."""
    du, dv, dw = d
    dd = du * du + dv * dv + dw * dw
    best, along = -np.inf, 0.0
    for s in (0.0, 1.0):
        h = r * r - (p - s * du) ** 2 - (q - s * dv) ** 2
        if h >= 0.0 and s * dw + math.sqrt(h) > best:
            best, along = s * dw + math.sqrt(h), s
    if dd > 0.0:
        g = p * du + q * dv
        a = 1.0 - dw * dw / dd
        if a > 1e-9:
            half = g * dw / dd
            disc = half * half - a * (p * p + q * q - g * g / dd - r * r)
            if disc >= 0.0:
                w = (half + math.sqrt(disc)) / a
                s = (g + w * dw) / dd
                if 0.0 <= s <= 1.0 and w > best:
                    best, along = w, s
    return best, along


@njit(cache=True, error_model="numpy", nogil=True)
def traced(starts, ends, radii, nu, nv):
    """Depth, number of the piece (-1: none) and unit normal at each pixel.

    Coordinates are pixels (u, v) and depth w, larger in front.
    """
    depth = np.full((nu, nv), -np.inf, np.float32)
    ident = np.full((nu, nv), -1, np.int32)
    normal = np.zeros((nu, nv, 3), np.float32)
    for i in range(starts.shape[0]):
        for k in range(starts.shape[1]):
            r = radii[i, k]
            au, av, aw = starts[i, k]
            d = ends[i, k] - starts[i, k]
            lo_u, hi_u = min(au, au + d[0]) - r, max(au, au + d[0]) + r
            lo_v, hi_v = min(av, av + d[1]) - r, max(av, av + d[1]) + r
            for a in range(max(0, int(lo_u)), min(nu, int(hi_u) + 1)):
                for b in range(max(0, int(lo_v)), min(nv, int(hi_v) + 1)):
                    p, q = a + 0.5 - au, b + 0.5 - av
                    w, s = _front(p, q, (d[0], d[1], d[2]), r)
                    if aw + w > depth[a, b]:
                        depth[a, b] = aw + w
                        ident[a, b] = i
                        normal[a, b, 0] = (p - s * d[0]) / r
                        normal[a, b, 1] = (q - s * d[1]) / r
                        normal[a, b, 2] = (w - s * d[2]) / r
    return depth, ident, normal
