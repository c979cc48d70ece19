"""Pictures of a jar from above and from its side, as arrays of piece numbers."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from nearmark.packing.jar import Jar, part_ends_cm

PIXELS_A_WIDTH: Final = 8
"""Finer than the six below which a small piece's visible share is coarse."""


@dataclass(frozen=True, slots=True, eq=False)
class IdPicture:
    """Which piece is in front at each pixel."""

    pieces: np.ndarray  # index of the piece or -1, shape (nu, nv)
    # Height, or distance out from the axis, of what is seen; -inf where nothing is (widths, shape
    # (nu, nv)).
    front: np.ndarray
    own: np.ndarray  # silhouette of each piece with nothing before it (pixels)

    def visible_share(self) -> np.ndarray:
        """Share of its own silhouette that is seen of each piece, shape (n,)."""
        seen = np.bincount(self.pieces[self.pieces >= 0], minlength=len(self.own))
        share: np.ndarray = seen / self.own
        return share


def top_view(jar: Jar) -> IdPicture:
    """Look straight down.

    >>> from nearmark.packing import PackingRequest, cylinder, grain_shape, settle
    >>> jar = settle(PackingRequest(grain_shape("sphere"), 4, 10.0, cylinder(5.0, 8.0)))
    >>> bool((top_view(jar).visible_share() > 0).any())
    True
    """
    starts, ends, radii = part_ends_cm(jar)
    return _picture(jar, starts, ends, radii)


def side_view(jar: Jar) -> IdPicture:
    """Look at the wall: all round a round vessel, unrolled; the front (-y) face of a box.

    The second axis is upwards.

    >>> from nearmark.packing import PackingRequest, cylinder, grain_shape, settle
    >>> jar = settle(PackingRequest(grain_shape("sphere"), 4, 10.0, cylinder(5.0, 8.0)))
    >>> side_view(jar).pieces.ndim
    2
    """
    starts, ends, radii = part_ends_cm(jar)
    if jar.request.vessel.form == "box":
        turn = np.array([[1.0, 0, 0], [0, 0, -1], [0, 1, 0]])
        return _picture(jar, starts @ turn, ends @ turn, radii)
    around = jar.request.vessel.width_cm / 2
    angle = np.arctan2(jar.centres_cm[:, 1], jar.centres_cm[:, 0])
    return _picture(jar, _unrolled(starts, angle, around), _unrolled(ends, angle, around), radii)


def _unrolled(points: np.ndarray, angle: np.ndarray, around: float) -> np.ndarray:
    """Points as (arc, height, distance from the axis); a piece is kept whole about its centre."""
    c, s = np.cos(angle)[:, None], np.sin(angle)[:, None]
    out = c * points[..., 0] + s * points[..., 1]
    aside = c * points[..., 1] - s * points[..., 0]
    flat: np.ndarray = np.stack([angle[:, None] * around + aside, points[..., 2], out], axis=-1)
    return flat


def _picture(jar: Jar, starts: np.ndarray, ends: np.ndarray, radii: np.ndarray) -> IdPicture:
    from nearmark.packing.kernel_view import id_picture  # noqa: PLC0415 - compiler on first use

    scale = PIXELS_A_WIDTH / (jar.request.width_mm / 10)
    corners = np.concatenate([starts, ends], axis=1)
    most = radii.max()
    origin = corners[..., :2].min(axis=(0, 1)) - most
    size = corners[..., :2].max(axis=(0, 1)) + most - origin
    shift = np.array([origin[0], origin[1], 0.0])
    nu, nv = (math.ceil(s * scale) for s in size)
    front, pieces, own = id_picture(
        (starts - shift) * scale, (ends - shift) * scale, radii * scale, nu, nv
    )
    return IdPicture(pieces, front / PIXELS_A_WIDTH, own)
