"""Compiled motion of free grains: gravity, air drag, and the step in position and direction."""

import math

from numba import njit, prange

from nearmark.packing.kernel_geometry import rotated


@njit(cache=True, parallel=True, error_model="numpy")
def place_parts(n, x, q, axis0, axis1, size, p0, p1):
    """Ends of every part of the first ``n`` grains where they stand."""
    for i in prange(n):
        s = size[i]
        for k in range(axis0.shape[0]):
            ax, ay, az = rotated(q, i, s * axis0[k, 0], s * axis0[k, 1], s * axis0[k, 2])
            p0[i, k, 0], p0[i, k, 1], p0[i, k, 2] = x[i, 0] + ax, x[i, 1] + ay, x[i, 2] + az
            ax, ay, az = rotated(q, i, s * axis1[k, 0], s * axis1[k, 1], s * axis1[k, 2])
            p1[i, k, 0], p1[i, k, 1], p1[i, k, 2] = x[i, 0] + ax, x[i, 1] + ay, x[i, 2] + az


@njit(cache=True, parallel=True, error_model="numpy")
def kick(n, q, body, inv_local, lever, quick, h, drag, v_most):
    """Gravity, drag and the speed limit; world inertia; forget the last shove."""
    keep = math.exp(-drag * h)
    for i in prange(n):
        vx, vy, vz = body[i, 0], body[i, 1], body[i, 2] - h
        speed = math.sqrt(vx * vx + vy * vy + vz * vz)
        f = keep * v_most / speed if speed > v_most else keep
        body[i, 0], body[i, 1], body[i, 2] = f * vx, f * vy, f * vz
        wx, wy, wz = keep * body[i, 3], keep * body[i, 4], keep * body[i, 5]
        body[i, 3], body[i, 4], body[i, 5] = wx, wy, wz
        quick[i] = f * speed + lever[i] * math.sqrt(wx * wx + wy * wy + wz * wz) + 2.0 * h
        for a in range(6, 12):
            body[i, a] = 0.0
        ax, ay, az = rotated(q, i, 1.0, 0.0, 0.0)
        bx, by, bz = rotated(q, i, 0.0, 1.0, 0.0)
        cx, cy, cz = rotated(q, i, 0.0, 0.0, 1.0)
        ja, jb, jc = inv_local[i, 0], inv_local[i, 1], inv_local[i, 2]
        body[i, 13] = ja * ax * ax + jb * bx * bx + jc * cx * cx
        body[i, 14] = ja * ay * ay + jb * by * by + jc * cy * cy
        body[i, 15] = ja * az * az + jb * bz * bz + jc * cz * cz
        body[i, 16] = ja * ax * ay + jb * bx * by + jc * cx * cy
        body[i, 17] = ja * ax * az + jb * bx * bz + jc * cx * cz
        body[i, 18] = ja * ay * az + jb * by * bz + jc * cy * cz


@njit(cache=True, parallel=True, error_model="numpy")
def move(n, x, q, body, moved, turned, h):
    """Step positions and directions; add up how far each has gone since the last pair search."""
    for i in prange(n):
        for a in range(3):
            dx = h * (body[i, a] + body[i, 6 + a])
            x[i, a] += dx
            moved[i, a] += dx
        hx = 0.5 * h * (body[i, 3] + body[i, 9])
        hy = 0.5 * h * (body[i, 4] + body[i, 10])
        hz = 0.5 * h * (body[i, 5] + body[i, 11])
        turned[i] += 2.0 * math.sqrt(hx * hx + hy * hy + hz * hz)
        a0, b, c, d = q[i, 0], q[i, 1], q[i, 2], q[i, 3]
        n0 = a0 - hx * b - hy * c - hz * d
        n1 = b + hx * a0 + hy * d - hz * c
        n2 = c - hx * d + hy * a0 + hz * b
        n3 = d + hx * c - hy * b + hz * a0
        f = 1.0 / math.sqrt(n0 * n0 + n1 * n1 + n2 * n2 + n3 * n3)
        q[i, 0], q[i, 1], q[i, 2], q[i, 3] = n0 * f, n1 * f, n2 * f, n3 * f


@njit(cache=True, error_model="numpy")
def relative_travel(n, moved, turned, lever):
    """Most that the distance of any two surfaces can have changed since the last pair search.

    Falling together changes nothing, so the spread of the displacements counts, not their size.
    """
    lx, ly, lz, hx, hy, hz, swing = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    for i in range(n):
        lx, hx = min(lx, moved[i, 0]), max(hx, moved[i, 0])
        ly, hy = min(ly, moved[i, 1]), max(hy, moved[i, 1])
        lz, hz = min(lz, moved[i, 2]), max(hz, moved[i, 2])
        swing = max(swing, turned[i] * lever[i])
    return math.sqrt((hx - lx) ** 2 + (hy - ly) ** 2 + (hz - lz) ** 2) + 2.0 * swing


@njit(cache=True, error_model="numpy")
def energies(n, x, body, inv_local):
    """Kinetic (moving and turning) and potential energy of the first ``n`` grains; g = 1."""
    kinetic, potential, mass = 0.0, 0.0, 0.0
    for i in range(n):
        m = 1.0 / body[i, 12]
        # The turning part with the mean moment: it serves the test of rest only.
        mean = 3.0 / (inv_local[i, 0] + inv_local[i, 1] + inv_local[i, 2])
        kinetic += 0.5 * m * (body[i, 0] ** 2 + body[i, 1] ** 2 + body[i, 2] ** 2)
        kinetic += 0.5 * mean * (body[i, 3] ** 2 + body[i, 4] ** 2 + body[i, 5] ** 2)
        potential += m * x[i, 2]
        mass += m
    return kinetic / mass, potential / mass
