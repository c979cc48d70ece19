"""The surface of a piece as triangles, coarse to fine, for drawing.

Most shapes touch as lathed or swept bodies; the mesh is that smooth body, which the capsules of
``nearmark.packing.shapes`` stand for.  Lengths are in widths, about the centre of mass.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from nearmark.packing import Solid, grain_shape, solid

LEVELS: Final = ((4, 2), (6, 4), (10, 6), (18, 10))
"""Points around and along: about 8, 30, 100 and 300 triangles; the first for a jar in motion."""

COIN_RADIUS: Final = 1.43
"""Widths: the disc of the same ground as the coin's ring of capsules."""

LENS_RADIUS: Final = 0.95
"""Widths: of the lens between the ends of its capsules, 1.0, and the dents between them."""


LENS_FULLNESS: Final = 0.8
"""Exponent of the profile, 1 for an ellipse: between it and the capsules, which are as thick almost
to the edge; a thin edge would open gaps that the settled pieces do not have."""


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Triangles of one piece."""

    # Widths and unit vectors, shape (n, 3).
    points: np.ndarray
    normals: np.ndarray
    faces: np.ndarray  # anticlockwise from outside (indices, shape (m, 3))


@lru_cache(maxsize=64)
def piece_mesh(code: str, level: int) -> Mesh:
    """The mesh of a shape.

    ``code``: of ``nearmark.packing.SHAPES``. ``level`` (0 to 3): from coarse to fine.

    >>> mesh = piece_mesh("sphere", 3)
    >>> bool(np.allclose(np.linalg.norm(mesh.points, axis=1), 0.5))
    True
    """
    return _MAKERS[code](solid(grain_shape(code)), *LEVELS[level])


def _capsule(body: Solid, n_around: int, n_along: int) -> Mesh:
    half, r = float(body.ends[0, 0]), float(body.radii[0])
    turns = np.linspace(0, math.pi, n_along + 1 + n_along % 2)
    profile = np.stack([r * np.cos(turns) + half * np.sign(np.cos(turns).round(9)),
                        r * np.sin(turns)], axis=1)  # fmt: skip
    return _lathed(profile, np.stack([np.cos(turns), np.sin(turns)], axis=1), n_around, axis=0)


def _lens(body: Solid, n_around: int, n_along: int) -> Mesh:
    del body
    turns = np.linspace(0, math.pi, n_along + 1)
    c, s = np.cos(turns), np.sin(turns)
    up, out = np.sign(c) * np.abs(c) ** LENS_FULLNESS, s**LENS_FULLNESS
    power = 2 / LENS_FULLNESS - 1
    slope = [np.sign(c) * np.abs(up) ** power / 0.5, out**power / LENS_RADIUS]
    profile = np.stack([0.5 * up, LENS_RADIUS * out], axis=1)
    return _lathed(profile, np.stack(slope, axis=1), n_around + 6, axis=2)


def _coin(body: Solid, n_around: int, n_along: int) -> Mesh:
    del body
    turns = np.linspace(0, math.pi, n_along)
    edge = np.stack([0.5 * np.cos(turns), COIN_RADIUS - 0.5 + 0.5 * np.sin(turns)], axis=1)
    profile = np.vstack([[0.5, 0.0], edge, [-0.5, 0.0]])
    normals = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    return _lathed(profile, np.vstack([[1.0, 0], normals, [-1.0, 0]]), n_around + 6, axis=2)


def _tube(body: Solid, n_around: int, n_along: int) -> Mesh:
    half, r = float(np.abs(body.ends[:, 0]).max()), float(body.radii[0])
    middle = float(np.linalg.norm(body.starts[0, 1:]))
    turns = np.linspace(0, 2 * math.pi, n_along + 3)
    along, out = np.cos(turns), np.sin(turns)
    profile = np.stack([r * along + half * np.sign(along.round(9)), middle + r * out], axis=1)
    return _lathed(profile, np.stack([along, out], axis=1), n_around + 2, axis=0)


def _lathed(profile: np.ndarray, normals: np.ndarray, n_around: int, *, axis: int) -> Mesh:
    """Turn a profile of (along the axis, out from it) about an axis, top end first."""
    turns = np.linspace(0, 2 * math.pi, n_around, endpoint=False)
    c, s = np.cos(turns)[:, None], np.sin(turns)[:, None]

    def turned(flat: np.ndarray) -> np.ndarray:
        around = [flat[None, :, 1] * c, flat[None, :, 1] * s]
        along = np.broadcast_to(flat[None, :, 0], around[0].shape)
        parts = [along, *around] if axis == 0 else [*around, along]
        return np.stack(parts, axis=-1)

    return _grid_mesh(turned(profile), turned(normals), closed=True)


def _grid_mesh(points: np.ndarray, normals: np.ndarray, *, closed: bool) -> Mesh:
    """Triangles between neighbouring rows of points; the last row meets the first if closed."""
    n, m = points.shape[:2]
    rows = np.arange(n if closed else n - 1)
    i, j = np.meshgrid(rows, np.arange(m - 1), indexing="ij")
    a, b = i * m + j, ((i + 1) % n) * m + j
    faces = np.concatenate([np.stack([a, a + 1, b], -1), np.stack([b, a + 1, b + 1], -1)])
    faces, flat = faces.reshape(-1, 3), points.reshape(-1, 3)
    corners = flat[faces]
    area = np.linalg.norm(
        np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1
    )
    unit = normals.reshape(-1, 3) / np.linalg.norm(normals.reshape(-1, 3), axis=1)[:, None]
    faces = faces[area > 1e-9]
    corners = flat[faces]
    facing = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    inwards = (facing * unit[faces].mean(axis=1)).sum(axis=1) < 0
    faces[inwards] = faces[inwards][:, ::-1]
    return Mesh(flat, unit, faces)


def _nut(body: Solid, n_around: int, n_along: int) -> Mesh:
    """A round bar bent to a hexagon; two rings an edge keep it flat and do not cross within."""
    del n_around
    n, r = body.n_drawn, float(body.radii[0])
    middles, ways = [], []
    for start, end in zip(body.starts[:n], body.ends[:n], strict=True):
        middles += [start + 0.27 * (end - start), end - 0.27 * (end - start)]
        ways += [end - start] * 2
    return _swept(np.array(middles), np.array(ways), np.full(len(middles), r), n_along + 4)


def _twist(body: Solid, n_around: int, n_along: int) -> Mesh:
    """A round bar along a helix, its ends rounded off by ever smaller rings."""
    del n_along
    n, r = body.n_drawn, float(body.radii[0])
    path = np.vstack([body.starts[:n], body.ends[n - 1]])
    ways = np.gradient(path, axis=0)
    first, last = (w / np.linalg.norm(w) for w in (ways[0], ways[-1]))
    caps = ((0.02, 0.995), (0.35, 0.86), (0.75, 0.5))[:: 1 if n_around > 8 else 2]
    before = [(path[0] - r * (0.15 + off) * first, first, r * small) for small, off in caps]
    after = [(path[-1] + r * (0.15 + off) * last, last, r * small) for small, off in caps[::-1]]
    rings = [*before, *((p, w, r) for p, w in zip(path, ways, strict=True)), *after]
    return _swept(
        np.array([p for p, _, _ in rings]),
        np.array([w for _, w, _ in rings]),
        np.array([s for _, _, s in rings]),
        max(5, n_around - 2),
        closed=False,
    )


def _swept(
    middles: np.ndarray,
    ways: np.ndarray,
    radii: np.ndarray,
    n_around: int,
    *,
    closed: bool = True,
) -> Mesh:
    """Rings across a path, joined; a ring is turned as little as can be against the one before."""
    ways = ways / np.linalg.norm(ways, axis=1)[:, None]
    side = np.array([0.0, 0.0, 1.0])
    turns = np.linspace(0, 2 * math.pi, n_around + 1)
    points, normals = [], []
    for middle, way, radius in zip(middles, ways, radii, strict=True):
        side = side - (side @ way) * way
        side = side / np.linalg.norm(side)
        across = np.cross(way, side)
        ring = np.cos(turns)[:, None] * side + np.sin(turns)[:, None] * across
        points.append(middle + radius * ring)
        normals.append(ring)
    return _grid_mesh(np.array(points), np.array(normals), closed=closed)


def _bean(body: Solid, n_around: int, n_along: int) -> Mesh:
    """Rays from the centre to the farthest skin: the kidney is seen whole from its middle."""
    turns = np.linspace(0, math.pi, n_along + 1)
    ways = _lathed(np.stack([np.cos(turns), np.sin(turns)], axis=1),
                   np.stack([np.cos(turns), np.sin(turns)], axis=1), n_around, axis=0)  # fmt: skip
    reach = np.linspace(body.reach, 0.05, 600)
    points = reach[:, None, None] * ways.points[None]
    deep, _ = depth_inside(body, points.reshape(-1, 3))
    first = (deep.reshape(len(reach), -1) >= 0).argmax(axis=0)
    skin = reach[first][:, None] * ways.points
    return Mesh(skin, depth_inside(body, skin)[1], ways.faces)


def depth_inside(body: Solid, points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """How deep points lie inside a piece, and which way is out.

    ``points``: widths, shape (n, 3). Returns tuple of ndarray: depth in widths, below zero outside,
    shape (n,); unit vectors, shape (n, 3).

    >>> depth, out = depth_inside(solid(grain_shape("sphere")), np.array([[0.4, 0.0, 0.0]]))
    >>> depth.round(3).tolist(), out.tolist()
    ([0.1], [[1.0, 0.0, 0.0]])
    """
    n = body.n_drawn
    starts, lines = body.starts[:n], body.ends[:n] - body.starts[:n]
    squares = np.maximum((lines**2).sum(axis=1), 1e-12)
    away = points[:, None] - starts[None]
    share = np.clip((away * lines).sum(axis=-1) / squares, 0, 1)
    off = away - share[..., None] * lines
    far = np.linalg.norm(off, axis=-1)
    # Rounded: of two capsules that are equally deep the first, on every machine.
    deepest = (body.radii[:n] - far).round(9).argmax(axis=1)
    rows = np.arange(len(points))
    out = off[rows, deepest] / np.maximum(far[rows, deepest], 1e-12)[:, None]
    return (body.radii[:n] - far)[rows, deepest], out


_MAKERS: Final[dict[str, Callable[[Solid, int, int], Mesh]]] = {
    "sphere": _capsule,
    "capsule": _capsule,
    "rice": _capsule,
    "bean": _bean,
    "oblate": _lens,
    "coin": _coin,
    "tube": _tube,
    "twist": _twist,
    "nut": _nut,
}
