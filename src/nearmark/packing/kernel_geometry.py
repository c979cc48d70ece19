"""Compiled geometry of grains and walls: rotations, nearest points of capsules, walls of a vessel.

Lengths are in grain widths.  Every function here is inlined into the kernels that walk the bed.
"""

import math

from numba import njit


@njit(cache=True, inline="always", error_model="numpy")
def rotated(q, i, vx, vy, vz):
    """Turn a vector by the unit quaternion (w, x, y, z) in row i of q."""
    a, b, c, d = q[i, 0], q[i, 1], q[i, 2], q[i, 3]
    tx, ty, tz = 2.0 * (c * vz - d * vy), 2.0 * (d * vx - b * vz), 2.0 * (b * vy - c * vx)
    return (
        vx + a * tx + (c * tz - d * ty),
        vy + a * ty + (d * tx - b * tz),
        vz + a * tz + (b * ty - c * tx),
    )


@njit(cache=True, inline="always", error_model="numpy")
def nearest_parameters(ax, ay, az, ux, uy, uz, cx, cy, cz, vx, vy, vz):
    """Where along the segments from a by u and from c by v (0 to 1 each) the two are nearest."""
    wx, wy, wz = ax - cx, ay - cy, az - cz
    uu = ux * ux + uy * uy + uz * uz
    vv = vx * vx + vy * vy + vz * vz
    uw = ux * wx + uy * wy + uz * wz
    vw = vx * wx + vy * wy + vz * wz
    if uu < 1e-14:
        if vv < 1e-14:
            return 0.0, 0.0
        return 0.0, min(1.0, max(0.0, vw / vv))
    if vv < 1e-14:
        return min(1.0, max(0.0, -uw / uu)), 0.0
    uv = ux * vx + uy * vy + uz * vz
    det = uu * vv - uv * uv
    # Parallel grains touch along a line; its middle is the steadiest single point.
    s = min(1.0, max(0.0, (uv * vw - uw * vv) / det)) if det > 1e-9 * uu * vv else 0.5
    t = (uv * s + vw) / vv
    if t < 0.0:
        t = 0.0
        s = min(1.0, max(0.0, -uw / uu))
    elif t > 1.0:
        t = 1.0
        s = min(1.0, max(0.0, (uv - uw) / uu))
    return s, t


FAR = 1e9
"""Distance given for a wall that is not there, in grain widths."""


@njit(cache=True, inline="always", error_model="numpy")
def wall_distance(vessel, slot, x, y, z):
    """Distance of a point to one wall and the wall's normal into the vessel.

    ``vessel`` is (form, a, b, c): form 0 round with slope (a floor radius, b rise of the radius
    per height, c radius of the rounded bottom edge); form 1 a box (a, b half sides).
    Slot 0 is the floor, 1 and 2 the sides.
    """
    if slot == 0:
        if vessel[0] == 0.0 and vessel[3] > 0.0 and z < vessel[3]:
            r = math.sqrt(x * x + y * y)
            out = r - (vessel[1] - vessel[3])
            if out > 0.0:
                up = z - vessel[3]
                far = math.sqrt(out * out + up * up)
                return vessel[3] - far, -x / r * out / far, -y / r * out / far, -up / far
        return z, 0.0, 0.0, 1.0
    if vessel[0] == 1.0:
        if slot == 1:
            return vessel[1] - abs(x), (-1.0 if x > 0.0 else 1.0), 0.0, 0.0
        return vessel[2] - abs(y), 0.0, (-1.0 if y > 0.0 else 1.0), 0.0
    if slot == 2 or (vessel[3] > 0.0 and z < vessel[3]):
        return FAR, 0.0, 0.0, 1.0
    r = math.sqrt(x * x + y * y)
    if r < 1e-12:
        return FAR, 0.0, 0.0, 1.0
    flat = 1.0 / math.sqrt(1.0 + vessel[2] * vessel[2])
    return (
        (vessel[1] + vessel[2] * z - r) * flat,
        -x / r * flat,
        -y / r * flat,
        vessel[2] * flat,
    )
