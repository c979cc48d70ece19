"""Compiled contact solver: impulses that stop overlap and slip, kept from step to step.

Contacts are hard, without rebound, with Coulomb friction.  The impulses of the last step are the
first guess of the next, so that a deep bed carries its weight with few sweeps a step.  Overlap is
undone by a second velocity ("shove") that moves grains and is then forgotten: no energy is added
but the weight that it lifts.

One row of ``body`` per grain, one row of ``rows`` per near pair; the columns are named below.
"""

import math

from numba import njit, prange

from nearmark.packing.kernel_geometry import nearest_parameters, wall_distance

VELOCITY, SHOVE, INV_MASS, INV_INERTIA, BODY_COLUMNS = 0, 6, 12, 13, 20
"""Velocity and spin; shove and its spin; 1/mass; 1/inertia in the world (xx yy zz xy xz yz)."""

NORMAL_IMPULSE, IMPULSE_X, NORMAL, LEVER, OTHER_LEVER, GAP = 0, 1, 4, 7, 10, 13
MASS_ALONG, MASS_ACROSS, LEAST_ACROSS, CONTACT_COLUMNS = 14, 15, 21, 22
"""Impulse along the normal and across (3), normal towards the owner, levers (3 + 3), gap, mass
along the normal, mass across it as a matrix (xx yy zz xy xz yz) that knows no normal part, and the
least mass across."""


NEAR = 0.005
"""Gap beyond what the speeds can close in a step at which a pair is still solved, widths."""


@njit(cache=True, inline="always", error_model="numpy")
def _turned(b, i, x, y, z):
    return (
        b[i, 13] * x + b[i, 16] * y + b[i, 17] * z,
        b[i, 16] * x + b[i, 14] * y + b[i, 18] * z,
        b[i, 17] * x + b[i, 18] * y + b[i, 15] * z,
    )


@njit(cache=True, inline="always", error_model="numpy")
def _ease(b, i, rx, ry, rz, nx, ny, nz):
    """Velocity along n at lever r that a unit impulse along n gives."""
    cx, cy, cz = ry * nz - rz * ny, rz * nx - rx * nz, rx * ny - ry * nx
    tx, ty, tz = _turned(b, i, cx, cy, cz)
    return b[i, 12] + cx * tx + cy * ty + cz * tz


@njit(cache=True, inline="always", error_model="numpy")
def _ease_pair(b, i, rx, ry, rz, ax, ay, az, bx, by, bz):
    """Velocities along a and b that an impulse along a gives, and along b that one along b does."""
    cx, cy, cz = ry * az - rz * ay, rz * ax - rx * az, rx * ay - ry * ax
    dx, dy, dz = ry * bz - rz * by, rz * bx - rx * bz, rx * by - ry * bx
    tx, ty, tz = _turned(b, i, cx, cy, cz)
    ux, uy, uz = _turned(b, i, dx, dy, dz)
    return (
        b[i, 12] + cx * tx + cy * ty + cz * tz,
        dx * tx + dy * ty + dz * tz,
        b[i, 12] + dx * ux + dy * uy + dz * uz,
    )


