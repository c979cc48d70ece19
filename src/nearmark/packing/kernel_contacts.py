"""Compiled contact solver: impulses that stop overlap and slip, kept from step to step.

Contacts are hard, without rebound, with Coulomb friction.  The impulses of the last step are the
first guess of the next, so that a deep bed carries its weight with few sweeps a step.  Overlap is
undone by a second velocity ("shove") that moves grains and is then forgotten: no energy is added
but the weight that it lifts.

Now and then the near pairs that can touch soon are dealt out to blocks of eight that move no piece
twice; a step places and solves block after block.  Every second slab is worked on at once.
"""

import numpy as np
from numba import njit, prange

from nearmark.packing.kernel_balls import (
    BALL_LEVER,
    BALL_LIGHT,
    BALL_OTHER,
    shove_balls,
    solve_balls,
    warm_balls,
)
from nearmark.packing.kernel_gather import fetch_rows, return_rows
from nearmark.packing.kernel_geometry import wall_distance
from nearmark.packing.kernel_lanes import (
    EASE,
    GAP,
    IMPULSE,
    LEVER,
    MASS,
    NEXT,
    NORMAL,
    OTHER,
    SPARE,
    SPEED,
    L,
    mass_lanes,
    shove_lanes,
    solve_lanes,
    warm_lanes,
)
from nearmark.packing.kernel_place import (
    APART,
    OTHER_PART,
    OWN_PART,
    PLACE_ROOM,
    place_balls,
    place_lanes,
)

ONE = np.float32(1)


@njit(cache=True, inline="always", error_model="numpy")
def _fetch(table, who, b, w, at):
    fetch_rows(table, who, 2 * L * b, w, at)
    fetch_rows(table, who, 2 * L * b + L, w, at + NEXT)


@njit(cache=True, inline="always", error_model="numpy")
def _return(table, who, b, w, at):
    return_rows(table, who, 2 * L * b, w, at)
    return_rows(table, who, 2 * L * b + L, w, at + NEXT)


@njit(cache=True, error_model="numpy")
def _place_wall(w, l, i, j, e, row, x, parts, vessel, are_balls, per_step):
    """Normal, gap and lever of an end of a part at a wall, for lane l."""
    side = -1.0 if e == 0 else 1.0
    ox, oy, oz = (
        parts[row, 0] + side * parts[row, 3],
        parts[row, 1] + side * parts[row, 4],
        parts[row, 2] + side * parts[row, 5],
    )
    d, nx, ny, nz = wall_distance(vessel, -1 - j, x[i, 0] + ox, x[i, 1] + oy, x[i, 2] + oz)
    # A wall may turn far in one step, where an edge ends; single precision must hold the lever.
    d = min(d, 10.0)
    w[NORMAL + l], w[NORMAL + L + l], w[NORMAL + 2 * L + l] = nx, ny, nz
    w[GAP + l] = per_step * (d - parts[row, 6])
    if are_balls:
        w[BALL_LEVER + l] = d
        w[BALL_OTHER + l] = 1.0
        return
    w[LEVER + l] = ox - d * nx
    w[LEVER + L + l] = oy - d * ny
    w[LEVER + 2 * L + l] = oz - d * nz
    for a in range(3):
        w[OTHER + a * L + l] = 0.0


@njit(cache=True, error_model="numpy")
def _place_block(b, who, ends, own_pairs, pairs, bed, w, are_balls, at_walls, per_step):
    """Place the eight pairs of a block."""
    x, parts, vessel = bed
    fetch_rows(parts, ends, 2 * L * b, w, OWN_PART)
    fetch_rows(parts, ends, 2 * L * b + L, w, OTHER_PART)
    for l in range(L):
        i, j = who[b, l], who[b, L + l]
        for a in range(3):
            w[APART + a * L + l] = x[i, a] - x[j, a]
    if are_balls:
        place_balls(w, per_step)
    else:
        place_lanes(w, per_step)
    if at_walls:
        for l in range(L):
            c = own_pairs[b, l]
            if c >= 0 and pairs[c, 1] < 0:
                _place_wall(
                    w, l, pairs[c, 0], pairs[c, 1], pairs[c, 3], ends[b, l], x, parts, vessel,
                    are_balls, per_step,
                )  # fmt: skip


