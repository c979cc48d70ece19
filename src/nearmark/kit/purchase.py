"""What to buy for an event, and what the filled things weigh to carry."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nearmark.errors import InputError
from nearmark.kit.materials import CatalogueMaterial
from nearmark.kit.vessels import cup_sizes

MEAN_SCOOP_G: Final = 106.0
SCOOP_SD_G: Final = 37.0
MAX_SCOOP_G: Final = 550.0
"""Scoops are planned as a lognormal of 35 % about 100 g, cut at 550 g: invented for planning,
replace by your own log."""

Z_99: Final = 2.326
"""Normal deviate that 99 % stay below."""

_MIN_G: Final = 0.001
"""A package weighs something."""

LIFTING_LIMIT_KG: Final = 23.0
"""Load constant of the revised NIOSH lifting equation: a limit for ideal conditions only."""

CHILD_LIMIT_KG: Final = 3.0
"""What only adults carry from here on (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Scooping:
    """How the scooping station is run."""

    places: int  # shared evenly by the materials; each place holds one material (places, >= 1)
    pairs: int  # pairs in the whole event (pairs, >= 1)
    returned: bool = True  # whether a scoop goes back into its bucket after weighing
    # What stays in a bucket so that the last pair scoops as the first did (g, >= 0).
    reserve_g: float = 2000.0
    spillage: float = 0.05  # share bought on top (relative, 0 to 1)

    def __post_init__(self) -> None:
        checks = (
            (self.places >= 1, "places", self.places),
            (self.pairs >= 1, "pairs", self.pairs),
            (0 <= self.reserve_g < math.inf, "reserve", self.reserve_g),
            (0 <= self.spillage <= 1, "spillage", self.spillage),
        )
        for ok, where, value in checks:
            if not ok:
                raise InputError("is out of range", where=where, value=value, mend="Check it")

    def per_place_g(self, material: CatalogueMaterial) -> float:
        """What a place starts with: the reserve, and what its pairs take from it.

        Returned material needs one largest scoop beside the reserve.  If it is not returned, the
        pairs of a place empty the bucket: mean of their scoops, and 99 % of how they add up.

        Returns
        -------
        float
            g.

        Examples
        --------
        >>> from nearmark.kit.materials import material
        >>> round(Scooping(12, 80).per_place_g(material("split-pea")))
        2550
        """
        # Nobody scoops more than the largest cup holds: 550 g of light cereal fit in none.
        largest_cup_g = material.bulk_density.value * max(c.brim_ml for c in cup_sizes())
        if self.returned:
            return self.reserve_g + min(MAX_SCOOP_G, largest_cup_g)
        n = math.ceil(self.pairs / self.places)
        scoops = n * MEAN_SCOOP_G + Z_99 * SCOOP_SD_G * math.sqrt(n)
        return self.reserve_g + min(scoops, n * largest_cup_g)


@dataclass(frozen=True, slots=True)
class Purchase:
    """One line of the purchase list."""

    material: CatalogueMaterial
    mass_g: float  # what is needed, spillage included
    packages: int  # whole packages to buy (packages)
    places: int  # how many scoop this material (places)
    per_place_g: float  # what each of them starts with; 0 if none does


def purchase_list(
    scooped: Sequence[CatalogueMaterial],
    scooping: Scooping,
    *,
    package_g: Mapping[str, float],
    poured: Sequence[tuple[CatalogueMaterial, float]] = (),
) -> tuple[Purchase, ...]:
    """What to buy for the scooping places and the containers together, one line a material.

    Parameters
    ----------
    scooped : shape (m,), m >= 1
        Materials of the places; the first ones get the places that are left over.
    package_g : code -> g, > 0
        Net mass of a package of each material.
    poured : pairs (material, g >= 0)
        What each container takes.

    Raises
    ------
    InputError
        If there are fewer places than materials, or a mass is missing or impossible.

    Examples
    --------
    >>> from nearmark.kit.materials import material
    >>> peas, nuts = material("split-pea"), material("hex-nut-m6")
    >>> lines = purchase_list([peas, nuts], Scooping(12, 80),
    ...                       package_g={"split-pea": 900, "hex-nut-m6": 2400})
    >>> [(line.material.code, line.places, line.packages) for line in lines]
    [('split-pea', 6, 18), ('hex-nut-m6', 6, 7)]
    """
    places = _shared_places(scooped, scooping.places)
    wanted = {each.code: each for each in (*scooped, *(each for each, _ in poured))}
    lines = []
    for code, each in wanted.items():
        start = scooping.per_place_g(each) if code in places else 0.0
        taken = sum(_mass(g, f"poured {code}", low=0) for other, g in poured if other.code == code)
        mass = (places.get(code, 0) * start + taken) * (1 + scooping.spillage)
        package = _mass(package_g.get(code, math.nan), f"package of {code}", low=_MIN_G)
        lines.append(Purchase(each, mass, math.ceil(mass / package), places.get(code, 0), start))
    return tuple(lines)


def _shared_places(scooped: Sequence[CatalogueMaterial], places: int) -> dict[str, int]:
    codes = list(dict.fromkeys(each.code for each in scooped))
    if not 1 <= len(codes) <= places:
        raise InputError(
            "needs one material at least, and a place for each",
            where="materials to scoop",
            value=f"{len(codes)} for {places} places",
            mend="Take fewer materials or more places",
        )
    each, left = divmod(places, len(codes))
    return {code: each + (i < left) for i, code in enumerate(codes)}


def _mass(value: float, where: str, *, low: float) -> float:
    if not low <= value < math.inf:  # also refuses NaN, which compares false
        raise InputError("needs a mass in g", where=where, value=value, mend="Give it in g")
    return value


class Carrier(StrEnum):
    """Who may carry a load."""

    NOBODY = "nobody"
    ADULT = "adult"
    ANYBODY = "anybody"


@dataclass(frozen=True, slots=True)
class Load:
    """What a filled container weighs to carry."""

    mass_kg: float  # kg
    carrier: Carrier  # who may carry it


def carried_mass(contents_g: float, tare_g: float) -> Load:
    """Mass of a filled container and who may carry it.

    Parameters
    ----------
    contents_g, tare_g : g, >= 0

    Raises
    ------
    InputError
        If a mass is negative or not a number.

    References
    ----------
    NIOSH Publication 94-110, load constant 23 kg; it is lowered by reach, height, twist and
    frequency, so it is no licence to lift as much (``sources.toml``, niosh-lifting).

    Examples
    --------
    >>> carried_mass(9000, 420).mass_kg
    9.42
    """
    mass = (_mass(contents_g, "contents", low=0) + _mass(tare_g, "tare", low=0)) / 1000
    if mass > LIFTING_LIMIT_KG:
        return Load(mass, Carrier.NOBODY)
    return Load(mass, Carrier.ADULT if mass > CHILD_LIMIT_KG else Carrier.ANYBODY)
