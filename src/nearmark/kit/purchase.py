"""What to buy for an event, and what the filled things weigh to carry."""

import math
from dataclasses import dataclass
from typing import Final

from nearmark.errors import InputError
from nearmark.kit.materials import CatalogueMaterial

MEAN_SCOOP_G: Final = 106.0
SCOOP_SD_G: Final = 37.0
LARGEST_SCOOP_G: Final = 550.0
RESERVE_G: Final = 2000.0
"""A place keeps this much so that its last pair scoops as its first did.  The scoops follow a
lognormal of 35 % about 100 g, cut at 550 g: invented for planning, replace by your own log."""

Z_99: Final = 2.326
LIFTING_LIMIT_KG: Final = 23.0
"""Load constant of the revised NIOSH lifting equation (1991), ideal case (from memory)."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """One line of the purchase list.

    Attributes
    ----------
    material : str
    mass_g : g
        What is needed, spillage included.
    packages : packages
        Whole packages to buy.
    per_place_g : g
        What each place starts with.
    """

    material: str
    mass_g: float
    packages: int
    per_place_g: float


def scoop_supply(
    material: CatalogueMaterial,
    *,
    places: int,
    pairs: int,
    returned: bool,
    package_g: float,
    spillage: float = 0.05,
) -> Purchase:
    """How much of a material the first station needs.

    Returned material goes back into the bucket after weighing: each place then needs its reserve
    and one largest scoop.  If it is not returned, the pairs of a place empty the bucket: mean and
    99 % of the sum of their scoops.

    Parameters
    ----------
    material : CatalogueMaterial
    places : places, >= 1
    pairs : pairs, >= 1
        All pairs that scoop this material.
    returned : bool
    package_g : g, > 0
        Net mass of a package.
    spillage : relative, >= 0

    Returns
    -------
    Purchase

    Raises
    ------
    InputError
        If a number is impossible.

    Examples
    --------
    >>> from nearmark.kit.materials import material
    >>> supply = scoop_supply(material("split-pea"), places=12, pairs=80, returned=True,
    ...                       package_g=900)
    >>> round(supply.per_place_g), supply.packages
    (2550, 36)
    """
    for name, value in (("places", places), ("pairs", pairs), ("package", package_g)):
        if not value > 0:
            raise InputError("must be above zero", where=name, value=value, mend="Check it")
    if returned:
        per_place = RESERVE_G + LARGEST_SCOOP_G
    else:
        at_a_place = math.ceil(pairs / places)
        scooped = at_a_place * MEAN_SCOOP_G + Z_99 * SCOOP_SD_G * math.sqrt(at_a_place)
        per_place = RESERVE_G + scooped
    mass = places * per_place * (1 + spillage)
    return Purchase(material.name, mass, math.ceil(mass / package_g), per_place)


@dataclass(frozen=True, slots=True)
class Load:
    """What a filled container weighs to carry.

    Attributes
    ----------
    mass_kg : kg
    words : str
    """

    mass_kg: float
    words: str


def carried_mass(contents_g: float, tare_g: float) -> Load:
    """Mass of a filled container and who may carry it.

    Parameters
    ----------
    contents_g, tare_g : g, >= 0

    Returns
    -------
    Load

    Raises
    ------
    InputError
        If a mass is negative or not a number.

    Examples
    --------
    >>> carried_mass(9000, 420).mass_kg
    9.42
    """
    for name, value in (("contents", contents_g), ("tare", tare_g)):
        if not (math.isfinite(value) and value >= 0):
            raise InputError("must not be negative", where=name, value=value, mend="Give it in g")
    mass = (contents_g + tare_g) / 1000
    if mass > LIFTING_LIMIT_KG:
        words = f"{mass:.1f} kg: above {LIFTING_LIMIT_KG:g} kg, split it into smaller buckets."
    elif mass > 3:
        words = f"{mass:.1f} kg: an adult carries it, never a child."
    else:
        words = f"{mass:.1f} kg: light, but full glass and buckets are for adults to carry."
    return Load(mass, f"{words} Follow your local rules.")
