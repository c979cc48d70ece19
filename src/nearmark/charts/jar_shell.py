"""The pieces of a jar that can be seen at all: through the wall or from above.

Only these are sent to a page before the answer, so that what is sent does not give the count away,
and only these are drawn: the inside of a full jar is hidden by its outside.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from nearmark.packing import Jar, part_ends_cm

LOOKS_AROUND: Final = 20
HEAD_DEGREES: Final = (0.0, 18.0, 36.0, 58.0)
"""How high the head is in the pictures that decide what can be seen; straight down comes on top."""

PIXELS_A_WIDTH: Final = 7
"""Enough for a gap a seventh of a piece wide."""


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """What is seen from one side, as arrays with u to the right and v upwards."""

    depth: np.ndarray  # larger in front; -inf where nothing is (pixels, shape (nu, nv))
    pieces: np.ndarray  # index of the piece or -1, shape (nu, nv)
    normals: np.ndarray  # unit vectors (u, v, w), shape (nu, nv, 3)


def looking(turn_degrees: float, head_degrees: float) -> np.ndarray:
    """The rotation into the picture of somebody who looks at the jar.

    ``turn_degrees`` (degrees): where the person is, anticlockwise from +x. ``head_degrees``
    (degrees): 0 at the height of the table, 90 straight above. Returns ndarray: rows are right, up
    and towards the eye, shape (3, 3).

    From the front, x runs to the right and z upwards.

    >>> abs(looking(-90, 0)).round(6).tolist()
    [[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]]
    """
    a, e = np.radians(turn_degrees), np.radians(head_degrees)
    return np.array(
        [
            [-np.sin(a), np.cos(a), 0.0],
            [-np.sin(e) * np.cos(a), -np.sin(e) * np.sin(a), np.cos(e)],
            [np.cos(e) * np.cos(a), np.cos(e) * np.sin(a), np.sin(e)],
        ]
    )


def trace(
    jar: Jar,
    look: np.ndarray,
    *,
    pixels_a_cm: float,
    window_cm: tuple[float, float, float, float],
    only: np.ndarray | None = None,
) -> Trace:
    """Draw the pieces as somebody far away sees them.

    ``look`` (shape (3, 3)): of ``looking``. ``pixels_a_cm``: pixels/cm. ``window_cm``: left, right,
    bottom and top of the picture. ``only`` (indices of pieces, optional): draw no others; numbers
    in the picture are those of the jar all the same.
    """
    from nearmark.charts.kernel_capsules import traced  # noqa: PLC0415 - compiler on first use

    chosen = np.arange(len(jar.sizes)) if only is None else only
    starts, ends, radii = part_ends_cm(jar)
    left, right, bottom, top = window_cm
    corner = np.array([left, bottom, 0.0])
    depth, pieces, normals = traced(
        (starts[chosen] @ look.T - corner) * pixels_a_cm,
        (ends[chosen] @ look.T - corner) * pixels_a_cm,
        radii[chosen] * pixels_a_cm,
        round((right - left) * pixels_a_cm),
        round((top - bottom) * pixels_a_cm),
    )
    return Trace(depth, np.where(pieces >= 0, chosen[pieces], -1), normals)


def around(jar: Jar, look: np.ndarray) -> tuple[float, float, float, float]:
    """The window that holds all pieces.

    ``look``: shape (3, 3). Returns: left, right, bottom, top, in cm.
    """
    starts, ends, radii = part_ends_cm(jar)
    points = np.concatenate([starts, ends], axis=1).reshape(-1, 3) @ look.T[:, :2]
    low, high = points.min(axis=0) - radii.max(), points.max(axis=0) + radii.max()
    return float(low[0]), float(high[0]), float(low[1]), float(high[1])


def seen_pieces(jar: Jar) -> np.ndarray:
    """Which pieces somebody who walks around the jar can see, in part at least.

    Returns ndarray: indices in rising order.
    """
    looks = [looking(-90.0, 90.0)]
    looks += [
        looking(360.0 * k / LOOKS_AROUND + 3.0 * row, head)
        for row, head in enumerate(HEAD_DEGREES)
        for k in range(LOOKS_AROUND)
    ]
    return np.unique(np.concatenate([in_sight(jar, look) for look in looks]))


def in_sight(jar: Jar, look: np.ndarray) -> np.ndarray:
    """Which pieces are seen from one side.

    ``look`` (shape (3, 3)): of ``looking``. Returns ndarray: indices in rising order.
    """
    pixels_a_cm = PIXELS_A_WIDTH / (jar.request.width_mm / 10)
    picture = trace(jar, look, pixels_a_cm=pixels_a_cm, window_cm=around(jar, look))
    return np.unique(picture.pieces[picture.pieces >= 0])
