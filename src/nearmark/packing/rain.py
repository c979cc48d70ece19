"""Where and when each piece is let go, so that a jar fills like rain from a little above the bed.

Pieces come in level layers that do not overlap; each layer starts a few lengths above the height
the bed is expected to have by then, at the falling speed.  Pieces are turned at random about the
upright; long ones lie side by side where there is room, others at the points of a grid.
"""

import math
from dataclasses import dataclass

import numpy as np

from nearmark.packing.request import LOOSEST_FRACTION, PackingRequest
from nearmark.packing.shapes import Solid

FALL_SPEED = 3.0
"""Speed at which pieces rain and the most they can reach, in sqrt(g w): drag of a slow pour."""

TILT = 0.1
"""Scatter of the tilt from level of a falling piece, rad; cut at two and a half times that."""

LONG = 1.3
"""Length over breadth from which pieces are laid side by side."""

TRIES = 20
"""Places tried for each that a layer would hold if it were filled."""


@dataclass(frozen=True, slots=True, eq=False)
class Rain:
    """The state of all pieces when each is let go; lengths in widths, times in sqrt(w / g)."""

    sizes: np.ndarray  # dimensionless
    centres: np.ndarray  # widths, shape (n, 3)
    turns: np.ndarray  # unit quaternions, shape (n, 4)
    velocities: np.ndarray  # velocity and spin (sqrt(g w), shape (n, 6))
    times: np.ndarray  # when it is let go; never falling (sqrt(w / g))


def rain(request: PackingRequest, body: Solid) -> Rain:
    """Draw the rain of a request from its seed.

    >>> from nearmark.packing import cylinder, grain_shape, solid
    >>> shape = grain_shape("sphere")
    >>> drops = rain(PackingRequest(shape, 50, 10.0, cylinder(8.0, 12.0)), solid(shape))
    >>> bool((abs(drops.centres[:, :2]) < 4.0).all())
    True
    """
    generator = np.random.default_rng(request.seed)
    n, cv = request.n_grains, request.size_cv
    sizes = np.clip(generator.normal(1.0, cv, n), 1 - 2 * cv, 1 + 2 * cv)
    largest = float(sizes.max())
    layers = _layers(request, body, largest, generator)
    counts = np.array([len(each) for each in layers])
    layer = np.repeat(np.arange(len(layers)), counts)
    places = np.concatenate(layers)
    start = _surface(request, body, np.cumsum(counts) - counts) + 3 * largest * body.reach + 1
    velocities = generator.normal(0.0, 0.3, (n, 6))
    velocities[:, 2] = -FALL_SPEED
    times = layer * (2.1 * _half_height(body) * largest / FALL_SPEED)
    return Rain(
        sizes,
        np.column_stack([places[:, :2], start[layer]]),
        _turns(generator, places[:, 2]),
        velocities,
        times,
    )


def _layers(
    request: PackingRequest, body: Solid, largest: float, generator: np.random.Generator
) -> list[np.ndarray]:
    """Places (x, y, turn about the upright) of each layer, until all pieces have one."""
    across = np.hypot(*np.vstack([body.starts, body.ends])[:, 1:].T) + np.tile(body.radii, 2)
    breadth = float(across.max())
    layers, left = [], request.n_grains
    while left:
        if body.reach > LONG * breadth:
            places = _side_by_side(request, body, breadth, largest, generator)
        else:
            places = _grid(request, largest * body.reach, generator)
        layers.append(places[:left])
        left -= len(layers[-1])
    return layers


def _half_sides(request: PackingRequest) -> tuple[float, float]:
    vessel, to_widths = request.vessel, 10 / request.width_mm
    return vessel.width_cm * to_widths / 2, vessel.depth_cm * to_widths / 2


def _within(request: PackingRequest, xy: np.ndarray, margin: float) -> np.ndarray:
    """Which points lie farther than a margin from the wall at the floor."""
    half_x, half_y = _half_sides(request)
    if request.vessel.form == "box":
        inside: np.ndarray = (np.abs(xy[:, 0]) <= half_x - margin) & (
            np.abs(xy[:, 1]) <= half_y - margin
        )
    else:
        inside = np.hypot(xy[:, 0], xy[:, 1]) <= half_x - margin
    return inside


