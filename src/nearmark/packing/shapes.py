"""Shapes of pieces: rigid groups of capsules, with the volume and inertia of their union.

A capsule is all that lies within a radius of a straight line; a sphere is one without length.  The
same parts touch, weigh and are drawn.  Lengths are in widths: a piece's thickness across is 1, and
its size in mm comes with the request.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np

from nearmark.errors import InputError

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Part:
    """One capsule of a piece."""

    # Ends of its axis (widths, (x, y, z)).
    start: Point
    end: Point
    radius: float  # widths


@dataclass(frozen=True, slots=True)
class GrainShape:
    """What one kind of piece looks like."""

    code: str
    name: str  # for people
    parts: tuple[Part, ...]  # in the frame of the piece, before it is brought to its centre of mass
    # Empty space no other piece can enter, such as the hole of a nut: it touches, but does not
    # weigh and is not drawn. Without it a hard landing can lock two rings into each other.
    plugs: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Solid:
    """A shape about its centre of mass, along its principal axes."""

    # Widths, shape (n_parts, 3).
    starts: np.ndarray
    ends: np.ndarray
    radii: np.ndarray  # parts first, then plugs (widths, shape (n_parts,))
    n_drawn: int  # how many are of material
    volume: float  # of the union of the parts (cubic widths)
    inertia: np.ndarray  # principal moments for density one (widths to the fifth)
    reach: float  # farthest point from the centre (widths)


def _along(length: float, radius: float = 0.5) -> Part:
    half = length / 2 - radius
    return Part((-half, 0.0, 0.0), (half, 0.0, 0.0), radius)


def _polygon(n: int, far: float, radius: float) -> tuple[Part, ...]:
    turns = [2 * math.pi * k / n for k in range(n + 1)]
    corners = [(far * math.cos(t), far * math.sin(t), 0.0) for t in turns]
    return tuple(Part(a, b, radius) for a, b in pairwise(corners))


def _spokes(n: int, far: float, radius: float) -> tuple[Part, ...]:
    ends = [
        (far * math.cos(math.pi * k / n), far * math.sin(math.pi * k / n), 0.0) for k in range(n)
    ]
    return tuple(Part((-x, -y, 0.0), (x, y, 0.0), radius) for x, y, _ in ends)


def _tube(n: int, far: float, radius: float, length: float) -> tuple[Part, ...]:
    half = length / 2 - radius
    turns = [2 * math.pi * k / n for k in range(n)]
    return tuple(
        Part(
            (-half, far * math.cos(t), far * math.sin(t)),
            (half, far * math.cos(t), far * math.sin(t)),
            radius,
        )
        for t in turns
    )


def _helix(n: int, far: float, radius: float, length: float) -> tuple[Part, ...]:
    steps = [k / n for k in range(n + 1)]
    run = length - 2 * radius
    points = [
        (run * (s - 0.5), far * math.cos(3 * math.pi * s), far * math.sin(3 * math.pi * s))
        for s in steps
    ]
    return tuple(Part(a, b, radius) for a, b in pairwise(points))


_BEAN = (
    Part((-0.42, -0.08, 0.0), (0.0, 0.06, 0.0), 0.47),
    Part((0.0, 0.06, 0.0), (0.42, -0.08, 0.0), 0.47),
)

SHAPES: Final[dict[str, GrainShape]] = {
    shape.code: shape
    for shape in (
        GrainShape("sphere", "round piece", (_along(1.0),)),
        GrainShape("capsule", "short rounded piece, half as long again as wide", (_along(1.5),)),
        GrainShape("rice", "long grain, three times as long as wide", (_along(3.0),)),
        GrainShape("bean", "kidney-shaped bean", _BEAN),
        GrainShape("oblate", "lens-shaped piece, twice as wide as thick", _spokes(3, 0.5, 0.5)),
        GrainShape(
            "coin",
            "flat round piece, three times as wide as thick",
            (*_polygon(6, 1.0, 0.5), Part((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 0.5)),
        ),
        GrainShape("tube", "short hollow tube", _tube(6, 0.36, 0.19, 1.6), (_along(1.5, 0.17),)),
        GrainShape("twist", "twisted piece", _helix(6, 0.28, 0.26, 2.4)),
        GrainShape("nut", "hex nut", _polygon(6, 0.45, 0.2), (_along(0.38, 0.19),)),
    )
}
"""The shapes that can be asked for, by code.  Proportions are our own choice, no source."""


def grain_shape(code: str) -> GrainShape:
    """Look a shape up by its code, a key of ``SHAPES``.

    >>> grain_shape("rice").name
    'long grain, three times as long as wide'

    Raises
    ------
    InputError : if there is none of that code
    """
    if code not in SHAPES:
        raise InputError(
            "no such shape", where="shape", value=repr(code), mend=f"One of: {', '.join(SHAPES)}"
        )
    return SHAPES[code]


POINTS_A_RADIUS: Final = 20
"""Sampling points along the smallest radius of a shape; errors of volume are then about 0.3 %."""


ROUND_OFF: Final = 1e-9


@lru_cache(maxsize=32)
def solid(shape: GrainShape) -> Solid:
    """Volume, inertia and centred parts of a shape.

    A sphere of width 1 has the volume pi/6.

    >>> round(solid(grain_shape("sphere")).volume, 3)
    0.524
    """
    touching = shape.parts + shape.plugs
    starts = np.array([p.start for p in touching])
    ends = np.array([p.end for p in touching])
    radii = np.array([p.radius for p in touching])
    if len(touching) == 1:
        return _one_capsule(starts, ends, radii)
    n = len(shape.parts)
    points, cell = _inner_points(starts[:n], ends[:n], radii[:n])
    centre = points.mean(axis=0)
    away = points - centre
    covariance = away.T @ away / len(away)
    axes = np.linalg.eigh(covariance)[1][:, ::-1]
    if np.linalg.det(axes) < 0:
        axes[:, 2] *= -1
    spread = np.diag(axes.T @ covariance @ axes)
    volume = len(points) * cell
    starts, ends = ((p - centre) @ axes for p in (starts, ends))
    starts, ends = (np.where(np.abs(p) < ROUND_OFF, 0.0, p) for p in (starts, ends))
    reach = float((np.linalg.norm(np.vstack([starts, ends]), axis=1) + np.tile(radii, 2)).max())
    return Solid(starts, ends, radii, n, volume, volume * (spread.sum() - spread), reach)


def _one_capsule(starts: np.ndarray, ends: np.ndarray, radii: np.ndarray) -> Solid:
    """The formulas of a cylinder with half balls at its ends, which lies along x."""
    r, run = float(radii[0]), float(ends[0, 0] - starts[0, 0])
    tube, ball = math.pi * r**2 * run, 4 / 3 * math.pi * r**3
    along = tube * r**2 / 2 + ball * 2 / 5 * r**2
    across = tube * (run**2 / 12 + r**2 / 4) + ball * (2 / 5 * r**2 + run**2 / 4 + 3 / 8 * run * r)
    inertia = np.array([along, across, across])
    return Solid(starts, ends, radii, 1, tube + ball, inertia, run / 2 + r)


def _inner_points(
    starts: np.ndarray, ends: np.ndarray, radii: np.ndarray
) -> tuple[np.ndarray, float]:
    """Points of a regular grid inside the union, and the volume each represents."""
    corners = np.vstack([starts, ends])
    lo = corners.min(axis=0) - radii.max()
    hi = corners.max(axis=0) + radii.max()
    step = radii.min() / POINTS_A_RADIUS
    sides = []
    for a, b in zip(lo, hi, strict=True):
        n = math.ceil((b - a) / step)
        # About the middle, so that what is its own mirror image stays so.
        sides.append((a + b) / 2 + step * (np.arange(n) - (n - 1) / 2))
    points = np.stack(np.meshgrid(*sides, indexing="ij"), axis=-1).reshape(-1, 3)
    inside = np.zeros(len(points), bool)
    for start, end, radius in zip(starts, ends, radii, strict=True):
        line = end - start
        square = float(line @ line)
        s = np.clip((points - start) @ line / square, 0, 1) if square else np.zeros(len(points))
        inside |= ((points - start - s[:, None] * line) ** 2).sum(axis=1) < radius**2
    return points[inside], step**3
