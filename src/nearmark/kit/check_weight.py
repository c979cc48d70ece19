"""Does a scale still show a known mass: before the first heat and after the last."""

import math
from dataclasses import dataclass

from nearmark.errors import InputError
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.instruments import Instrument, checked_reading


@dataclass(frozen=True, slots=True)
class CheckWeight:
    """What a scale showed for a known mass."""

    scale: str  # name
    known_g: float
    shown_g: float
    budget: Budget  # of shown less known (g)

    @property
    def off_g(self) -> float:
        """What it shows beyond the known mass; below zero when it shows less (g)."""
        return self.budget.value

    @property
    def is_off(self) -> bool:
        """Whether that is more than its expanded uncertainty allows."""
        # The last digit of a decimal is lost in a difference of two floats.
        return abs(self.off_g) > self.budget.expanded_uncertainty * (1 + 1e-9)


def check_weight(
    shown_g: float, known_g: float, scale: Instrument, *, known_u_g: float = 0.0
) -> CheckWeight:
    """Compare what a scale shows with a known mass.

    >>> scale = Instrument("bench scale", "g", 0.1, gain_u=0.0005)
    >>> check_weight(200.1, 200, scale).is_off, check_weight(200.3, 200, scale).is_off
    (False, True)

    Parameters
    ----------
    shown_g, known_g : g, > 0
    known_u_g : g, >= 0; standard uncertainty of the known mass

    Raises
    ------
    InputError : if a mass cannot be

    References
    ----------
    JCGM 100:2008, clause 5.1.2; the rule "off by more than the expanded uncertainty" is that of
    ISO 13528:2022 for E_n above 1 (from memory).
    """
    if not 0 < known_g < math.inf:
        raise InputError(
            "must be above zero", where="known mass", value=known_g, mend="Give it in g"
        )
    if not 0 <= known_u_g < math.inf:
        raise InputError(
            "must be zero or more", where="uncertainty of the known mass", value=known_u_g
        )
    checked_reading((shown_g,), scale, "scale shows")
    rows = (
        Component("resolution", shown_g, "g", scale.resolution_u),
        Component("linearity", shown_g, "g", scale.linearity_u),
        Component("calibration (gain)", 1.0, "relative", scale.gain_u, known_g),
        Component("zero", 0.0, "g", scale.zero_u),
        Component("known mass", known_g, "g", known_u_g, -1.0),
    )
    return CheckWeight(
        scale.name, known_g, shown_g, Budget("shown less known", shown_g - known_g, "g", rows)
    )