def _side_by_side(
    request: PackingRequest,
    body: Solid,
    breadth: float,
    largest: float,
    generator: np.random.Generator,
) -> np.ndarray:
    """A layer of long pieces: places drawn one after the other, those that cross are left out."""
    from nearmark.packing.kernel_rain import clear_places  # noqa: PLC0415 - compiler on first use

    breadth, half = breadth * largest, (body.reach - breadth) * largest
    half_x, half_y = _half_sides(request)
    most = max(1, int(half_x * half_y / ((half + breadth) * breadth)))
    tries = generator.uniform(-1, 1, (TRIES * most, 3)) * [half_x, half_y, math.pi]
    along = half * np.column_stack([np.cos(tries[:, 2]), np.sin(tries[:, 2])])
    fits = _within(request, tries[:, :2] + along, 1.02 * breadth)
    fits &= _within(request, tries[:, :2] - along, 1.02 * breadth)
    places = tries[fits]
    chosen = np.empty(most, np.int64)
    x, y, turn = places.T.copy()
    n = clear_places(x, y, turn, half, 2.04 * breadth, most, chosen)
    layer: np.ndarray = places[chosen[:n]]
    return layer


def _grid(request: PackingRequest, reach: float, generator: np.random.Generator) -> np.ndarray:
    """A layer on a grid, where pieces fit whichever way they are turned, in random order."""
    half_x, half_y = _half_sides(request)
    step = 2.02 * reach
    rows = [_row(h - reach, step, generator) for h in (half_x, half_y)]
    xy = np.stack(np.meshgrid(*rows, indexing="ij"), axis=-1).reshape(-1, 2)
    angle = generator.uniform(0, 2 * math.pi)
    if request.vessel.form != "box":
        c, s = math.cos(angle), math.sin(angle)
        xy = xy @ np.array([[c, s], [-s, c]])
    inside = xy[_within(request, xy, reach)]
    xy = generator.permutation(inside if len(inside) else np.zeros((1, 2)))
    return np.column_stack([xy, generator.uniform(0, 2 * math.pi, len(xy))])


def _row(half: float, step: float, generator: np.random.Generator) -> np.ndarray:
    """Places along one side, their first drawn for each layer: else pieces pile up in columns."""
    first: float = generator.uniform(0, min(step, 2 * half))
    return np.arange(first - half, half, step)


def _half_height(body: Solid) -> float:
    """Half the room above each other that tilted pieces need."""
    low = np.abs(np.vstack([body.starts, body.ends])[:, 2]) + np.tile(body.radii, 2)
    return min(body.reach, float(low.max()) + 2.5 * TILT * (body.reach - float(body.radii.min())))


def _surface(request: PackingRequest, body: Solid, n_below: np.ndarray) -> np.ndarray:
    """Height of the bed, widths, when so many pieces have come: loose, so on the high side."""
    widths_per_cm = 10 / request.width_mm
    piece_cm3 = body.volume / widths_per_cm**3 / LOOSEST_FRACTION
    heights = [request.vessel.height_holding_cm(float(n) * piece_cm3) for n in n_below]
    return np.array(heights) * widths_per_cm


def _turns(generator: np.random.Generator, turn: np.ndarray) -> np.ndarray:
    """Turned as given about the upright, tilted a little: quaternion of turn after tilt."""
    n, turn = len(turn), turn / 2
    tilt = np.clip(generator.normal(0, TILT, n), -2.5 * TILT, 2.5 * TILT) / 2
    axis = generator.uniform(0, 2 * math.pi, n)
    w, x, y = np.cos(tilt), np.sin(tilt) * np.cos(axis), np.sin(tilt) * np.sin(axis)
    c, s = np.cos(turn), np.sin(turn)
    return np.stack([c * w, c * x - s * y, c * y + s * x, s * w], axis=1)
