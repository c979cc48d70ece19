"""Cups and vessels of the catalogue."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from nearmark.errors import InputError
from nearmark.kit.catalogue_files import Table, nearest, read_catalogue
from nearmark.units import ml_from_us_fl_oz

SIZES: Final = {"cylinder": 2, "box": 3, "taper": 3}
"""How many sizes a shape has: diameter, height; length, width, height; bottom, top, height."""


@dataclass(frozen=True, slots=True)
class CupSize:
    """A cup size; the tare is typical, measure your own."""

    us_fl_oz: float  # US fluid ounces
    tare_g: float

    @property
    def brim_ml(self) -> float:
        """Volume to the brim, in mL (= cm3)."""
        return ml_from_us_fl_oz(self.us_fl_oz)


@dataclass(frozen=True, slots=True)
class Vessel:
    """A container by its inner sizes."""

    code: str
    name: str
    shape: str  # ``cylinder``, ``box`` or ``taper`` (a frustum)
    # Diameter, height; length, width, height; or bottom and top diameter, height.
    sizes_cm: tuple[float, ...]
    tare_g: float  # typical, measure your own

    @property
    def height_cm(self) -> float:
        """Inner height, in cm."""
        return self.sizes_cm[-1]

    @property
    def narrowest_cm(self) -> float:
        """Smallest inner width, in cm."""
        return min(self.sizes_cm[:-1])

    @property
    def volume_cm3(self) -> float:
        """Inner volume to the brim, in cm3."""
        return self.volume_to(self.height_cm)

    def volume_to(self, fill_cm: float) -> float:
        """Volume up to a fill height, in cm3.

        >>> round(Vessel("j", "jar", "cylinder", (10.0, 12.0), 50).volume_to(6.0), 1)
        471.2

        Parameters
        ----------
        fill_cm : cm, 0 to the inner height

        Raises
        ------
        InputError : if the height is outside the vessel
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
        bottom, slope = self._taper
        level = bottom + slope * fill_cm
        return math.pi / 12 * fill_cm * (bottom**2 + bottom * level + level**2)

    def height_of(self, volume_cm3: float) -> float | None:
        """Fill height of a volume, in cm; ``None`` if it does not fit.

        >>> jar = Vessel("j", "jar", "cylinder", (10.0, 12.0), 50)
        >>> round(jar.height_of(471.2), 2), jar.height_of(1000)
        (6.0, None)

        Parameters
        ----------
        volume_cm3 : cm3, >= 0
        """
        if volume_cm3 > self.volume_cm3:
            return None
        if self.shape == "box":
            return volume_cm3 / (self.sizes_cm[0] * self.sizes_cm[1])
        bottom, slope = self._taper
        # The frustum is the difference of two cones, V = pi / (12 slope) (level^3 - bottom^3);
        # the height (level - bottom) / slope is written so that a slope of nought divides nothing.
        level = math.cbrt(bottom**3 + 12 * slope * volume_cm3 / math.pi)
        return 12 * volume_cm3 / math.pi / (level**2 + level * bottom + bottom**2)

    @property
    def _taper(self) -> tuple[float, float]:
        """Bottom diameter in cm, and its growth per cm of height."""
        bottom = self.sizes_cm[0]
        top = bottom if self.shape == "cylinder" else self.sizes_cm[1]
        return bottom, (top - bottom) / self.height_cm


def cup_sizes() -> tuple[CupSize, ...]:
    """Cup sizes from 8 to 28 US fluid ounces.

    >>> [round(c.brim_ml) for c in cup_sizes()][:3]
    [237, 266, 296]
    """
    return tuple(cup_from(entry) for entry in read_catalogue("cups")["cup"])


def cup_from(entry: Mapping[str, Any]) -> CupSize:
    """Build one cup size from its table, after checking every field.

    >>> cup_from({"us_fl_oz": 12, "tare_g": 8.5})
    CupSize(us_fl_oz=12.0, tare_g=8.5)

    Raises
    ------
    InputError : if a field is missing, unknown or impossible
    """
    table = Table("cup", {"code": f"of {entry.get('us_fl_oz')} fl oz", **entry})
    table.refuse_unknown(("code", "us_fl_oz", "tare_g"))
    return CupSize(table.number("us_fl_oz", 1, 100), table.number("tare_g", 0.1, 2000))


def vessels() -> dict[str, Vessel]:
    """Vessels by their code.

    >>> round(vessels()["jar-1000"].volume_cm3)
    999
    """
    return dict(_vessels())


@cache
def _vessels() -> dict[str, Vessel]:
    built = map(vessel_from, read_catalogue("vessels")["vessel"])
    return {each.code: each for each in built}


def vessel_from(entry: Mapping[str, Any]) -> Vessel:
    """Build one vessel from its table, after checking every field.

    >>> try:
    ...     vessel_from({"code": "jar", "name": "jar", "shape": "box", "sizes_cm": [9, 9]})
    ... except InputError as error:
    ...     print(error)
    vessel jar, sizes_cm: must be 3 numbers in brackets (got [9, 9]). See \
docs/reference/catalogue.md for what the field means

    Raises
    ------
    InputError : if a field is missing, unknown or impossible
    """
    table = Table("vessel", entry)
    table.refuse_unknown(("code", "name", "shape", "sizes_cm", "tare_g"))
    shape = table.one_of("shape", SIZES)
    sizes = table.numbers("sizes_cm", table.get("sizes_cm"), SIZES[shape], 200)
    tare = table.number("tare_g", 0.1, 20_000)
    return Vessel(table.text("code"), table.text("name"), shape, sizes, tare)


def vessel(code: str) -> Vessel:
    """One vessel by its code.

    >>> vessel("jar-1000").shape
    'cylinder'

    Raises
    ------
    InputError : if there is none; the message names the nearest
    """
    found = _vessels().get(code)
    if found is None:
        raise InputError(
            "is not among the vessels", where="vessel", value=code, mend=nearest(code, _vessels())
        )
    return found
