"""Compiled search for what may touch: slabs, cells, and the list of near parts of near grains.

The bed is cut into level slabs at least one interaction range thick.  A pair is owned by the grain
in the lower slab, so that all pairs owned by one slab move grains of that slab and the next only:
every second slab can be worked on at once, and the result does not depend on how many threads do.
"""

import numpy as np
from numba import njit, prange

from nearmark.packing.kernel_gather import fetch_rows
from nearmark.packing.kernel_geometry import wall_distance
from nearmark.packing.kernel_lanes import GAP, SPARE, L
from nearmark.packing.kernel_place import APART, OTHER_PART, OWN_PART, PLACE_ROOM, place_lanes

PARTS = 4
"""Columns of the table of pairs: grain, other grain (or -1 - wall), part, other part."""


ONE = np.float32(1)

CHUNKS = 64
"""Into which the grains are cut for the threads; each has its own room to work in."""

FINE = 2
"""Cells across a slab's thickness in x and y: finer ones hold fewer pieces that are too far."""


@njit(cache=True, error_model="numpy")
def slabs_and_cells(x, n, thick):
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
        counts[a] = max(1, int((most - least) / thick * (FINE if a < 2 else 1)) + 1)
    nx, ny, nz = counts[0], counts[1], counts[2]
    cell_of = np.empty(n, np.int64)
    slab_start = np.zeros(nz + 1, np.int64)
    cell_start = np.zeros(nx * ny * nz + 1, np.int64)
    for i in range(n):
        cx = min(nx - 1, int((x[i, 0] - lo[0]) / thick * FINE))
        cy = min(ny - 1, int((x[i, 1] - lo[1]) / thick * FINE))
        cz = min(nz - 1, int((x[i, 2] - lo[2]) / thick))
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
        cz = cell_of[i] // (nx * ny)
        by_slab[slab_fill[cz]] = i
        slab_fill[cz] += 1
        by_cell[cell_fill[cell_of[i]]] = i
        cell_fill[cell_of[i]] += 1
    return counts, by_slab, slab_start, cell_of, by_cell, cell_start


@njit(cache=True, error_model="numpy")
def _near_walls(i, bed, n_parts, reach, skin, found):
    """Write the ends of parts near a wall; returns how many."""
    x, parts, vessel = bed
    m = 0
    px, py, pz = x[i, 0], x[i, 1], x[i, 2]
    for slot in range(3):
        # Above the rounded edge a piece that is far from a wall as a whole has no part near it.
        if (
            pz - reach[i] > vessel[3]
            and wall_distance(vessel, slot, px, py, pz)[0] - reach[i] >= skin
        ):
            continue
        for k in range(n_parts):
            row = i * n_parts + k
            ball = parts[row, 3] == 0.0 and parts[row, 4] == 0.0 and parts[row, 5] == 0.0
            for end in range(1 if ball else 2):
                f = 2.0 * end - 1.0
                ax = px + parts[row, 0] + f * parts[row, 3]
                ay = py + parts[row, 1] + f * parts[row, 4]
                az = pz + parts[row, 2] + f * parts[row, 5]
                if wall_distance(vessel, slot, ax, ay, az)[0] - parts[row, 6] < skin:
                    if m < found.shape[0]:
                        found[m, 0], found[m, 1], found[m, 2], found[m, 3] = i, -1 - slot, k, end
                    m += 1
    return m


@njit(cache=True, error_model="numpy")
def _part_is_far(row, dx, dy, dz, far, parts):
    """Whether a part is ``far`` off the point from which its piece's centre is so far."""
    dx, dy, dz = dx + parts[row, 0], dy + parts[row, 1], dz + parts[row, 2]
    hx, hy, hz = parts[row, 3], parts[row, 4], parts[row, 5]
    along = dx * hx + dy * hy + dz * hz
    s = min(1.0, max(-1.0, -along / (hx * hx + hy * hy + hz * hz + 1e-12)))
    dx, dy, dz = dx + s * hx, dy + s * hy, dz + s * hz
    return dx * dx + dy * dy + dz * dz >= far * far


@njit(cache=True, error_model="numpy")
def _near_of_eight(waiting, w, who, names, x, parts, n_parts, skin, extra, m, found):
    """Write those of the waiting pairs of parts that are near; returns the next row."""
    for l in range(waiting):
        i, j = names[l, 0], names[l, 1]
        who[0, l], who[0, L + l] = i * n_parts + names[l, 2], j * n_parts + names[l, 3]
        for a in range(3):
            w[APART + a * L + l] = x[i, a] - x[j, a]
    fetch_rows(parts, who, 0, w, OWN_PART)
    fetch_rows(parts, who, L, w, OTHER_PART)
    place_lanes(w, ONE)
    for l in range(waiting):
        if w[GAP + l] < skin + extra[names[l, 0]] + extra[names[l, 1]]:
            if m < found.shape[0]:
                for a in range(PARTS):
                    found[m, a] = names[l, a]
            m += 1
    return m


@njit(cache=True, error_model="numpy")
def _sort_by_other(found, first, end):
    """Insertion sort by the other grain: the order then does not hang on where the cells lie."""
    for a in range(first + 1, end):
        j, k, l = found[a, 1], found[a, 2], found[a, 3]
        b = a - 1
        while b >= first and found[b, 1] > j:
            for c in range(1, PARTS):
                found[b + 1, c] = found[b, c]
            b -= 1
        found[b + 1, 1], found[b + 1, 2], found[b + 1, 3] = j, k, l


