"""Compiled choice of places in a layer of the rain, so that long pieces do not cross."""

import math

from numba import njit

from nearmark.packing.kernel_geometry import nearest_parameters


@njit(cache=True, error_model="numpy")
def clear_places(x, y, turn, half, apart, most, chosen):
    """Take candidates in their order, each if it is clear of all taken; returns how many.

    A candidate is a level line of half length ``half`` about (x, y); two are clear if they are
    ``apart`` or farther from each other.
    """
    n = 0
    far = 2.0 * half + apart
    for k in range(x.shape[0]):
        if n == most:
            break
        ux, uy = 2.0 * half * math.cos(turn[k]), 2.0 * half * math.sin(turn[k])
        ax, ay = x[k] - 0.5 * ux, y[k] - 0.5 * uy
        clear = True
        for m in range(n):
            o = chosen[m]
            dx, dy = x[k] - x[o], y[k] - y[o]
            if dx * dx + dy * dy >= far * far:
                continue
            vx, vy = 2.0 * half * math.cos(turn[o]), 2.0 * half * math.sin(turn[o])
            bx, by = x[o] - 0.5 * vx, y[o] - 0.5 * vy
            s, t = nearest_parameters(ax, ay, 0.0, ux, uy, 0.0, bx, by, 0.0, vx, vy, 0.0)
            dx, dy = ax + s * ux - bx - t * vx, ay + s * uy - by - t * vy
            if dx * dx + dy * dy < apart * apart:
                clear = False
                break
        if clear:
            chosen[n] = k
            n += 1
    return n
