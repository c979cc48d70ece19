"""Compiled search for what may touch: slabs, cells, and the list of near parts of near grains.

The bed is cut into level slabs at least one interaction range thick.  A pair is owned by the grain
in the lower slab, so that all pairs owned by one slab move grains of that slab and the next only:
every second slab can be worked on at once, and the result does not depend on how many threads do.
"""

import numpy as np
from numba import njit, prange

from nearmark.packing.kernel_geometry import nearest_parameters, wall_distance

PARTS = 4
"""Columns of the table of pairs: grain, other grain (or -1 - wall), part, other part."""


@njit(cache=True, error_model="numpy")
def slabs_and_cells(x, n, cell):
    """Sort grains by slab, and by cell; both stable, so by index within."""
    lo = np.empty(3)
    counts = np.empty(3, np.int64)
    for a in range(3):
        least = x[0, a]
        most = x[0, a]
        for i in range(n):
            least = min(least, x[i, a])
            most = max(most, x[i, a])
        lo[a] = least
        counts[a] = max(1, int((most - least) / cell) + 1)
    nx, ny, nz = counts[0], counts[1], counts[2]
    slab = np.empty(n, np.int64)
    cell_of = np.empty(n, np.int64)
    slab_start = np.zeros(nz + 1, np.int64)
    cell_start = np.zeros(nx * ny * nz + 1, np.int64)
    for i in range(n):
        cx = min(nx - 1, int((x[i, 0] - lo[0]) / cell))
        cy = min(ny - 1, int((x[i, 1] - lo[1]) / cell))
        cz = min(nz - 1, int((x[i, 2] - lo[2]) / cell))
        slab[i] = cz
        cell_of[i] = (cz * ny + cy) * nx + cx
        slab_start[cz + 1] += 1
        cell_start[cell_of[i] + 1] += 1
    for k in range(nz):
        slab_start[k + 1] += slab_start[k]
    for k in range(nx * ny * nz):
        cell_start[k + 1] += cell_start[k]
    by_slab = np.empty(n, np.int64)
    by_cell = np.empty(n, np.int64)
    slab_fill = slab_start[:-1].copy()
    cell_fill = cell_start[:-1].copy()
    for i in range(n):
        by_slab[slab_fill[slab[i]]] = i
        slab_fill[slab[i]] += 1
        by_cell[cell_fill[cell_of[i]]] = i
        cell_fill[cell_of[i]] += 1
    return counts, slab, by_slab, slab_start, cell_of, by_cell, cell_start