@njit(cache=True, error_model="numpy")
def _name_lane(who, ends, b, l, pair, spare, n_parts, spare_part):
    """Write down which pieces and parts a lane is about; returns the other piece's row."""
    i, j = pair[0], pair[1]
    o = j if j >= 0 else spare
    who[b, l], who[b, L + l] = i, o
    ends[b, l] = i * n_parts + pair[2]
    ends[b, L + l] = j * n_parts + pair[3] if j >= 0 else spare_part
    return o


@njit(cache=True, error_model="numpy")
def _deal(first, i, j, low, n_blocks, last, filled):
    """The first block from ``low`` on, after all that move either piece, with a free lane."""
    b = max(low, last[i] + 1)
    if j >= 0:
        b = max(b, last[j] + 1)
    while b < n_blocks and filled[first + b] == L:
        b += 1
    return b


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


@njit(cache=True, error_model="numpy")
def _deal_slab(first, end, start, room, spare, near_pairs, bed, blocks, work, are_balls):
    """Deal the pairs of one slab that can touch soon out to its blocks; returns how many blocks.

    Blocks beyond the room are counted only.
    """
    pairs, impulses, margin, last, filled = near_pairs
    x, parts, _ = bed
    rows, who, ends, own_pairs, at_walls, ease = blocks
    w, who_w, ends_w, pairs_w = work
    n_parts, spare_part = (parts.shape[0] - SPARE) // (x.shape[0] - SPARE), parts.shape[0] - 1
    low, n_blocks = 0, 0
    for c in range(first, end):
        l = (c - first) % L
        if l == 0:
            for k in range(min(L, end - c)):
                _name_lane(who_w, ends_w, 0, k, pairs[c + k], spare, n_parts, spare_part)
                pairs_w[0, k] = c + k
            _place_block(0, who_w, ends_w, pairs_w, pairs, bed, w, are_balls, True, ONE)
        i, j = pairs[c, 0], pairs[c, 1]
        if w[GAP + l] > margin[i] + (margin[j] if j >= 0 else 0.0):
            continue
        b = _deal(first, i, j, low, n_blocks, last, filled)
        if b == n_blocks:
            filled[first + b] = 0
            n_blocks += 1
            if b < room:
                at_walls[start + b] = False
        lane = filled[first + b]
        filled[first + b] = lane + 1
        last[i] = b
        if j >= 0:
            last[j] = b
        while low < n_blocks and filled[first + low] == L:
            low += 1
        if b >= room:
            continue
        b += start
        own_pairs[b, lane] = c
        o = _name_lane(who, ends, b, lane, pairs[c], spare, n_parts, spare_part)
        if j < 0:
            at_walls[b] = True
        for a in range(4):
            rows[b, IMPULSE + a * L + lane] = impulses[c, a]
        if are_balls:
            rows[b, MASS + lane] = ONE / (ease[i, 0] + ease[o, 0])
            rows[b, BALL_LIGHT + lane] = ease[i, 0]
            rows[b, BALL_LIGHT + L + lane] = ease[o, 0]
    for b in range(room):
        for lane in range(filled[first + b] if b < n_blocks else 0, L):
            own_pairs[start + b, lane] = -1
            who[start + b, lane], who[start + b, L + lane] = spare, spare + 1
            ends[start + b, lane], ends[start + b, L + lane] = spare_part, spare_part
            for a in range(rows.shape[1] // L):
                rows[start + b, a * L + lane] = 0.0
    return n_blocks


@njit(cache=True, parallel=True, error_model="numpy")
def deal_out(near_pairs, bed, blocks, slabs, bounds, are_balls):
    """Deal the pairs that can touch soon out to blocks, slab by slab."""
    row_start, slab_start, by_slab, block_first, n_blocks = slabs
    n_shares = bounds.shape[1] - 1
    n_slabs = slab_start.shape[0] - 1
    last, n = near_pairs[3], bed[0].shape[0] - SPARE
    for parity in range(2):
        for share in prange(n_shares):
            w = np.zeros(PLACE_ROOM, np.float32)
            who, ends = np.zeros((1, 2 * L), np.uint32), np.zeros((1, 2 * L), np.uint32)
            own_pairs = np.full((1, L), -1, np.int32)
            for half in range(bounds[parity, share], bounds[parity, share + 1]):
                s = 2 * half + parity
                for a in range(slab_start[s], slab_start[min(s + 2, n_slabs)]):
                    last[by_slab[a]] = -1
                n_blocks[s] = _deal_slab(
                    row_start[slab_start[s]], row_start[slab_start[s + 1]], block_first[s],
                    block_first[s + 1] - block_first[s], n + 2 * (s % (SPARE // 2)),
                    near_pairs, bed, blocks, (w, who, ends, own_pairs), are_balls,
                )  # fmt: skip


@njit(cache=True, parallel=True, error_model="numpy")
def prepare(pairs, bed, blocks, deep, tables, block_first, n_blocks, bounds, are_balls, law):
    """Place the contacts of all blocks, work out their masses and apply the kept impulses."""
    rows, who, ends, own_pairs, at_walls, ease = blocks
    speed, per_step, slop = tables, law[0], law[1]
    n_shares = bounds.shape[1] - 1
    for parity in range(2):
        for share in prange(n_shares):
            w = np.zeros(PLACE_ROOM, np.float32)
            for half in range(bounds[parity, share], bounds[parity, share + 1]):
                s = 2 * half + parity
                for b in range(block_first[s], block_first[s] + n_blocks[s]):
                    for a in range(rows.shape[1]):
                        w[a] = rows[b, a]
                    _place_block(
                        b, who, ends, own_pairs, pairs, bed, w, are_balls, at_walls[b], per_step
                    )
                    least = ONE
                    for l in range(L):
                        least = min(least, w[GAP + l])
                    deep[b] = least < -slop
                    _fetch(speed, who, b, w, SPEED)
                    if are_balls:
                        warm_balls(w)
                    else:
                        _fetch(ease, who, b, w, EASE)
                        mass_lanes(w)
                        warm_lanes(w)
                    _return(speed, who, b, w, SPEED)
                    for a in range(rows.shape[1]):
                        rows[b, a] = w[a]


@njit(cache=True, parallel=True, error_model="numpy")
def sweep(
    block_first,
    n_blocks,
    bounds,
    rows,
    who,
    deep,
    ease,
    speed,
    shove,
    are_balls,
    backwards,
    mu_grain,
    mu_wall,
    rate,
    slop,
):
    """Solve each contact once, up the bed or down it."""
    n_shares = bounds.shape[1] - 1
    for turn in range(2):
        parity = 1 - turn if backwards else turn
        for share in prange(n_shares):
            w = np.zeros(PLACE_ROOM, np.float32)
            for half in range(bounds[parity, share], bounds[parity, share + 1]):
                s = 2 * half + parity
                first, count = block_first[s], n_blocks[s]
                for e in range(count):
                    b = first + count - 1 - e if backwards else first + e
                    for a in range(rows.shape[1]):
                        w[a] = rows[b, a]
                    _fetch(speed, who, b, w, SPEED)
                    if are_balls:
                        solve_balls(w, mu_grain, mu_wall)
                    else:
                        _fetch(ease, who, b, w, EASE)
                        solve_lanes(w, mu_grain, mu_wall)
                    _return(speed, who, b, w, SPEED)
                    for a in range(4 * L):
                        rows[b, a] = w[a]
                    if deep[b]:
                        _fetch(shove, who, b, w, SPEED)
                        if are_balls:
                            shove_balls(w, rate, slop)
                        else:
                            shove_lanes(w, rate, slop)
                        _return(shove, who, b, w, SPEED)


@njit(cache=True, error_model="numpy")
def kept_impulses(n_pairs, own_pairs, rows):
    """The impulses of all pairs, zero for those that are in no block."""
    impulses = np.zeros((n_pairs, 4), np.float32)
    for b in range(own_pairs.shape[0]):
        for l in range(L):
            if own_pairs[b, l] >= 0:
                for a in range(4):
                    impulses[own_pairs[b, l], a] = rows[b, IMPULSE + a * L + l]
    return impulses
