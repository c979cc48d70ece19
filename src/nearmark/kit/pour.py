"""What to pour: the count a vessel will hold, the grams for a wanted count, a count by lot."""

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

import numpy as np

from nearmark.errors import InputError, MeasurementError
from nearmark.kit.materials import CatalogueMaterial
from nearmark.kit.vessels import Vessel
from nearmark.measurement.budget import Budget, Component

BANDS: Final = {"small": (100, 700), "medium": (1000, 5000), "large": (11_000, 20_000)}
"""Usual sizes of the three containers, in pieces (common practice, no source)."""

VOLUME_U: Final = 0.02
"""Relative standard uncertainty of a filled volume, from its level and shape (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class Pour:
    """How to fill a container with about a wanted count.

    Attributes
    ----------
    pieces : pieces
        The count aimed at; the key still comes from weighing what was poured.
    mass_g : g
        What to weigh out, in steps of the scale.
    relative_u : relative
        Standard uncertainty of the count that results.
    volume_cm3 : cm3
    fill : dimensionless or None
        Share of the vessel filled; ``None`` without a vessel.
    warnings : tuple of str
    """

    pieces: int
    mass_g: Decimal
    relative_u: float
    volume_cm3: float
    fill: float | None
    warnings: tuple[str, ...]


def predicted_count(
    material: CatalogueMaterial, volume_cm3: float, *, volume_u: float = VOLUME_U
) -> Budget:
    """The count to expect in a volume, before anything is weighed.

    ``N = V * bulk density / piece mass``.  Walls and tapping change the bulk density by some
    percent; that is in its uncertainty.

    Parameters
    ----------
    material : CatalogueMaterial
    volume_cm3 : cm3, > 0
        Filled volume.
    volume_u : relative
        Standard uncertainty of the volume.

    Returns
    -------
    Budget
        In pieces; a prediction to plan with, never a key.

    Raises
    ------
    InputError
        If the volume is not above zero.

    References
    ----------
    JCGM 100:2008, clause 5.1.6 (relative variances add for products and quotients).

    Examples
    --------
    >>> from nearmark.kit.materials import material
    >>> budget = predicted_count(material("chickpea"), 1000.0)
    >>> round(budget.value), round(budget.relative_expanded_uncertainty, 2)
    (1857, 0.42)
    """
    if not (math.isfinite(volume_cm3) and volume_cm3 > 0):
        raise InputError(
            "must be above zero", where="volume", value=volume_cm3, mend="Give it in cm3"
        )
    count = volume_cm3 * material.bulk_density.value / material.piece_mass_g
    parts = (
        ("filled volume", volume_cm3, "cm3", volume_u, 1),
        ("bulk density", material.bulk_density.value, "g/cm3", material.bulk_density.relative_u, 1),
        ("mass of a piece", material.piece_mass_g, "g", material.piece_mass.relative_u, -1),
    )
    rows = tuple(
        Component(name, value, unit, value * relative, sign * count / value)
        for name, value, unit, relative, sign in parts
    )
    return Budget(f"number of {material.name.lower()}", count, "pieces", rows)


def grams_to_pour(
    pieces: int,
    material: CatalogueMaterial,
    *,
    scale_step_g: float,
    piece_mass_g: float | None = None,
    piece_mass_u: float | None = None,
    vessel: Vessel | None = None,
) -> Pour:
    """Grams to weigh out for a wanted count.

    Parameters
    ----------
    pieces : pieces, >= 1
    material : CatalogueMaterial
    scale_step_g : g, > 0
        Step of the scale; the mass is rounded to it.
    piece_mass_g : g or None
        Of your own lot; ``None``: the catalogue's, which is far less sure.
    piece_mass_u : relative or None
        Standard uncertainty of ``piece_mass_g``; ``None``: 1 % for your own, else the catalogue's.
    vessel : Vessel or None
        Where it should fit.

    Returns
    -------
    Pour

    Raises
    ------
    InputError
        If a number is impossible.
    MeasurementError
        If it does not fit into the vessel.

    Examples
    --------
    >>> from nearmark.kit.materials import material
    >>> pour = grams_to_pour(2874, material("elbow-pasta"), scale_step_g=0.1, piece_mass_g=0.358)
    >>> pour.mass_g
    Decimal('1028.9')
    """
    _check_positive(pieces=pieces, scale_step_g=scale_step_g, piece_mass_g=piece_mass_g)
    own = piece_mass_g is not None
    each_g = material.piece_mass_g if piece_mass_g is None else piece_mass_g
    each_u = piece_mass_u
    if each_u is None:
        each_u = 0.01 if own else material.piece_mass.relative_u
    step = Decimal(repr(scale_step_g))
    mass_g = (Decimal(repr(pieces * each_g)) / step).quantize(Decimal(1)) * step
    volume = float(mass_g) / material.bulk_density.value
    # The pieces that happen to be poured differ from the mean piece; the scale shows steps.
    relative_u = math.hypot(
        each_u, material.piece_cv / math.sqrt(pieces), scale_step_g / math.sqrt(12) / float(mass_g)
    )
    fill = None if vessel is None else volume / vessel.volume_cm3
    warnings = _pour_warnings(material, fill, vessel, own=own)
    return Pour(pieces, mass_g, relative_u, volume, fill, warnings)


def random_pour(band: tuple[int, int], rng: np.random.Generator) -> int:
    """A count drawn by lot, so that nobody can guess it from last year's.

    Every ratio within the band is equally likely (uniform in the logarithm); round numbers, which
    children try first, are left out.

    Parameters
    ----------
    band : (low, high), pieces
    rng : Generator

    Returns
    -------
    int
        Pieces, low <= count <= high, not a multiple of 5.

    Raises
    ------
    InputError
        If the band is impossible or holds no count that is not round.

    Examples
    --------
    >>> 1000 <= random_pour((1000, 5000), np.random.default_rng(3)) <= 5000
    True
    """
    low, high = band
    if not 1 <= low < high or high - low < 2:
        raise InputError(
            "needs a low end of 1 or more and a higher high end",
            where="band",
            value=f"{low} to {high}",
            mend="Give it like 1000 to 5000",
        )
    while True:
        drawn = round(math.exp(rng.uniform(math.log(low), math.log(high))))
        if drawn % 5 and low <= drawn <= high:
            return drawn


def _check_positive(**numbers: float | None) -> None:
    for name, value in numbers.items():
        if value is not None and not (math.isfinite(value) and value > 0):
            raise InputError(
                "must be above zero",
                where=name.replace("_", " "),
                value=value,
                mend="Check the number and its unit",
            )


def _pour_warnings(
    material: CatalogueMaterial, fill: float | None, vessel: Vessel | None, *, own: bool
) -> tuple[str, ...]:
    warnings = []
    if not own:
        warnings.append(
            "the mass of a piece is the catalogue's, sure to "
            f"{100 * material.piece_mass.relative_u:.0f} % only: weigh 100 of your own first"
        )
    if fill is not None and vessel is not None:
        if fill > 1:
            raise MeasurementError(
                f"would fill {vessel.name} to {100 * fill:.0f} %",
                where="pour",
                mend="Choose a larger vessel or fewer pieces",
            )
        if fill > 0.95:
            warnings.append(f"fills {vessel.name} to {100 * fill:.0f} %: it may not close")
        if fill < 0.25:
            warnings.append(
                f"fills {vessel.name} to {100 * fill:.0f} % only: too few layers to see"
            )
    return tuple(warnings)