@njit(cache=True, inline="always", error_model="numpy")
def _mass_across(c, i, j, rows, body):
    """Inverse of how two pieces give way to impulses across the normal."""
    nx, ny, nz = rows[c, 4], rows[c, 5], rows[c, 6]
    if abs(nz) < 0.7:
        f = 1.0 / math.sqrt(nx * nx + ny * ny)
        ax, ay, az = ny * f, -nx * f, 0.0
    else:
        f = 1.0 / math.sqrt(ny * ny + nz * nz)
        ax, ay, az = 0.0, nz * f, -ny * f
    bx, by, bz = ny * az - nz * ay, nz * ax - nx * az, nx * ay - ny * ax
    aa, ab, bb = _ease_pair(body, i, rows[c, 7], rows[c, 8], rows[c, 9], ax, ay, az, bx, by, bz)
    if j >= 0:
        oa, ob, oc = _ease_pair(
            body, j, rows[c, 10], rows[c, 11], rows[c, 12], ax, ay, az, bx, by, bz
        )
        aa, ab, bb = aa + oa, ab + ob, bb + oc
    half = 0.5 * (aa - bb)
    rows[c, 21] = 1.0 / (0.5 * (aa + bb) + math.sqrt(half * half + ab * ab))
    f = 1.0 / (aa * bb - ab * ab)
    aa, ab, bb = bb * f, -ab * f, aa * f
    rows[c, 15] = aa * ax * ax + 2.0 * ab * ax * bx + bb * bx * bx
    rows[c, 16] = aa * ay * ay + 2.0 * ab * ay * by + bb * by * by
    rows[c, 17] = aa * az * az + 2.0 * ab * az * bz + bb * bz * bz
    rows[c, 18] = aa * ax * ay + ab * (ax * by + bx * ay) + bb * bx * by
    rows[c, 19] = aa * ax * az + ab * (ax * bz + bx * az) + bb * bx * bz
    rows[c, 20] = aa * ay * az + ab * (ay * bz + by * az) + bb * by * bz


@njit(cache=True, inline="always", error_model="numpy")
def _push(b, i, at, rx, ry, rz, px, py, pz):
    m = b[i, 12]
    b[i, at] += m * px
    b[i, at + 1] += m * py
    b[i, at + 2] += m * pz
    tx, ty, tz = _turned(b, i, ry * pz - rz * py, rz * px - rx * pz, rx * py - ry * px)
    b[i, at + 3] += tx
    b[i, at + 4] += ty
    b[i, at + 5] += tz


@njit(cache=True, inline="always", error_model="numpy")
def _speed(b, i, at, rx, ry, rz):
    return (
        b[i, at] + b[i, at + 4] * rz - b[i, at + 5] * ry,
        b[i, at + 1] + b[i, at + 5] * rx - b[i, at + 3] * rz,
        b[i, at + 2] + b[i, at + 3] * ry - b[i, at + 4] * rx,
    )


@njit(cache=True, inline="always", error_model="numpy")
def _place(c, pairs, rows, x, p0, p1, radius, size, vessel, reach_of_step):
    """Normal, levers and gap of one pair where it stands; False if too far apart to matter."""
    i, j, k, e = pairs[c, 0], pairs[c, 1], pairs[c, 2], pairs[c, 3]
    ri = radius[k] * size[i]
    if j < 0:
        if e == 0:
            ax, ay, az = p0[i, k, 0], p0[i, k, 1], p0[i, k, 2]
        else:
            ax, ay, az = p1[i, k, 0], p1[i, k, 1], p1[i, k, 2]
        d, nx, ny, nz = wall_distance(vessel, -1 - j, ax, ay, az)
        if d - ri > reach_of_step:
            return False
        rows[c, 13] = d - ri
        rows[c, 4], rows[c, 5], rows[c, 6] = nx, ny, nz
        rows[c, 7], rows[c, 8], rows[c, 9] = (
            ax - d * nx - x[i, 0],
            ay - d * ny - x[i, 1],
            az - d * nz - x[i, 2],
        )
        return True
    rj = radius[e] * size[j]
    ax, ay, az = p0[i, k, 0], p0[i, k, 1], p0[i, k, 2]
    bx, by, bz = p0[j, e, 0], p0[j, e, 1], p0[j, e, 2]
    ux, uy, uz = p1[i, k, 0] - ax, p1[i, k, 1] - ay, p1[i, k, 2] - az
    wx, wy, wz = p1[j, e, 0] - bx, p1[j, e, 1] - by, p1[j, e, 2] - bz
    s, t = nearest_parameters(ax, ay, az, ux, uy, uz, bx, by, bz, wx, wy, wz)
    ax, ay, az = ax + s * ux, ay + s * uy, az + s * uz
    bx, by, bz = bx + t * wx, by + t * wy, bz + t * wz
    nx, ny, nz = ax - bx, ay - by, az - bz
    d2 = nx * nx + ny * ny + nz * nz
    far = ri + rj + reach_of_step
    if d2 > far * far:
        return False
    d = math.sqrt(d2)
    if d > 1e-9:
        nx, ny, nz = nx / d, ny / d, nz / d
    else:
        nx, ny, nz = 0.0, 0.0, 1.0
    gap = d - ri - rj
    rows[c, 13] = gap
    rows[c, 4], rows[c, 5], rows[c, 6] = nx, ny, nz
    out = ri + 0.5 * gap
    rows[c, 7], rows[c, 8], rows[c, 9] = (
        ax - out * nx - x[i, 0],
        ay - out * ny - x[i, 1],
        az - out * nz - x[i, 2],
    )
    out = rj + 0.5 * gap
    rows[c, 10], rows[c, 11], rows[c, 12] = (
        bx + out * nx - x[j, 0],
        by + out * ny - x[j, 1],
        bz + out * nz - x[j, 2],
    )
    return True


