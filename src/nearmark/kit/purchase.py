"""What to buy for an event, and what the filled things weigh to carry."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
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

HEAVY_FACTOR: Final = 2.0
"""Somebody who takes much takes twice as much as others (common practice, no source)."""

MIN_SPARE_CUPS: Final = 5
SPARE_CUPS: Final = 0.1
"""Cups beside those that are needed: some crack, some are numbered wrong (common practice, no
source)."""

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
    # Share of the pairs that take ``HEAVY_FACTOR`` as much as the others (relative, 0 to 1).
    heavy_share: float = 0.0
    bucket_l: float = 0.0  # what a bucket of a place holds; 0: not stated (L, >= 0)

    def __post_init__(self) -> None:
        checks = (
            (self.places >= 1, "places", self.places),
            (self.pairs >= 1, "pairs", self.pairs),
            (0 <= self.reserve_g < math.inf, "reserve", self.reserve_g),
            (0 <= self.spillage <= 1, "spillage", self.spillage),
            (0 <= self.heavy_share <= 1, "pairs that take much", self.heavy_share),
            (0 <= self.bucket_l < math.inf, "bucket", self.bucket_l),
        )
        for ok, where, value in checks:
            if not ok:
                raise InputError("is out of range", where=where, value=value, mend="Check it")

    def per_place_g(self, material: CatalogueMaterial) -> float:
        """What a place starts with, in g: the reserve, and what its pairs take from it.

        Returned material needs one largest scoop beside the reserve.  If it is not returned, the
        pairs of a place empty the bucket: mean of their scoops, and 99 % of how they add up.
        Those who take much are mixed in: mean and variance of the mixture.

        >>> from nearmark.kit.materials import material
        >>> round(Scooping(12, 80).per_place_g(material("split-pea")))
        2550
        """
        # Nobody scoops more than the largest cup holds: 550 g of light cereal fit in none.
        largest_cup_g = material.bulk_density.value * max(c.brim_ml for c in cup_sizes())
        if self.returned:
            return self.reserve_g + min(MAX_SCOOP_G, largest_cup_g)
        n = math.ceil(self.pairs / self.places)
        mean_g, sd_g = self._scoop()
        scoops = n * mean_g + Z_99 * sd_g * math.sqrt(n)
        return self.reserve_g + min(scoops, n * largest_cup_g)

    def _scoop(self) -> tuple[float, float]:
        """Mean and standard deviation of one scoop, in g."""
        share, more = self.heavy_share, HEAVY_FACTOR
        mean_g = MEAN_SCOOP_G * (1 + share * (more - 1))
        square = (MEAN_SCOOP_G**2 + SCOOP_SD_G**2) * (1 + share * (more**2 - 1))
        return mean_g, math.sqrt(square - mean_g**2)

    def refills(self, material: CatalogueMaterial) -> int:
        """How often the bucket of a place is filled again, so that it never overflows.

        0 when it is not stated what a bucket holds.

        >>> from nearmark.kit.materials import material
        >>> Scooping(4, 80, returned=False, bucket_l=2).refills(material("split-pea"))
        2
        """
        first_g = self.first_fill_g(material)
        return max(0, math.ceil(self.per_place_g(material) / first_g - 1e-9) - 1) if first_g else 0

    def first_fill_g(self, material: CatalogueMaterial) -> float:
        """What is in a bucket when the day begins: all the place needs, or as much as it holds.

        >>> from nearmark.kit.materials import material
        >>> round(Scooping(4, 80, returned=False, bucket_l=2).first_fill_g(material("split-pea")))
        1666
        """
        needed_g = self.per_place_g(material)
        full_g = 1000 * self.bucket_l * material.bulk_density.value
        return min(needed_g, full_g) if full_g else needed_g


@dataclass(frozen=True, slots=True)
class Purchase:
    """One line of the purchase list."""

    material: CatalogueMaterial
    mass_g: float  # what is needed, spillage included
    packages: int  # whole packages to buy (packages)
    places: int  # how many scoop this material (places)
    per_place_g: float  # what each of them needs in all; 0 if none does
    refills: int = 0  # how often the bucket of each of them is filled again
    spare_packages: int = 0  # whole packages that are in no bucket and no container at the start
    package_g: float = 0.0


def purchase_list(
    scooped: Sequence[CatalogueMaterial],
    scooping: Scooping,
    *,
    package_g: Mapping[str, float],
    poured: Sequence[tuple[CatalogueMaterial, float]] = (),
) -> tuple[Purchase, ...]:
    """What to buy for the scooping places and the containers together, one line a material.

    >>> from nearmark.kit.materials import material
    >>> peas, nuts = material("split-pea"), material("hex-nut-m6")
    >>> lines = purchase_list([peas, nuts], Scooping(12, 80),
    ...                       package_g={"split-pea": 900, "hex-nut-m6": 2400})
    >>> [(line.material.code, line.places, line.packages) for line in lines]
    [('split-pea', 6, 18), ('hex-nut-m6', 6, 7)]

    Parameters
    ----------
    scooped : shape (m,), m >= 1
        Materials of the places; the first ones get the places that are left over.
    package_g : code -> g, > 0; net mass of a package of each material
    poured : pairs (material, g >= 0); what each container takes

    Raises
    ------
    InputError : if there are fewer places than materials, or a mass is missing or impossible
    """
    places = _shared_places(scooped, scooping.places)
    wanted = {each.code: each for each in (*scooped, *(each for each, _ in poured))}
    lines = []
    for code, each in wanted.items():
        start = scooping.per_place_g(each) if code in places else 0.0
        taken = sum(_mass(g, f"poured {code}", low=0) for other, g in poured if other.code == code)
        mass = (places.get(code, 0) * start + taken) * (1 + scooping.spillage)
        package = _mass(package_g.get(code, math.nan), f"package of {code}", low=_MIN_G)
        refills = scooping.refills(each) if code in places else 0
        packages = math.ceil(mass / package)
        filled = taken + (places[code] * scooping.first_fill_g(each) if code in places else 0.0)
        spare = max(0, int((packages * package - filled) // package))
        lines.append(
            Purchase(each, mass, packages, places.get(code, 0), start, refills, spare, package)
        )
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


@dataclass(frozen=True, slots=True)
class Costs:
    """What the packages cost, in the currency in which their prices were typed."""

    by_code: dict[str, Decimal]  # of each material that has a price
    total: Decimal
    unpriced: tuple[str, ...]  # names of the materials without one


def costs(lines: Sequence[Purchase], prices: Mapping[str, Decimal]) -> Costs:
    """What the lines of a purchase list cost.

    >>> from nearmark.kit.materials import material
    >>> lines = purchase_list([material("split-pea")], Scooping(2, 9), package_g={"split-pea": 900})
    >>> lines[0].packages, costs(lines, {"split-pea": Decimal("1.50")}).total
    (6, Decimal('9.00'))

    Parameters
    ----------
    lines : shape (m,)
    prices : code -> price of one package, >= 0

    Raises
    ------
    InputError : if a price is negative
    """
    for code, price in prices.items():
        if not price >= 0:
            raise InputError("must be zero or more", where=f"price of {code}", value=price)
    found = {
        line.material.code: line.packages * prices[line.material.code]
        for line in lines
        if line.material.code in prices
    }
    unpriced = tuple(line.material.name for line in lines if line.material.code not in prices)
    return Costs(found, sum(found.values(), Decimal(0)), unpriced)


@dataclass(frozen=True, slots=True)
class CupsNeeded:
    """How many cups to have, numbered from 1."""

    needed: int  # one for each pair and item of the mass station
    spare: int  # numbered and weighed as well

    @property
    def total(self) -> int:
        """All of them: the highest number."""
        return self.needed + self.spare


def cups_needed(pairs: int, items: int = 1) -> CupsNeeded:
    """How many numbered cups with a tare an event needs.

    >>> cups_needed(80), cups_needed(20, 2).total
    (CupsNeeded(needed=80, spare=8), 45)

    Parameters
    ----------
    pairs : pairs, >= 0
    items : items of the mass station, >= 0
    """
    if pairs < 0 or items < 0:
        raise InputError("must be zero or more", where="pairs and items", value=f"{pairs}, {items}")
    needed = pairs * items
    return CupsNeeded(needed, max(MIN_SPARE_CUPS, math.ceil(needed * SPARE_CUPS)) if needed else 0)


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

    >>> carried_mass(9000, 420).mass_kg
    9.42

    Parameters
    ----------
    contents_g, tare_g : g, >= 0

    Raises
    ------
    InputError : if a mass is negative or not a number

    References
    ----------
    NIOSH Publication 94-110, load constant 23 kg; it is lowered by reach, height, twist and
    frequency, so it is no licence to lift as much (``sources.toml``, niosh-lifting).
    """
    mass = (_mass(contents_g, "contents", low=0) + _mass(tare_g, "tare", low=0)) / 1000
    if mass > LIFTING_LIMIT_KG:
        return Load(mass, Carrier.NOBODY)
    return Load(mass, Carrier.ADULT if mass > CHILD_LIMIT_KG else Carrier.ANYBODY)
