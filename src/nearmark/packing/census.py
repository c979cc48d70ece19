"""What can be known of a jar and what the eye sees of it: the count, the fraction, the layers."""

import math
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from nearmark.packing.jar import Jar, part_ends_cm
from nearmark.packing.views import IdPicture, side_view, top_view

VISIBLE_SHARE: Final = 0.5
"""Share of its silhouette from which a piece is counted by one who looks: wholly or mostly seen.

Our own choice, by the nine ready jars: from a half on, the surface holds 0.7 to 1.2 times (mean
0.9) what a level layer one piece high holds; from a quarter on, 1.0 to 1.5 times (mean 1.3), as
pieces of the layer below that peep out are counted with it.
"""

WALL_SHARE: Final = 0.5
"""Share from which a piece belongs to the layer at the wall; our own choice."""

CELLS_A_WIDTH: Final = 8
Grade = Literal["easy", "medium", "hard"]
GRADES: Final[tuple[tuple[float, Grade], ...]] = (
    (0.15, "easy"),
    (0.35, "medium"),
    (math.inf, "hard"),
)
"""Grade by the size of ln(surface x layers / count); our own choice."""


@dataclass(frozen=True, slots=True)
class Census:
    """Facts and appearances of one jar."""

    count: int  # exact (pieces)
    fill_height_cm: float  # mean height of the surface
    # Volume of the pieces over the volume of the vessel below the fill height (dimensionless).
    fraction: float
    # Same away from walls, floor and surface; ``None`` if the jar is too small to have a bulk
    # (dimensionless or None).
    bulk_fraction: float | None
    surface_pieces: int  # seen from above, each by at least half of its silhouette
    wall_pieces: int  # seen through the side in the same way
    layers: float  # mean number of pieces met going up a line on the side (pieces)
    product: float  # ``surface_pieces * layers``, what the usual method gives (pieces)
    bias: float  # ``ln(product / count)`` (dimensionless)
    grade: Grade  # by the size of the bias (easy, medium or hard)


def census(jar: Jar) -> Census:
    """Count and look at a jar.

    >>> from nearmark.packing import PackingRequest, cylinder, grain_shape, settle
    >>> jar = settle(PackingRequest(grain_shape("sphere"), 60, 10.0, cylinder(5.0, 9.0)))
    >>> found = census(jar)
    >>> found.count, 15 < found.surface_pieces < 35, 2 < found.layers < 4
    (60, True, True)
    """
    top, side = top_view(jar), side_view(jar)
    height = _fill_height_cm(jar, top)
    surface = int((top.visible_share() >= VISIBLE_SHARE).sum())
    layers = layers_seen(side)
    product = surface * layers
    count = jar.request.n_grains
    return Census(
        count=count,
        fill_height_cm=height,
        fraction=float(jar.piece_volumes_cm3.sum()) / jar.request.vessel.volume_below_cm3(height),
        bulk_fraction=bulk_fraction(jar, height),
        surface_pieces=surface,
        wall_pieces=int((side.visible_share() >= VISIBLE_SHARE).sum()),
        layers=layers,
        product=product,
        bias=math.log(max(product, 1.0) / count),
        grade=grade_of(product, count),
    )


def grade_of(product: float, count: int) -> Grade:
    """How hard a jar is: by how far surface times layers leads away from the count.

    >>> grade_of(420, 400), grade_of(530, 400), grade_of(600, 400)
    ('easy', 'medium', 'hard')

    Parameters
    ----------
    product : pieces
    count : pieces
    """
    bias = math.log(max(product, 1.0) / count)
    return next(word for most, word in GRADES if abs(bias) <= most)


