"""The record of one settled jar: where each piece lies, and how well the bed is at rest."""

from dataclasses import dataclass

import numpy as np

from nearmark.packing.request import PackingRequest
from nearmark.packing.shapes import solid


@dataclass(frozen=True, slots=True)
class Rest:
    """How still and how clean the bed is."""

    kinetic: float  # mean kinetic energy; w is the width of a piece (m g w per piece)
    # Of all touching pairs (widths).
    overlap_max: float
    overlap_median: float
    # Mean number of bearing contacts, walls counted once and pairs for both pieces (per piece).
    contacts: float
    # Largest rise of the mechanical energy between two looks after the last piece had landed and
    # before any tap (m g w per piece).
    rise: float
    steps: int  # steps
    time: float  # simulated (sqrt(w / g))


@dataclass(frozen=True, slots=True, eq=False)
class Jar:
    """A vessel with pieces at rest."""

    request: PackingRequest
    version: int  # of the packing engine; a jar is the same only for the same version
    # Centres of mass; the floor's centre is the origin, z is up (cm, shape (n, 3)).
    centres_cm: np.ndarray
    turns: np.ndarray  # unit quaternions w x y z, shape (n, 4)
    sizes: np.ndarray  # width of each piece over the mean width (dimensionless)
    rest: Rest

    @property
    def piece_volumes_cm3(self) -> np.ndarray:
        """Volume of the material of each piece, cm3, shape (n,)."""
        width_cm = self.request.width_mm / 10
        volumes: np.ndarray = solid(self.request.shape).volume * (width_cm * self.sizes) ** 3
        return volumes


def part_ends_cm(jar: Jar) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The capsules of material of every piece where they lie.

    Starts and ends in cm, shape (n, n_parts, 3); radii in cm, shape (n, n_parts).

    >>> import numpy as np
    >>> from nearmark.packing import PackingRequest, cylinder, grain_shape
    >>> ask = PackingRequest(grain_shape("sphere"), 1, 10.0, cylinder(8.0, 12.0))
    >>> still = Rest(0.0, 0.0, 0.0, 0.0, 0.0, 0, 0.0)
    >>> jar = Jar(ask, 1, np.zeros((1, 3)), np.array([[1.0, 0, 0, 0]]), np.ones(1), still)
    >>> part_ends_cm(jar)[2]
    array([[0.5]])
    """
    body = solid(jar.request.shape)
    width = jar.sizes * jar.request.width_mm / 10
    n = body.n_drawn
    w, xyz = jar.turns[:, None, :1], jar.turns[:, None, 1:]

    def placed(local: np.ndarray) -> np.ndarray:
        turned = 2 * np.cross(xyz, local[None])
        moved: np.ndarray = local + w * turned + np.cross(xyz, turned)
        there: np.ndarray = jar.centres_cm[:, None] + width[:, None, None] * moved
        return there

    return placed(body.starts[:n]), placed(body.ends[:n]), width[:, None] * body.radii[:n]
