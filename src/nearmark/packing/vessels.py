"""Vessels with an open top: cylinder, box, tapered cup, jar with a rounded bottom edge."""

import math
from dataclasses import dataclass
from typing import Literal

from nearmark.errors import InputError

Form = Literal["cylinder", "box", "cup", "jar"]
LIMIT_CM = 100.0


@dataclass(frozen=True, slots=True)
class JarVessel:
    """Inside measures of a vessel that is on its floor."""

    form: Form  # cylinder, box, cup or jar
    height_cm: float  # inside, floor to rim
    width_cm: float  # diameter at the floor; of a box the side along x
    depth_cm: float  # of a box the side along y; else equal to the width
    top_cm: float  # diameter at the rim; differs from the width for a cup only
    edge_cm: float = 0.0  # radius of the rounded bottom edge; zero but for a jar

    @property
    def slope(self) -> float:
        """Growth of the radius per height."""
        return (self.top_cm - self.width_cm) / (2 * self.height_cm)

    def volume_below_cm3(self, height_cm: float) -> float:
        """Volume of the vessel up to a height; the walls go on as they are above the rim.

        >>> round(cylinder(10.0, 20.0).volume_below_cm3(10.0), 1)
        785.4

        Parameters
        ----------
        height_cm : cm, >= 0
        """
        z, r = height_cm, self.width_cm / 2
        if self.form == "box":
            return self.width_cm * self.depth_cm * z
        top = r + self.slope * z
        cone = math.pi * z * (r * r + r * top + top * top) / 3
        e, up = self.edge_cm, min(z, self.edge_cm)
        if not e:
            return cone
        # What the rounded edge takes away: the ring between the edge's arc and the corner.
        steps = 200
        lost = 0.0
        for k in range(steps):
            low = e - up * (k + 0.5) / steps
            inner = r - e + math.sqrt(max(0.0, e * e - low * low))
            lost += math.pi * (r * r - inner * inner) * up / steps
        return cone - lost

    def height_holding_cm(self, volume_cm3: float) -> float:
        """Height up to which the vessel holds a volume: the inverse of ``volume_below_cm3``.

        >>> round(cylinder(10.0, 20.0).height_holding_cm(785.398), 3)
        10.0

        Parameters
        ----------
        volume_cm3 : cm3, >= 0
        """
        lo, hi = 0.0, self.height_cm
        while self.volume_below_cm3(hi) < volume_cm3:
            hi *= 2
        for _ in range(60):
            mid = (lo + hi) / 2
            lo, hi = (mid, hi) if self.volume_below_cm3(mid) < volume_cm3 else (lo, mid)
        return (lo + hi) / 2


def _checked(vessel: JarVessel) -> JarVessel:
    for name in ("height_cm", "width_cm", "depth_cm", "top_cm"):
        value = getattr(vessel, name)
        if not (math.isfinite(value) and 0 < value <= LIMIT_CM):
            raise InputError(
                f"must be above 0 and at most {LIMIT_CM:.0f} cm",
                where=f"vessel {name}",
                value=value,
                mend="Give the inside measure in cm",
            )
    if not 0 <= vessel.edge_cm <= min(vessel.width_cm / 2, vessel.height_cm):
        raise InputError(
            "the rounded edge must be between 0 and the radius and height of the jar",
            where="vessel edge_cm",
            value=vessel.edge_cm,
            mend="Give a smaller edge radius in cm",
        )
    if vessel.top_cm < vessel.width_cm or vessel.slope > 1:
        raise InputError(
            "a cup must widen upwards, by no more than 45 degrees",
            where="vessel top_cm",
            value=vessel.top_cm,
            mend=f"Give a rim diameter of at least {vessel.width_cm:g} cm",
        )
    return vessel


def cylinder(diameter_cm: float, height_cm: float) -> JarVessel:
    """A straight round vessel.

    >>> cylinder(8.0, 12.0).form
    'cylinder'

    Parameters
    ----------
    diameter_cm, height_cm : cm, inside
    """
    return _checked(JarVessel("cylinder", height_cm, diameter_cm, diameter_cm, diameter_cm))


def box(width_cm: float, depth_cm: float, height_cm: float) -> JarVessel:
    """A vessel of rectangular ground.

    >>> box(8.0, 6.0, 12.0).volume_below_cm3(10.0)
    480.0

    Parameters
    ----------
    width_cm, depth_cm, height_cm : cm, inside
    """
    return _checked(JarVessel("box", height_cm, width_cm, depth_cm, width_cm))


def cup(floor_cm: float, rim_cm: float, height_cm: float) -> JarVessel:
    """A round vessel that widens upwards.

    >>> cup(5.0, 8.0, 10.0).slope
    0.15

    Parameters
    ----------
    floor_cm, rim_cm, height_cm : cm, inside; diameters at the floor and at the rim
    """
    return _checked(JarVessel("cup", height_cm, floor_cm, floor_cm, rim_cm))


def rounded_jar(diameter_cm: float, height_cm: float, edge_cm: float) -> JarVessel:
    """A straight round vessel with a rounded bottom edge.

    A jar that is all edge ends in a half sphere.

    >>> bowl = rounded_jar(10.0, 20.0, 5.0).volume_below_cm3(5.0)
    >>> round(bowl / (2 / 3 * 3.14159265 * 5**3), 3)
    1.0

    Parameters
    ----------
    diameter_cm, height_cm, edge_cm : cm, inside
    """
    return _checked(JarVessel("jar", height_cm, diameter_cm, diameter_cm, diameter_cm, edge_cm))