@njit(cache=True, inline="always", error_model="numpy")
def _prepare_one(c, pairs, rows, x, p0, p1, radius, size, vessel, body, quick, h):
    """Place a contact and give it last step's impulse.  Returns whether it is to be solved."""
    i, j = pairs[c, 0], pairs[c, 1]
    fast = quick[i]
    if j >= 0:
        fast += quick[j]
    if not _place(c, pairs, rows, x, p0, p1, radius, size, vessel, NEAR + h * fast):
        rows[c, 0] = 0.0
        rows[c, 1] = 0.0
        rows[c, 2] = 0.0
        rows[c, 3] = 0.0
        rows[c, 13] = 1.0
        return False
    nx, ny, nz = rows[c, 4], rows[c, 5], rows[c, 6]
    rx, ry, rz = rows[c, 7], rows[c, 8], rows[c, 9]
    ease = _ease(body, i, rx, ry, rz, nx, ny, nz)
    if j >= 0:
        ease += _ease(body, j, rows[c, 10], rows[c, 11], rows[c, 12], nx, ny, nz)
    rows[c, 14] = 1.0 / ease
    _mass_across(c, i, j, rows, body)
    f = rows[c, 0]
    if f > 0.0:
        tx, ty, tz = rows[c, 1], rows[c, 2], rows[c, 3]
        along = tx * nx + ty * ny + tz * nz
        tx, ty, tz = tx - along * nx, ty - along * ny, tz - along * nz
        rows[c, 1], rows[c, 2], rows[c, 3] = tx, ty, tz
        px, py, pz = f * nx + tx, f * ny + ty, f * nz + tz
        _push(body, i, 0, rx, ry, rz, px, py, pz)
        if j >= 0:
            _push(body, j, 0, rows[c, 10], rows[c, 11], rows[c, 12], -px, -py, -pz)
    return True


