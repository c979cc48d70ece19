"""The count to expect in a volume, before anything is weighed."""

import math
from dataclasses import dataclass
from typing import Final

from nearmark.errors import InputError
from nearmark.kit.materials import CatalogueMaterial
from nearmark.measurement.budget import Budget, Component

VOLUME_U: Final = 0.02
"""Relative standard uncertainty of a filled volume, from its level and shape (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class Walls:
    """What a vessel holds, relative to the same volume of a wide heap of the same pieces."""

    share: float  # below one where walls, floor and surface keep the pieces apart (relative)
    relative_u: float  # standard uncertainty of the share (relative)


@dataclass(frozen=True, slots=True)
class Prediction:
    """A count to plan with, never a key."""

    budget: Budget  # value, standard uncertainty, and what they are made of (Budget, in pieces)

    @property
    def pieces(self) -> int:
        """The count to expect, in whole pieces."""
        return round(self.budget.value)

    @property
    def between(self) -> tuple[int, int]:
        """95 % interval, in pieces.

        A product and quotient of unsure factors is lognormal rather than normal; with factors
        known to 15 % the plain interval would reach too low on one side and not far enough on the
        other.
        """
        relative_u = self.budget.standard_uncertainty / self.budget.value
        factor = math.exp(self.budget.coverage_factor * math.sqrt(math.log1p(relative_u**2)))
        return math.floor(self.budget.value / factor), math.ceil(self.budget.value * factor)


def predicted_count(
    material: CatalogueMaterial,
    volume_cm3: float,
    *,
    volume_u: float = VOLUME_U,
    walls: Walls | None = None,
) -> Prediction:
    """The count to expect in a volume: ``N = V * bulk density / piece mass``.

    Where a trial pour has shown the walls' share, it is one more factor.

    The bulk density may itself come from a packing fraction (``docs/reference/catalogue.md``),
    and any value may be your own (``CatalogueMaterial.with_own``).

    >>> from nearmark.kit.materials import material
    >>> prediction = predicted_count(material("popcorn"), 1000.0)
    >>> prediction.pieces, prediction.between
    (5669, (4529, 7096))

    Parameters
    ----------
    volume_cm3 : cm3, > 0; filled volume, for example ``Vessel.volume_to(height)``
    volume_u : relative, 0 to 1; standard uncertainty of the volume
    walls : of a trial pour (``trial_pour``); ``None``: the vessel is wide

    Raises
    ------
    InputError : if a number is impossible

    References
    ----------
    JCGM 100:2008, clause 5.1.6 (relative variances add for products and quotients).
    """
    if not (math.isfinite(volume_cm3) and volume_cm3 > 0):
        raise InputError(
            "must be above zero", where="volume", value=volume_cm3, mend="Give it in cm3"
        )
    if not 0 <= volume_u <= 1:
        raise InputError(
            "must be between 0 and 1",
            where="relative uncertainty of the volume",
            value=volume_u,
            mend="Two percent is 0.02",
        )
    share = walls.share if walls else 1.0
    count = share * volume_cm3 * material.bulk_density.value / material.piece_mass_g
    parts = (
        ("filled volume", volume_cm3, "cm3", volume_u, 1),
        ("bulk density", material.bulk_density.value, "g/cm3", material.bulk_density.relative_u, 1),
        ("mass of a piece", material.piece_mass_g, "g", material.piece_mass.relative_u, -1),
        *([("walls of the vessel", share, "", walls.relative_u, 1)] if walls else []),
    )
    rows = tuple(
        Component(name, value, unit, value * relative, sign * count / value)
        for name, value, unit, relative, sign in parts
    )
    return Prediction(Budget(f"number of {material.plain_name}", count, "pieces", rows))
