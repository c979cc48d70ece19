"""How 100 g of a material looks in a cup, and what the hand can feel of it."""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nearmark.errors import InputError
from nearmark.kit.materials import CatalogueMaterial
from nearmark.kit.vessels import CupSize

FULL: Final = 0.95
HARDLY_COVERS: Final = 0.20
HIDING_SHARE: Final = 0.30
"""Tare share of the gross mass from which a cup hides the net mass (common practice, no source)."""


class CupWarning(StrEnum):
    """What follows from a mass in a cup for the children who scoop."""

    DOES_NOT_FIT = "does not fit"
    SPILLS = "spills"
    HARDLY_COVERS = "hardly covers"
    HIDES_NET = "hides the net mass"


@dataclass(frozen=True, slots=True)
class CupFill:
    """The wanted mass in one cup."""

    pieces: int  # about how many the wanted mass is
    fill: float  # share of the brim volume (dimensionless)
    tare_share: float  # tare divided by gross mass (dimensionless)
    material: str  # its plain name
    us_fl_oz: float  # size of the cup (US fl oz)
    warnings: tuple[CupWarning, ...]


def cup_fill(material: CatalogueMaterial, cup: CupSize, *, mass_g: float = 100.0) -> CupFill:
    """Fill of a cup with the wanted mass, and what follows for the children.

    >>> from nearmark.kit.materials import material
    >>> fill = cup_fill(material("hex-nut-m6"), CupSize(12, 8.5))
    >>> fill.pieces, f"{fill.fill:.0%}", len(fill.warnings)
    (42, '8%', 1)

    Parameters
    ----------
    mass_g : g, > 0

    Raises
    ------
    InputError : if the mass is not above zero, or the cup has no size
    """
    checks = (
        (mass_g > 0, "mass", mass_g, "Give it in g"),
        (cup.us_fl_oz > 0, "cup size", cup.us_fl_oz, "Give it in US fluid ounces"),
        (cup.tare_g >= 0, "tare of the cup", cup.tare_g, "Give it in g"),
    )
    for ok, where, value, mend in checks:
        if not (ok and math.isfinite(value)):
            raise InputError("must be above zero", where=where, value=value, mend=mend)
    fill = mass_g / material.bulk_density.value / cup.brim_ml
    tare_share = cup.tare_g / (cup.tare_g + mass_g)
    return CupFill(
        pieces=round(mass_g / material.piece_mass_g),
        fill=fill,
        tare_share=tare_share,
        material=material.plain_name,
        us_fl_oz=cup.us_fl_oz,
        warnings=_warnings(fill, tare_share),
    )


def _warnings(fill: float, tare_share: float) -> tuple[CupWarning, ...]:
    found = []
    if fill > 1:
        found.append(CupWarning.DOES_NOT_FIT)
    elif fill > FULL:
        found.append(CupWarning.SPILLS)
    elif fill < HARDLY_COVERS:
        found.append(CupWarning.HARDLY_COVERS)
    if tare_share > HIDING_SHARE:
        found.append(CupWarning.HIDES_NET)
    return tuple(found)