def layers_seen(side: IdPicture) -> float:
    """Mean number of pieces met going up a line on the side.

    Only pieces of the layer at the wall count, where they show over a quarter of a width or more of
    the line.

    >>> import numpy as np
    >>> column = np.repeat([[0, 1, 2]], 8, axis=1)
    >>> layers_seen(IdPicture(column, np.ones((1, 24)), np.full(3, 8)))
    3.0
    """
    near = side.visible_share() >= WALL_SHARE
    least = 0.25 * float(np.median(side.own)) ** 0.5 if side.own.size else 1.0
    met = [
        int((np.bincount(line[line >= 0], minlength=len(near))[near] >= least).sum())
        for line in side.pieces
        if (line >= 0).any()
    ]
    return float(np.mean(met)) if met else 0.0


def _fill_height_cm(jar: Jar, top: IdPicture) -> float:
    """Mean height of what is seen from above; a gap through to the floor counts as zero."""
    seen = top.front[top.pieces >= 0]
    return float(seen.mean()) * jar.request.width_mm / 10


def bulk_fraction(jar: Jar, height_cm: float, margin: float = 2.0) -> float | None:
    """Share of space that is filled, away from walls, floor and surface.

    ``None`` if less than a two-width cube remains.

    >>> from nearmark.packing import PackingRequest, cylinder, grain_shape, settle
    >>> jar = settle(PackingRequest(grain_shape("sphere"), 4, 10.0, cylinder(5.0, 8.0)))
    >>> print(bulk_fraction(jar, 1.0))
    None

    Parameters
    ----------
    height_cm : cm; fill height
    margin : widths; what is left out at every side
    """
    keep_cm = margin * jar.request.width_mm / 10
    low_cm, high_cm = keep_cm + jar.request.vessel.edge_cm, height_cm - keep_cm
    filled, inside = fill_map(jar, low_cm, high_cm, keep_cm)
    if inside.sum() < (2 * CELLS_A_WIDTH) ** 3:
        return None
    return float(filled[inside].mean())


def fill_map(
    jar: Jar, low_cm: float, high_cm: float, keep_cm: float
) -> tuple[np.ndarray, np.ndarray]:
    """A level slice of the jar in small cells: which are inside a piece, which off the wall.

    Both of shape (nx, ny, nz), cells about an eighth of a width across; empty if nothing remains.

    The cells tile the slice exactly, so that its faces cut no cell: a face that lay half a cell
    off would take in or leave out part of the gap between two layers of an ordered pile.

    >>> from nearmark.packing import PackingRequest, cylinder, grain_shape, settle
    >>> jar = settle(PackingRequest(grain_shape("sphere"), 4, 10.0, cylinder(5.0, 8.0)))
    >>> filled, inside = fill_map(jar, 0.0, 1.0, 0.5)
    >>> filled.shape == inside.shape == (32, 32, 8)
    True

    Parameters
    ----------
    low_cm, high_cm : cm; height of the slice's floor and ceiling
    keep_cm : cm; what is left out along the wall
    """
    from nearmark.packing.kernel_view import filled_cells  # noqa: PLC0415 - compiler on first use

    vessel = jar.request.vessel
    widest = max(0.0, vessel.slope) * max(high_cm, 0.0) - keep_cm
    half_x, half_y = vessel.width_cm / 2 + widest, vessel.depth_cm / 2 + widest
    corner = np.array([-half_x, -half_y, low_cm])
    span = np.array([2 * half_x, 2 * half_y, high_cm - low_cm])
    if span.min() <= 0:
        return np.zeros((0, 0, 0), bool), np.zeros((0, 0, 0), bool)
    counts = np.maximum(1, np.rint(span * CELLS_A_WIDTH * 10 / jar.request.width_mm)).astype(int)
    step = span / counts
    middle = corner + step / 2
    filled = filled_cells(*part_ends_cm(jar), middle, step, counts)
    if vessel.form == "box":
        return filled, np.ones(filled.shape, bool)
    x, y, z = (m + s * np.arange(n) for m, s, n in zip(middle, step, counts, strict=True))
    room = vessel.width_cm / 2 + vessel.slope * z - keep_cm
    return filled, np.hypot(x[:, None, None], y[:, None]) < room