@njit(cache=True, error_model="numpy")
def shares_of_slabs(load, n_shares, bounds):
    """Cut the even and the odd slabs into shares of about the same load, one for each thread.

    Row p of ``bounds`` tells where each share of the slabs p, p + 2, p + 4 ... begins.
    """
    for parity in range(2):
        total = 0
        for s in range(parity, load.shape[0], 2):
            total += load[s]
        bounds[parity, 0] = 0
        done, half = 0, 0
        for share in range(n_shares):
            s = 2 * half + parity
            while s < load.shape[0] and (
                share == n_shares - 1 or (done + load[s] // 2) * n_shares <= total * (share + 1)
            ):
                done += load[s]
                half += 1
                s += 2
            bounds[parity, share + 1] = half


@njit(cache=True, parallel=True, error_model="numpy")
def prepare(
    pairs,
    rows,
    row_start,
    slab_start,
    x,
    p0,
    p1,
    radius,
    size,
    vessel,
    body,
    quick,
    h,
    todo,
    n_todo,
    bounds,
):
    """Place all contacts, apply kept impulses, list those to be solved."""
    n_shares = bounds.shape[1] - 1
    for parity in range(2):
        for share in prange(n_shares):
            for half in range(bounds[parity, share], bounds[parity, share + 1]):
                s = 2 * half + parity
                m = row_start[slab_start[s]]
                for c in range(m, row_start[slab_start[s + 1]]):
                    if _prepare_one(
                        c, pairs, rows, x, p0, p1, radius, size, vessel, body, quick, h
                    ):
                        todo[m] = c
                        m += 1
                n_todo[s] = m


@njit(cache=True, inline="always", error_model="numpy")
def _solve_one(c, i, j, rows, body, mu, h, push_rate, slop):
    nx, ny, nz = rows[c, 4], rows[c, 5], rows[c, 6]
    rx, ry, rz = rows[c, 7], rows[c, 8], rows[c, 9]
    sx, sy, sz = rows[c, 10], rows[c, 11], rows[c, 12]
    gap, mass = rows[c, 13], rows[c, 14]
    ux, uy, uz = _speed(body, i, 0, rx, ry, rz)
    if j >= 0:
        bx, by, bz = _speed(body, j, 0, sx, sy, sz)
        ux, uy, uz = ux - bx, uy - by, uz - bz
    un = ux * nx + uy * ny + uz * nz
    old = rows[c, 0]
    new = max(0.0, old - (un + max(0.0, gap) / h) * mass)
    if new > 0.0 or old > 0.0:
        rows[c, 0] = new
        ox, oy, oz = rows[c, 1], rows[c, 2], rows[c, 3]
        xy, xz, yz = rows[c, 18], rows[c, 19], rows[c, 20]
        tx = ox - (rows[c, 15] * ux + xy * uy + xz * uz)
        ty = oy - (xy * ux + rows[c, 16] * uy + yz * uz)
        tz = oz - (xz * ux + yz * uy + rows[c, 17] * uz)
        pull2, most = tx * tx + ty * ty + tz * tz, mu * new
        if pull2 > most * most:
            # It slips: friction then points against the slip, or it would drive what it brakes.
            f = rows[c, 21]
            tx = ox - f * (ux - un * nx)
            ty = oy - f * (uy - un * ny)
            tz = oz - f * (uz - un * nz)
            pull2 = tx * tx + ty * ty + tz * tz
            if pull2 > most * most:
                f = most / math.sqrt(pull2)
                tx, ty, tz = tx * f, ty * f, tz * f
        rows[c, 1], rows[c, 2], rows[c, 3] = tx, ty, tz
        f = new - old
        px, py, pz = f * nx + tx - ox, f * ny + ty - oy, f * nz + tz - oz
        _push(body, i, 0, rx, ry, rz, px, py, pz)
        if j >= 0:
            _push(body, j, 0, sx, sy, sz, -px, -py, -pz)
    if gap < -slop:
        ux, uy, uz = _speed(body, i, 6, rx, ry, rz)
        if j >= 0:
            bx, by, bz = _speed(body, j, 6, sx, sy, sz)
            ux, uy, uz = ux - bx, uy - by, uz - bz
        p = (push_rate * (-gap - slop) / h - (ux * nx + uy * ny + uz * nz)) * mass
        if p > 0.0:
            _push(body, i, 6, rx, ry, rz, p * nx, p * ny, p * nz)
            if j >= 0:
                _push(body, j, 6, sx, sy, sz, -p * nx, -p * ny, -p * nz)


@njit(cache=True, parallel=True, error_model="numpy")
def sweep(
    pairs,
    rows,
    row_start,
    slab_start,
    todo,
    n_todo,
    bounds,
    body,
    mu_grain,
    mu_wall,
    h,
    push_rate,
    slop,
    backwards,
):
    """Solve each contact once, up the bed or down it."""
    n_shares = bounds.shape[1] - 1
    for turn in range(2):
        parity = 1 - turn if backwards else turn
        for share in prange(n_shares):
            for half in range(bounds[parity, share], bounds[parity, share + 1]):
                s = 2 * half + parity
                first = row_start[slab_start[s]]
                count = n_todo[s] - first
                for e in range(count):
                    c = todo[first + count - 1 - e] if backwards else todo[first + e]
                    j = pairs[c, 1]
                    mu = mu_grain if j >= 0 else mu_wall
                    _solve_one(c, pairs[c, 0], j, rows, body, mu, h, push_rate, slop)