@njit(cache=True, error_model="numpy")
def _near_pieces(i, x, reach, extra, cells, near):
    """Note which places in cell order hold pieces near piece ``i`` that do not own the pair.

    Written without a branch, which would be guessed wrong half of the time.
    """
    counts, cell_of, by_cell, cell_start, in_order = cells
    nx, ny, nz = counts[0], counts[1], counts[2]
    c = cell_of[i]
    cx, cy, cz = c % nx, (c // nx) % ny, c // (nx * ny)
    px, py, pz, own = x[i, 0], x[i, 1], x[i, 2], reach[i] + extra[i]
    n_near = 0
    # Those of a lower slab own their pairs with this one.
    for z in range(cz, min(nz, cz + 2)):
        above = z > cz
        for y in range(max(0, cy - FINE), min(ny, cy + FINE + 1)):
            first = (z * ny + y) * nx
            lo = cell_start[first + max(0, cx - FINE)]
            hi = cell_start[first + min(nx - 1, cx + FINE) + 1]
            for b in range(lo, hi):
                dx, dy, dz = px - in_order[b, 0], py - in_order[b, 1], pz - in_order[b, 2]
                far = in_order[b, 3] + own
                near[n_near] = b
                n_near += int(
                    (dx * dx + dy * dy + dz * dz < far * far) & (above | (by_cell[b] > i))
                )
    return n_near


@njit(cache=True, error_model="numpy")
def _parts_near(i, x, parts, n_parts, extra, cells, near, n_near, near_k):
    """Of the near pieces note those, and the part, that are near a part of piece ``i``."""
    in_order = cells[4]
    px, py, pz = x[i, 0], x[i, 1], x[i, 2]
    n = 0
    for e in range(n_near):
        b = near[e]
        dx, dy, dz = px - in_order[b, 0], py - in_order[b, 1], pz - in_order[b, 2]
        for k in range(n_parts):
            row = i * n_parts + k
            near_k[n] = b * n_parts + k
            far = parts[row, 6] + in_order[b, 3] + extra
            n += int(not _part_is_far(row, dx, dy, dz, far, parts))
    return n


@njit(cache=True, error_model="numpy")
def _near_parts_of(i, bed, n_parts, reach, skin, extra, are_balls, cells, lanes, found):
    """Write the rows owned by grain ``i``; sorted by the other grain's index.  Returns how many."""
    x, parts = bed[0], bed[1]
    w, who, names, near, near_k = lanes
    by_cell = cells[2]
    walls = m = _near_walls(i, bed, n_parts, reach, skin + extra[i], found)
    n_near = _near_pieces(i, x, reach, extra, cells, near)
    if are_balls:
        for e in range(min(n_near, found.shape[0] - m)):
            found[m + e, 0], found[m + e, 1] = i, by_cell[near[e]]
            found[m + e, 2], found[m + e, 3] = 0, 0
        m += n_near
    else:
        waiting = 0
        for e in range(_parts_near(i, x, parts, n_parts, extra[i], cells, near, n_near, near_k)):
            j, k = by_cell[near_k[e] // n_parts], near_k[e] % n_parts
            for l in range(n_parts):
                names[waiting, 0], names[waiting, 1] = i, j
                names[waiting, 2], names[waiting, 3] = k, l
                waiting += 1
                if waiting == L:
                    m = _near_of_eight(L, w, who, names, x, parts, n_parts, skin, extra, m, found)
                    waiting = 0
        m = _near_of_eight(waiting, w, who, names, x, parts, n_parts, skin, extra, m, found)
    _sort_by_other(found, walls, min(m, found.shape[0]))
    return m


@njit(cache=True, parallel=True, error_model="numpy")
def near_pairs(n, bed, reach, skin, extra, are_balls, room):
    """The table of pairs in slab order, where each grain's rows begin, and the slabs.

    ``room`` holds the rows of each grain at first; the last entry returned is what it needs.
    """
    x, parts = bed[0], bed[1]
    n_parts = (parts.shape[0] - SPARE) // (x.shape[0] - SPARE)
    widest = 0.0
    for i in range(n):
        widest = max(widest, reach[i] + extra[i])
    counts, by_slab, slab_start, cell_of, by_cell, cell_start = slabs_and_cells(
        x, n, 2.0 * widest + skin
    )
    in_order = np.empty((n, 4))
    for b in prange(n):
        for a in range(3):
            in_order[b, a] = x[by_cell[b], a]
        in_order[b, 3] = reach[by_cell[b]] + extra[by_cell[b]] + skin
    cells = (counts, cell_of, by_cell, cell_start, in_order)
    most = room.shape[1]
    n_rows = np.zeros(n, np.int64)
    for chunk in prange(CHUNKS):
        w, who = np.zeros(PLACE_ROOM, np.float32), np.zeros((1, 2 * L), np.uint32)
        names = np.zeros((L, PARTS), np.int32)
        near, near_k = np.empty(n + 1, np.int32), np.empty(n * n_parts + 1, np.int32)
        for b in range(chunk * n // CHUNKS, (chunk + 1) * n // CHUNKS):
            n_rows[b] = _near_parts_of(
                by_slab[b], bed, n_parts, reach, skin, extra, are_balls, cells,
                (w, who, names, near, near_k), room[b],
            )  # fmt: skip
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
def carried_impulses(pairs, impulses, old_pairs, old_impulses, old_lo, old_hi):
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
            impulses[c, 0] = old_impulses[found, 0]
            for a in range(1, 4):
                impulses[c, a] = sign * old_impulses[found, a]
