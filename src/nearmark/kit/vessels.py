"""Cups and vessels of the catalogue."""

import math
from dataclasses import dataclass

from nearmark.errors import InputError
from nearmark.kit.catalogue_files import nearest, read_catalogue
from nearmark.units import ml_from_us_fl_oz


@dataclass(frozen=True, slots=True)
class CupSize:
    """A cup size; the tare is typical, measure your own.

    Attributes
    ----------
    us_fl_oz : US fluid ounces
    tare_g : g
    """

    us_fl_oz: float
    tare_g: float

    @property
    def brim_ml(self) -> float:
        """Volume to the brim, in mL (= cm3)."""
        return ml_from_us_fl_oz(self.us_fl_oz)


@dataclass(frozen=True, slots=True)
class Vessel:
    """A container by its inner sizes.

    Attributes
    ----------
    code, name : str
    shape : ``cylinder``, ``box`` or ``taper``
    sizes_cm : cm
        Diameter, height; length, width, height; or bottom and top diameter, height.
    tare_g : g
        Typical, measure your own.
    """

    code: str
    name: str
    shape: str
    sizes_cm: tuple[float, ...]
    tare_g: float

    @property
    def height_cm(self) -> float:
        """Inner height, in cm."""
        return self.sizes_cm[-1]

    @property
    def volume_cm3(self) -> float:
        """Inner volume to the brim, in cm3."""
        return self.volume_to(self.height_cm)

    def volume_to(self, fill_cm: float) -> float:
        """Volume up to a fill height.

        Parameters
        ----------
        fill_cm : cm, 0 to the inner height

        Returns
        -------
        float
            cm3.

        Raises
        ------
        InputError
            If the height is outside the vessel.

        Examples
        --------
        >>> round(Vessel("j", "jar", "cylinder", (10.0, 12.0), 50).volume_to(6.0), 1)
        471.2
        """
        if not 0 <= fill_cm <= self.height_cm:
            raise InputError(
                f"must be between 0 and {self.height_cm:g} cm",
                where=f"fill height of {self.name}",
                value=fill_cm,
                mend="Give the height inside, from the floor",
            )
        if self.shape == "box":
            return self.sizes_cm[0] * self.sizes_cm[1] * fill_cm
        bottom = self.sizes_cm[0]
        top = bottom if self.shape == "cylinder" else self.sizes_cm[1]
        level = bottom + (top - bottom) * fill_cm / self.height_cm
        return math.pi / 12 * fill_cm * (bottom**2 + bottom * level + level**2)


def cup_sizes() -> tuple[CupSize, ...]:
    """Cup sizes from 8 to 28 US fluid ounces.

    Returns
    -------
    tuple of CupSize

    Examples
    --------
    >>> [round(c.brim_ml) for c in cup_sizes()][:3]
    [237, 266, 296]
    """
    return tuple(
        CupSize(float(c["us_fl_oz"]), float(c["tare_g"])) for c in read_catalogue("cups")["cup"]
    )


def vessels() -> dict[str, Vessel]:
    """Vessels by their code.

    Returns
    -------
    dict code -> Vessel

    Examples
    --------
    >>> round(vessels()["jar-1000"].volume_cm3)
    999
    """
    return {
        v["code"]: Vessel(
            v["code"], v["name"], v["shape"], tuple(map(float, v["sizes_cm"])), float(v["tare_g"])
        )
        for v in read_catalogue("vessels")["vessel"]
    }


def vessel(code: str) -> Vessel:
    """One vessel by its code.

    Parameters
    ----------
    code : str
        For example ``jar-1000``.

    Returns
    -------
    Vessel

    Raises
    ------
    InputError
        If there is none; the message names the nearest.

    Examples
    --------
    >>> vessel("jar-1000").shape
    'cylinder'
    """
    found = vessels().get(code)
    if found is None:
        raise InputError(
            "is not among the vessels", where="vessel", value=code, mend=nearest(code, vessels())
        )
    return found
