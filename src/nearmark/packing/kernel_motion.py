"""Compiled motion of free grains: gravity, air drag, and the step in position and direction."""

import math

from numba import njit, prange

from nearmark.packing.kernel_geometry import rotated


@njit(cache=True, parallel=True, error_model="numpy")
def turn_parts(n, q, axis0, axis1, radius, size, parts):
    """Middle off the centre, half line and radius of every part."""
    n_parts = axis0.shape[0]
    for i in prange(n):
        s = 0.5 * size[i]
        for k in range(n_parts):
            ax, ay, az = rotated(
                q, i, s * (axis0[k, 0] + axis1[k, 0]), s * (axis0[k, 1] + axis1[k, 1]),
                s * (axis0[k, 2] + axis1[k, 2]),
            )  # fmt: skip
            bx, by, bz = rotated(
                q, i, s * (axis1[k, 0] - axis0[k, 0]), s * (axis1[k, 1] - axis0[k, 1]),
                s * (axis1[k, 2] - axis0[k, 2]),
            )  # fmt: skip
            row = i * n_parts + k
            parts[row, 0], parts[row, 1], parts[row, 2] = ax, ay, az
            parts[row, 3], parts[row, 4], parts[row, 5] = bx, by, bz
            parts[row, 6] = radius[k] * size[i]


@njit(cache=True, parallel=True, error_model="numpy")
def kick(n, q, speed, shove, ease, inv_local, lever, quick, h, drag, v_most):
    """Gravity, drag and the speed limit; world inertia; forget the last shove."""
    keep = math.exp(-drag * h)
    for i in prange(n):
        vx, vy, vz = float(speed[i, 0]), float(speed[i, 1]), speed[i, 2] - h
        fast = math.sqrt(vx * vx + vy * vy + vz * vz)
        f = keep * v_most / fast if fast > v_most else keep
        speed[i, 0], speed[i, 1], speed[i, 2] = f * vx, f * vy, f * vz
        wx, wy, wz = keep * speed[i, 3], keep * speed[i, 4], keep * speed[i, 5]
        speed[i, 3], speed[i, 4], speed[i, 5] = wx, wy, wz
        quick[i] = f * fast + lever[i] * math.sqrt(wx * wx + wy * wy + wz * wz) + 2.0 * h
        for a in range(6):
            shove[i, a] = 0.0
        ax, ay, az = rotated(q, i, 1.0, 0.0, 0.0)
        bx, by, bz = rotated(q, i, 0.0, 1.0, 0.0)
        cx, cy, cz = rotated(q, i, 0.0, 0.0, 1.0)
        ja, jb, jc = inv_local[i, 0], inv_local[i, 1], inv_local[i, 2]
        ease[i, 1] = ja * ax * ax + jb * bx * bx + jc * cx * cx
        ease[i, 2] = ja * ay * ay + jb * by * by + jc * cy * cy
        ease[i, 3] = ja * az * az + jb * bz * bz + jc * cz * cz
        ease[i, 4] = ja * ax * ay + jb * bx * by + jc * cx * cy
        ease[i, 5] = ja * ax * az + jb * bx * bz + jc * cx * cz
        ease[i, 6] = ja * ay * az + jb * by * bz + jc * cy * cz


@njit(cache=True, parallel=True, error_model="numpy")
def move(n, x, q, speed, shove, moved, turned, quick, spent, h):
    """Step positions and directions; add up how far each has gone since the last pair search."""
    for i in prange(n):
        for a in range(3):
            dx = h * (float(speed[i, a]) + float(shove[i, a]))
            x[i, a] += dx
            moved[i, a] += dx
        spent[i] += h * quick[i]
        hx = 0.5 * h * (float(speed[i, 3]) + float(shove[i, 3]))
        hy = 0.5 * h * (float(speed[i, 4]) + float(shove[i, 4]))
        hz = 0.5 * h * (float(speed[i, 5]) + float(shove[i, 5]))
        turned[i] += 2.0 * math.sqrt(hx * hx + hy * hy + hz * hz)
        a0, b, c, d = q[i, 0], q[i, 1], q[i, 2], q[i, 3]
        n0 = a0 - hx * b - hy * c - hz * d
        n1 = b + hx * a0 + hy * d - hz * c
        n2 = c - hx * d + hy * a0 + hz * b
        n3 = d + hx * c - hy * b + hz * a0
        f = 1.0 / math.sqrt(n0 * n0 + n1 * n1 + n2 * n2 + n3 * n3)
        q[i, 0], q[i, 1], q[i, 2], q[i, 3] = n0 * f, n1 * f, n2 * f, n3 * f


@njit(cache=True, error_model="numpy")
def overtravel(n, moved, turned, lever, extra):
    """Most by which the surface of a piece can have gone beyond its allowance since the search."""
    most = -1.0
    for i in range(n):
        far = math.sqrt(moved[i, 0] ** 2 + moved[i, 1] ** 2 + moved[i, 2] ** 2)
        most = max(most, far + turned[i] * lever[i] - extra[i])
    return most


@njit(cache=True, error_model="numpy")
def overspent(n, quick, spent, margin, h):
    """Most by which a piece can in this step go farther than was allowed for."""
    most = -1.0
    for i in range(n):
        most = max(most, spent[i] + h * quick[i] - margin[i])
    return most


@njit(cache=True, error_model="numpy")
def energies(n, x, speed, ease, inv_local):
    """Kinetic (moving and turning) and potential energy of the first ``n`` grains; g = 1."""
    kinetic, potential, mass = 0.0, 0.0, 0.0
    for i in range(n):
        m = 1.0 / ease[i, 0]
        # The turning part with the mean moment: it serves the test of rest only.
        mean = 3.0 / (inv_local[i, 0] + inv_local[i, 1] + inv_local[i, 2])
        for a in range(3):
            kinetic += 0.5 * m * float(speed[i, a]) ** 2 + 0.5 * mean * float(speed[i, 3 + a]) ** 2
        potential += m * x[i, 2]
        mass += m
    return kinetic / mass, potential / mass