@njit(cache=True, error_model="numpy")
def near_parts_of(i, x, p0, p1, radius, size, reach, skin, vessel, slab, cells, found):
    """Write the rows owned by grain ``i``; sorted by the other grain's index.  Returns how many."""
    counts, cell_of, by_cell, cell_start = cells
    nx, ny, nz = counts[0], counts[1], counts[2]
    n_parts = radius.shape[0]
    m = 0
    for k in range(n_parts):
        r = radius[k] * size[i]
        for end in range(2):
            p = p0 if end == 0 else p1
            ax, ay, az = p[i, k, 0], p[i, k, 1], p[i, k, 2]
            if end == 1 and ax == p0[i, k, 0] and ay == p0[i, k, 1] and az == p0[i, k, 2]:
                break
            for slot in range(3):
                if wall_distance(vessel, slot, ax, ay, az)[0] - r < skin:
                    if m < found.shape[0]:
                        found[m, 0], found[m, 1], found[m, 2], found[m, 3] = i, -1 - slot, k, end
                    m += 1
    walls = m
    c = cell_of[i]
    cx, cy, cz = c % nx, (c // nx) % ny, c // (nx * ny)
    for z in range(max(0, cz - 1), min(nz, cz + 2)):
        for y in range(max(0, cy - 1), min(ny, cy + 2)):
            first = (z * ny + y) * nx
            lo = cell_start[first + max(0, cx - 1)]
            hi = cell_start[first + min(nx - 1, cx + 1) + 1]
            for b in range(lo, hi):
                j = by_cell[b]
                if slab[j] < slab[i] or (slab[j] == slab[i] and j <= i):
                    continue
                far = reach[i] + reach[j] + skin
                dx, dy, dz = x[i, 0] - x[j, 0], x[i, 1] - x[j, 1], x[i, 2] - x[j, 2]
                if dx * dx + dy * dy + dz * dz >= far * far:
                    continue
                for k in range(n_parts):
                    for l in range(n_parts):
                        near = radius[k] * size[i] + radius[l] * size[j] + skin
                        if n_parts > 1 or reach[i] > radius[0] * size[i]:
                            ax, ay, az = p0[i, k, 0], p0[i, k, 1], p0[i, k, 2]
                            bx, by, bz = p0[j, l, 0], p0[j, l, 1], p0[j, l, 2]
                            ux, uy, uz = p1[i, k, 0] - ax, p1[i, k, 1] - ay, p1[i, k, 2] - az
                            wx, wy, wz = p1[j, l, 0] - bx, p1[j, l, 1] - by, p1[j, l, 2] - bz
                            s, t = nearest_parameters(
                                ax, ay, az, ux, uy, uz, bx, by, bz, wx, wy, wz
                            )
                            dx = ax + s * ux - bx - t * wx
                            dy = ay + s * uy - by - t * wy
                            dz = az + s * uz - bz - t * wz
                            d2 = dx * dx + dy * dy + dz * dz
                            if d2 >= near * near:
                                continue
                        if m < found.shape[0]:
                            found[m, 0], found[m, 1], found[m, 2], found[m, 3] = i, j, k, l
                        m += 1
    # Insertion sort by the other grain: the order then does not depend on where the cells lie.
    for a in range(walls + 1, min(m, found.shape[0])):
        j, k, l = found[a, 1], found[a, 2], found[a, 3]
        b = a - 1
        while b >= walls and found[b, 1] > j:
            found[b + 1, 1], found[b + 1, 2], found[b + 1, 3] = (
                found[b, 1],
                found[b, 2],
                found[b, 3],
            )
            b -= 1
        found[b + 1, 1], found[b + 1, 2], found[b + 1, 3] = j, k, l
    return m


@njit(cache=True, parallel=True, error_model="numpy")
def near_pairs(x, n, p0, p1, radius, size, reach, skin, vessel, most):
    """The table of pairs in slab order, where each grain's rows begin, and the slabs.

    ``most`` is the room kept for one grain's rows; the last entry returned is the room needed.
    """
    widest = 0.0
    for i in range(n):
        widest = max(widest, reach[i])
    counts, slab, by_slab, slab_start, cell_of, by_cell, cell_start = slabs_and_cells(
        x, n, 2.0 * widest + skin
    )
    cells = (counts, cell_of, by_cell, cell_start)
    room = np.empty((n, most, PARTS), np.int32)
    n_rows = np.zeros(n, np.int64)
    for b in prange(n):
        n_rows[b] = near_parts_of(
            by_slab[b], x, p0, p1, radius, size, reach, skin, vessel, slab, cells, room[b]
        )
    start = np.zeros(n + 1, np.int64)
    needed = 0
    for b in range(n):
        needed = max(needed, n_rows[b])
        start[b + 1] = start[b] + min(n_rows[b], most)
    pairs = np.empty((start[n], PARTS), np.int32)
    for b in prange(n):
        for m in range(start[b + 1] - start[b]):
            for a in range(PARTS):
                pairs[start[b] + m, a] = room[b, m, a]
    return pairs, start, by_slab, slab_start, needed


@njit(cache=True, error_model="numpy")
def _find(pairs, lo, hi, j, k, l):
    for c in range(lo, hi):
        if pairs[c, 1] == j and pairs[c, 2] == k and pairs[c, 3] == l:
            return c
    return -1


@njit(cache=True, parallel=True, error_model="numpy")
def carried_impulses(pairs, contacts, old_pairs, old_contacts, old_lo, old_hi):
    """Copy the impulses of pairs that were known before, whichever of the two owned them."""
    n_old = old_lo.shape[0]
    for c in prange(pairs.shape[0]):
        i, j, k, l = pairs[c, 0], pairs[c, 1], pairs[c, 2], pairs[c, 3]
        sign = 1.0
        found = -1
        if i < n_old:
            found = _find(old_pairs, old_lo[i], old_hi[i], j, k, l)
        if found < 0 and 0 <= j < n_old:
            found = _find(old_pairs, old_lo[j], old_hi[j], i, l, k)
            sign = -1.0
        if found >= 0:
            contacts[c, 0] = old_contacts[found, 0]
            for a in range(1, 4):
                contacts[c, a] = sign * old_contacts[found, a]
