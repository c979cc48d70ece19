"""The line through a pupil's scoops: net mass less the mass asked for, by cup and by material.

    net - target = level - f (cup - mean cup) - d (ln density - mean ln density) + scatter

With priors, so that it holds from no scoop at all: f about 0.4 +- 0.35, d about 6 +- 6 g, scatter
8 g (invented starts).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log, sqrt
from typing import Final

import numpy as np
from numpy.typing import NDArray

from nearmark.coaching.attempt import Attempt, Scoop

Floats = NDArray[np.float64]

TARE_SHARE: Final = (0.4, 0.35)
DENSITY_EFFECT_G: Final = (6.0, 6.0)
LEVEL_SD_G: Final = 1000.0
"""Next to nothing is taken for granted of the level."""

SCATTER_G: Final = 8.0
SCATTER_WORTH: Final = 3
"""Scoops that the usual scatter is worth beside the pupil's own."""


@dataclass(frozen=True, slots=True, eq=False)
class ScoopFit:
    """Level, share of the cup and effect of the density, with their covariance."""

    # The middle of the scoops (g, natural log of g/cm3).
    cup_g: float
    log_density: float
    beta: Floats  # level, f and d above (g, dimensionless, g)
    covariance: Floats  # shape (3, 3)
    scatter_g: float  # scatter as found, with the usual one worth three scoops

    def row(self, cup_g: float, density_g_cm3: float | None = None) -> Floats:
        """What multiplies level, f and d for one cup; no density: middling material."""
        bulky = 0.0 if density_g_cm3 is None else self.log_density - log(density_g_cm3)
        return np.array([1.0, self.cup_g - cup_g, bulky])

    def next_scoop(self, cup_g: float) -> tuple[float, float]:
        """Mean and standard deviation of the next scoop's net mass less the mass asked for, g."""
        row = self.row(cup_g)
        return float(row @ self.beta), sqrt(self.scatter_g**2 + float(row @ self.covariance @ row))

    def share_variance_after(self, scoop: Scoop) -> float:
        """Variance of f once one more scoop like this is known.

        References
        ----------
        Rank-one update of a covariance (Sherman and Morrison, 1950).
        """
        row = self.row(scoop.cup_g, scoop.density_g_cm3)
        moved = self.covariance @ row
        total = SCATTER_G**2 + float(row @ moved)
        return float(self.covariance[1, 1] - moved[1] ** 2 / total)


def fit_scoops(attempts: Sequence[Attempt]) -> ScoopFit:
    """Regress net mass on cup mass and bulk density, with priors.

    >>> round(float(fit_scoops([]).beta[1]), 2)
    0.4

    Parameters
    ----------
    attempts : those without ``Scoop`` are passed over; none at all: what is taken for granted

    References
    ----------
    Conjugate Bayesian linear model with known variance; Gelman et al., *Bayesian Data Analysis*,
    section 14.8 (from memory).
    """
    known = [(each, each.parts) for each in attempts if isinstance(each.parts, Scoop)]
    y = np.array([each.estimate - each.true for each, _ in known])
    cup = np.array([scoop.cup_g for _, scoop in known])
    density = np.log([scoop.density_g_cm3 for _, scoop in known])
    middle = (float(cup.mean()), float(density.mean())) if known else (0.0, 0.0)
    design = np.column_stack([np.ones_like(y), middle[0] - cup, middle[1] - density])
    centre = np.array([0.0, TARE_SHARE[0], DENSITY_EFFECT_G[0]])
    sd = np.array([LEVEL_SD_G, TARE_SHARE[1], DENSITY_EFFECT_G[1]])
    precision = np.diag(sd**-2) + design.T @ design / SCATTER_G**2
    covariance = np.linalg.inv(precision)
    beta = covariance @ (centre / sd**2 + design.T @ y / SCATTER_G**2)
    left = y - design @ beta
    squares = SCATTER_WORTH * SCATTER_G**2 + float(left @ left)
    return ScoopFit(*middle, beta, covariance, sqrt(squares / (SCATTER_WORTH + len(y))))
