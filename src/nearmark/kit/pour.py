"""What to pour: the grams for a wanted count, and how a vessel takes them."""

import math
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final

from nearmark.errors import InputError, MeasurementError
from nearmark.kit.figures import OWN
from nearmark.kit.materials import CatalogueMaterial
from nearmark.kit.vessels import Vessel

NARROW: Final = 6
"""Inner width in mean piece diameters below which the walls loosen the heap by 3 % or more.
Source: porosity ``0.4 + 0.05 / k + 0.412 / k^2`` of spheres in a tube ``k`` of them wide; A. G.
Dixon, Can. J. Chem. Eng. 66 (1988) 705-708 (from memory)."""

BRIM: Final = 0.95
SHALLOW: Final = 0.25


@dataclass(frozen=True, slots=True)
class CatalogueMass:
    """The mass of a piece is the catalogue's, not that of the lot in hand."""

    relative_u: float  # relative


@dataclass(frozen=True, slots=True)
class MaterialNote:
    """What the catalogue notes about the material."""

    text: str  # as its data file has it


class FillTrouble(StrEnum):
    """What a fill does in a vessel."""

    MAY_NOT_FIT = "may not fit"
    MAY_NOT_CLOSE = "may not close"
    TOO_SHALLOW = "too shallow"


@dataclass(frozen=True, slots=True)
class FillWarning:
    """The pieces fill a vessel too much or too little."""

    trouble: FillTrouble
    vessel: str  # its name
    fill: float  # share of the vessel filled (dimensionless)
    density_u: float  # how well the bulk density is known (relative)


@dataclass(frozen=True, slots=True)
class NarrowVessel:
    """The walls are so near that they loosen the heap."""

    vessel: str  # its name


PourWarning = CatalogueMass | MaterialNote | FillWarning | NarrowVessel


@dataclass(frozen=True, slots=True)
class Pour:
    """How to fill a container with about a wanted count."""

    pieces: int  # the count aimed at; the key still comes from weighing what was poured
    mass_g: Decimal  # what to weigh out, in steps of the scale
    relative_u: float  # standard uncertainty of the count that results (relative)
    volume_cm3: float
    # Share of the vessel filled; ``None`` without a vessel (dimensionless or None).
    fill: float | None
    height_cm: float | None  # fill height in the vessel; ``None`` without one, or if it is overfull
    warnings: tuple[PourWarning, ...]


def grams_to_pour(
    pieces: int,
    material: CatalogueMaterial,
    *,
    scale_step_g: float,
    piece_mass_g: float | None = None,
    vessel: Vessel | None = None,
) -> Pour:
    """Grams to weigh out for a wanted count.

    >>> from nearmark.kit.materials import material
    >>> pour = grams_to_pour(2874, material("elbow-pasta"), scale_step_g=0.1, piece_mass_g=0.358)
    >>> pour.mass_g
    Decimal('1028.9')

    Parameters
    ----------
    pieces : pieces, >= 1
    scale_step_g : g, > 0; step of the scale; the mass is rounded to it
    piece_mass_g : g or None
        Of your own lot; ``None``: the material's, and a catalogue value is far less sure.
    vessel : where it should fit

    Raises
    ------
    InputError : if a number is impossible
    MeasurementError
        If it cannot fit into the vessel, even if the bulk density is as good as it may be, or the
        scale shows less than one step.
    """
    for where, number in (("pieces", pieces), ("scale step", scale_step_g)):
        if not (math.isfinite(number) and number > 0):
            raise InputError(
                "must be above zero", where=where, value=number, mend="Check the number"
            )
    lot = material.with_own(piece_mass_g=piece_mass_g)
    mass_g = _in_steps(pieces * lot.piece_mass_g, scale_step_g)
    volume = float(mass_g) / lot.bulk_density.value
    # The pieces that happen to be poured differ from the mean piece; the scale shows steps.
    relative_u = math.hypot(
        lot.piece_mass.relative_u,
        lot.piece_cv / math.sqrt(pieces),
        scale_step_g / math.sqrt(12) / float(mass_g),
    )
    warnings = _lot_warnings(lot) + (_vessel_warnings(lot, volume, vessel) if vessel else ())
    return Pour(
        pieces,
        mass_g,
        relative_u,
        volume,
        volume / vessel.volume_cm3 if vessel else None,
        vessel.height_of(volume) if vessel else None,
        warnings,
    )


def _in_steps(mass_g: float, scale_step_g: float) -> Decimal:
    step = Decimal(repr(float(scale_step_g)))
    steps = (Decimal(repr(mass_g)) / step).quantize(Decimal(1))
    if steps == 0:
        raise MeasurementError(
            f"{mass_g:.3g} g is less than one step of the scale",
            where="pour",
            mend="Count these pieces by hand, or use a finer scale",
        )
    return steps * step


def _lot_warnings(lot: CatalogueMaterial) -> tuple[PourWarning, ...]:
    found: list[PourWarning] = []
    if lot.piece_mass.source != OWN:
        found.append(CatalogueMass(lot.piece_mass.relative_u))
    if lot.note:
        found.append(MaterialNote(lot.note))
    return tuple(found)


def _vessel_warnings(
    lot: CatalogueMaterial, volume: float, vessel: Vessel
) -> tuple[PourWarning, ...]:
    fill, sure = volume / vessel.volume_cm3, lot.bulk_density.relative_u
    if fill * (1 - 2 * sure) > 1:
        raise MeasurementError(
            f"would fill {vessel.name} to {100 * fill:.0f} %",
            where="pour",
            mend="Choose a larger vessel or fewer pieces",
        )
    found: list[PourWarning] = []
    trouble = None
    if fill * (1 + 2 * sure) > 1:
        trouble = FillTrouble.MAY_NOT_FIT
    elif fill > BRIM:
        trouble = FillTrouble.MAY_NOT_CLOSE
    elif fill < SHALLOW:
        trouble = FillTrouble.TOO_SHALLOW
    if trouble is not None:
        found.append(FillWarning(trouble, vessel.name, fill, sure))
    if vessel.narrowest_cm * 10 < NARROW * lot.mean_size_mm:
        found.append(NarrowVessel(vessel.name))
    return tuple(found)
