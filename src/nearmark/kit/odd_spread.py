"""A typed spread from piece to piece that the samples or the catalogue contradict."""

import math
from collections.abc import Sequence
from typing import Final

from scipy.special import chdtri

from nearmark.kit.odd_records import OddSpread
from nearmark.kit.odd_samples import TypedSample
from nearmark.kit.unit_mass import FEWEST_SAMPLES, Sample, unit_mass

SPREAD_CHANCE: Final = 0.001
"""Chance of the samples' scatter, below which a typed spread of pieces is asked about."""

SPREAD_RATIO: Final = 5.0
"""A typed spread this many times above or below the catalogue's is asked about."""

SPREAD_FITS: Final = 3.0
"""Percent typed as a fraction explains a spread that comes within this ratio."""


def odd_spread(
    samples: Sequence[TypedSample], piece_cv: float, catalogued: float | None
) -> OddSpread | None:
    """What is odd about a spread from piece to piece that was typed.

    Parameters
    ----------
    samples : shape (k,)
        That agree with each other.
    piece_cv : relative, > 0
        As typed.
    catalogued : relative, or None
        As the catalogue has it.

    Returns
    -------
    OddSpread or None

    References
    ----------
    The scatter of ``k`` samples over the one expected is chi-square with ``k - 1`` degrees of
    freedom: JCGM 100:2008, clause 4.2.4 and annex E.4.3.

    Examples
    --------
    >>> from decimal import Decimal
    >>> typed = [TypedSample(100, Decimal(g), 0.1) for g in ("61.2", "63.4", "59.9")]
    >>> odd_spread(typed, 0.0015, None).is_hundredfold
    True
    >>> odd_spread(typed, 0.15, None) is None
    True
    """
    seen = _scattered(samples, piece_cv) or 0.0
    is_of_catalogue = not seen and catalogued is not None
    if not seen and catalogued is not None:
        ratio = piece_cv / catalogued
        seen = 0.0 if 1 / SPREAD_RATIO <= ratio <= SPREAD_RATIO else catalogued
    if not seen:
        return None
    fits = 1 / SPREAD_FITS <= 100 * piece_cv / seen <= SPREAD_FITS
    return OddSpread(piece_cv, seen, is_of_catalogue, fits)


def _scattered(samples: Sequence[TypedSample], piece_cv: float) -> float | None:
    """Spread of a piece that the samples show, if it contradicts the typed one."""
    if len(samples) < FEWEST_SAMPLES:
        return None
    unit = unit_mass([Sample(one.pieces, float(one.mass_g)) for one in samples])
    expected = [one.pieces * (piece_cv * unit.mass_g) ** 2 + one.step_g**2 / 12 for one in samples]
    squares = ((float(one.mass_g) - one.pieces * unit.mass_g) ** 2 for one in samples)
    over = math.fsum(s / e for s, e in zip(squares, expected, strict=True))
    is_odd = over > float(chdtri(len(samples) - 1, SPREAD_CHANCE))
    return unit.piece_sd_g / unit.mass_g if is_odd else None
