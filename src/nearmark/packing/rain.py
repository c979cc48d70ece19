"""Where and when each piece is let go, so that a jar fills like rain from a little above the bed.

Pieces come in level layers that do not overlap; each layer starts a few lengths above the height
the bed is expected to have by then, at the falling speed, and turned at random about the upright.
"""

import math
from dataclasses import dataclass

import numpy as np

from nearmark.packing.request import LOOSEST_FRACTION, PackingRequest
from nearmark.packing.shapes import Solid

FALL_SPEED = 3.0
"""Speed at which pieces rain and the most they can reach, in sqrt(g w): drag of a slow pour."""

TILT = 0.2
"""Scatter of the tilt from level of a falling piece, rad."""


@dataclass(frozen=True, slots=True, eq=False)
class Rain:
    """The state of all pieces when each is let go; lengths in widths, times in sqrt(w / g).

    Attributes
    ----------
    sizes : dimensionless, shape (n,)
    centres : widths, shape (n, 3)
    turns : unit quaternions, shape (n, 4)
    velocities : sqrt(g w), shape (n, 6)
        Velocity and spin.
    times : sqrt(w / g), shape (n,)
        When it is let go; never falling.
    """

    sizes: np.ndarray
    centres: np.ndarray
    turns: np.ndarray
    velocities: np.ndarray
    times: np.ndarray


def rain(request: PackingRequest, body: Solid) -> Rain:
    """Draw the rain of a request from its seed.

    Parameters
    ----------
    request : PackingRequest
    body : Solid
        Of its shape.

    Returns
    -------
    Rain

    Examples
    --------
    >>> from nearmark.packing import cylinder, grain_shape, solid
    >>> shape = grain_shape("sphere")
    >>> drops = rain(PackingRequest(shape, 50, 10.0, cylinder(8.0, 12.0)), solid(shape))
    >>> bool((abs(drops.centres[:, :2]) < 4.0).all())
    True
    """
    generator = np.random.default_rng(request.seed)
    n, cv = request.n_grains, request.size_cv
    sizes = np.clip(generator.normal(1.0, cv, n), 1 - 2 * cv, 1 + 2 * cv)
    reach = body.reach * float(sizes.max())
    spots = _spots(request, reach)
    layer = np.arange(n) // len(spots)
    centres = np.empty((n, 3))
    for k in range(int(layer[-1]) + 1):
        here = layer == k
        chosen = spots[generator.permutation(len(spots))[: int(here.sum())]]
        centres[here, :2] = _spun(request, chosen, generator.uniform(0, 2 * math.pi))
    centres[:, 2] = _surface(request, body, layer, len(spots)) + 3 * reach + 1
    upright = _half_height(body) * float(sizes.max())
    velocities = generator.normal(0.0, 0.3, (n, 6))
    velocities[:, 2] = -FALL_SPEED
    times = layer * (2.1 * upright / FALL_SPEED)
    return Rain(sizes, centres, _turns(generator, n), velocities, times)


def _half_height(body: Solid) -> float:
    """Half the room above each other that tilted pieces need."""
    low = np.abs(np.vstack([body.starts, body.ends])[:, 2]) + np.tile(body.radii, 2)
    return min(body.reach, float(low.max()) + 2.5 * TILT * (body.reach - float(body.radii.min())))


def _spots(request: PackingRequest, reach: float) -> np.ndarray:
    """Grid points of one layer at which a piece fits whichever way it is turned."""
    to_widths = 10 / request.width_mm
    half_x = request.vessel.width_cm * to_widths / 2 - reach
    half_y = request.vessel.depth_cm * to_widths / 2 - reach
    step = 2.02 * reach
    ix = np.arange(-int(half_x / step), int(half_x / step) + 1) * step
    iy = np.arange(-int(half_y / step), int(half_y / step) + 1) * step
    grid = np.stack(np.meshgrid(ix, iy, indexing="ij"), axis=-1).reshape(-1, 2)
    if request.vessel.form == "box":
        return grid
    inside: np.ndarray = grid[np.hypot(grid[:, 0], grid[:, 1]) <= half_x]
    return inside


def _spun(request: PackingRequest, spots: np.ndarray, angle: float) -> np.ndarray:
    """The layer turned about the axis of a round vessel; a box keeps its grid."""
    if request.vessel.form == "box":
        return spots
    c, s = math.cos(angle), math.sin(angle)
    turned: np.ndarray = spots @ np.array([[c, s], [-s, c]])
    return turned


def _surface(request: PackingRequest, body: Solid, layer: np.ndarray, per_layer: int) -> np.ndarray:
    """Height of the bed, widths, when each layer comes: loose, so on the high side."""
    widths_per_cm = 10 / request.width_mm
    piece_cm3 = body.volume / widths_per_cm**3 / LOOSEST_FRACTION
    heights = [
        request.vessel.height_holding_cm(k * per_layer * piece_cm3) * widths_per_cm
        for k in range(int(layer[-1]) + 1)
    ]
    surface: np.ndarray = np.array(heights)[layer]
    return surface


def _turns(generator: np.random.Generator, n: int) -> np.ndarray:
    """Random about the upright, tilted a little: quaternion of turn after tilt."""
    turn = generator.uniform(0, 2 * math.pi, n) / 2
    tilt = np.clip(generator.normal(0, TILT, n), -2.5 * TILT, 2.5 * TILT) / 2
    axis = generator.uniform(0, 2 * math.pi, n)
    w, x, y = np.cos(tilt), np.sin(tilt) * np.cos(axis), np.sin(tilt) * np.sin(axis)
    c, s = np.cos(turn), np.sin(turn)
    return np.stack([c * w, c * x - s * y, c * y + s * x, s * w], axis=1)
