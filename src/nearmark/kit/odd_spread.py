"""A typed spread from piece to piece that the samples or the catalogue contradict."""

import math
from collections.abc import Sequence
from typing import Final

from scipy.special import chdtr, chdtrc

from nearmark.kit.count_options import DEFAULT_MISCOUNT
from nearmark.kit.odd_records import OddSpread
from nearmark.kit.odd_samples import TypedSample
from nearmark.kit.unit_mass import MIN_SAMPLES, Sample, UnitMass, unit_mass

SPREAD_CHANCE: Final = 0.001
"""Chance, on either side, below which samples contradict a typed spread of pieces."""

SPREAD_RATIO: Final = 5.0
"""A typed spread this many times above or below the catalogue's is asked about."""

SPREAD_FITS: Final = 3.0
"""Percent typed as a fraction explains a spread that comes within this ratio of the catalogue's."""


def odd_spread(
    samples: Sequence[TypedSample], piece_cv: float, catalogued: float | None
) -> OddSpread | None:
    """What is odd about a spread from piece to piece that was typed.

    >>> from decimal import Decimal
    >>> typed = [TypedSample(100, Decimal(g), 0.1) for g in ("61.2", "63.4", "59.9")]
    >>> odd_spread(typed, 0.0015, None).meant
    0.15
    >>> odd_spread(typed, 0.15, None) is None
    True
    >>> odd_spread((), 0.0015, 0.12).is_of_catalogue
    True

    Parameters
    ----------
    samples : shape (k,); that agree with each other
    piece_cv : relative, > 0; as typed
    catalogued : relative, or None; as the catalogue has it; looked at where the samples say nothing
    """
    if len(samples) >= MIN_SAMPLES:
        unit = unit_mass([Sample(one.pieces, float(one.mass_g)) for one in samples])
        steps = [one.step_g**2 for one in samples]
        step_u_g = math.sqrt(math.fsum(steps) / len(steps) / 12)
        found = contradicted_spread(unit, step_u_g, piece_cv)
        if found is not None:
            return found
    if catalogued is None or 1 / SPREAD_RATIO <= piece_cv / catalogued <= SPREAD_RATIO:
        return None
    fits = (
        near
        for near in _hundredfold(piece_cv)
        if 1 / SPREAD_FITS <= near / catalogued <= SPREAD_FITS
    )
    return OddSpread(piece_cv, catalogued, is_of_catalogue=True, meant=next(fits, None))


def contradicted_spread(unit: UnitMass, step_u_g: float, piece_cv: float) -> OddSpread | None:
    """Whether the samples contradict a spread from piece to piece that was typed.

    >>> contradicted_spread(UnitMass(0.61, 0.09, 5, 500), 0.029, 0.0015).meant
    0.15

    Parameters
    ----------
    step_u_g : g; standard uncertainty of one rounding by the scale of the samples
    piece_cv : relative, > 0; as typed

    References
    ----------
    Chi-square test of a variance against a stated one: the scatter of ``k`` samples over the one
    expected is chi-square with ``k - 1`` degrees of freedom (JCGM 100:2008, clause 4.2.4 and annex
    E.4.3).  Rounding and miscounts may have added to the scatter, rounding may have hidden some.
    """
    each = unit.n_pieces / unit.n_samples
    rounding = 2 * step_u_g**2 / each
    miscount = DEFAULT_MISCOUNT * unit.mass_g**2 / each
    seen = unit.piece_sd_g**2

    def agrees(cv: float) -> bool:
        stated = (cv * unit.mass_g) ** 2
        largest = stated + rounding + miscount
        too_much = chdtrc(unit.dof, unit.dof * seen / largest) < SPREAD_CHANCE
        too_little = chdtr(unit.dof, unit.dof * (seen + rounding) / stated) < SPREAD_CHANCE
        return not (too_much or too_little)

    if agrees(piece_cv):
        return None
    meant = next((near for near in _hundredfold(piece_cv) if agrees(near)), None)
    cv_seen = unit.piece_sd_g / unit.mass_g
    return OddSpread(piece_cv, cv_seen, is_of_catalogue=False, meant=meant)


def _hundredfold(piece_cv: float) -> tuple[float, float]:
    """What was meant where percent were typed as a fraction, or a fraction as percent."""
    return (100 * piece_cv, piece_cv / 100)
