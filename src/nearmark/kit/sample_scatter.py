"""How far the scatter of a few samples is believed.

Who weighs until the key is fit stops when the scatter happens to look small: with the scatter as
it looks, "95 %" intervals then hold in 68 to 97 of 100 cases (``benchmarks/stopping.py``).  So it
is bounded from above, with what is usual for pieces as one more degree of freedom::

    s_p^2    = (dof s^2 + (c m)^2) / (dof + 1)             pooled; c = 10 % is usual
    s_up^2   = (dof + 1) s_p^2 / chi2(0.18, dof + 1)       upper 82 % bound
    believed = s_up t(0.975, dof + 1) / 1.96               Student's factor is in it already

A bound alone keeps who sees a large scatter weighing long after enough pieces are counted, and only
those end early who see a small one.  Pieces that vary by more than 26.5 % are rare, so the bound
ends there, unless the samples themselves show more::

    most     = 26.5 % of m, and what rounding and miscounts add
    believed = min(believed, max(most, s t(0.975, dof) / 1.96))

The pieces in the container are another draw of the same lot.  However many samples there are, their
spread stays, so it is bounded further up: 90 %, without Student's factor, at most ``max(most, s)``.

With Student's factor inside, every row of the budget is used with the one factor 1.96, and U falls
with every sample and with every piece: the Welch-Satterthwaite formula does not promise that.
"""

import math

from scipy.special import chdtri

from nearmark.kit.unit_mass import UnitMass
from nearmark.measurement.coverage import coverage_factor
from nearmark.measurement.instruments import Instrument

USUAL_PIECE_CV = 0.10
"""Dry goods vary by 5 to 25 % from piece to piece (``docs/reference/catalogue.md``); common
practice, no source.  Pieces that vary less cost a sample more, pieces that vary more are seen
to."""

MAX_PIECE_CV = 0.265
"""A little more than the largest usual spread: up to here a bound of the scatter is believed."""

BOUND_LEVEL = 0.82
CONTAINER_LEVEL = 0.90
"""These two and the figure above were chosen together, by measurement: the cheapest that keep the
promise for every lead who weighs on until the key is fit (``benchmarks/stopping.py``)."""


def believed_piece_sd_g(
    unit: UnitMass, scale: Instrument, miscount_probability: float = 0.0
) -> float:
    """Standard uncertainty for which the scatter of one piece is taken, for use with 1.96.

    Always more than ``unit.piece_sd_g``.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> round(believed_piece_sd_g(UnitMass(1.0, 0.10, 3, 300), scale), 4)
    0.265
    >>> round(believed_piece_sd_g(UnitMass(1.0, 0.10, 20, 2000), scale), 4)
    0.1263

    Parameters
    ----------
    scale : Instrument, in g; of the samples
    miscount_probability : dimensionless, in [0, 1]
        Chance that one sample was miscounted by one piece.

    References
    ----------
    Pooled variance: JCGM 100:2008, clause 4.2.4.  Chi-square bound of a standard deviation: any
    textbook, checked against SciPy's distribution in the tests.  That a bound keeps the promise
    under stopping is measured, not derived: ``benchmarks/stopping.py``.
    """
    most = max(_most_sd_g(unit, scale, miscount_probability), unit.piece_sd_g * _student(unit.dof))
    return min(_bound_g(unit, BOUND_LEVEL) * _student(unit.dof + 1), most)


def container_piece_sd_g(
    unit: UnitMass, scale: Instrument, miscount_probability: float = 0.0
) -> float:
    """Spread of single pieces that the container is taken to have, for use with 1.96.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> [
    ...     round(container_piece_sd_g(UnitMass(1.0, cv, 10, 1000), scale), 3)
    ...     for cv in (0.05, 0.20, 0.40)
    ... ]
    [0.082, 0.265, 0.4]

    Parameters
    ----------
    scale : Instrument, in g; of the samples
    miscount_probability : dimensionless, in [0, 1]
    """
    most = max(_most_sd_g(unit, scale, miscount_probability), unit.piece_sd_g)
    return min(_bound_g(unit, CONTAINER_LEVEL), most)


def _student(dof: int) -> float:
    """Student's factor beside the one factor 1.96 that every row is used with."""
    return coverage_factor(dof) / coverage_factor(math.inf)


def _bound_g(unit: UnitMass, level: float) -> float:
    """Upper bound of the scatter of one piece, a usual spread pooled with it."""
    squares = unit.dof * unit.piece_sd_g**2 + (USUAL_PIECE_CV * unit.mass_g) ** 2
    return math.sqrt(squares / float(chdtri(unit.dof + 1, level)))


def _most_sd_g(unit: UnitMass, scale: Instrument, miscount_probability: float) -> float:
    """The largest usual spread of a piece, and what weighing and counting add to it."""
    each = unit.n_pieces / unit.n_samples
    added = 2 * scale.resolution_u**2 + miscount_probability * unit.mass_g**2
    return math.sqrt((MAX_PIECE_CV * unit.mass_g) ** 2 + added / each)


def shows_rounding(unit: UnitMass, scale: Instrument) -> bool:
    """Whether the samples scatter enough for their roundings to be independent.

    Samples that show at most two neighbouring steps of the display say nothing of where between
    them the mass lies, however many they are: all share one rounding error.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> shows_rounding(UnitMass(0.612, 0.005, 4, 400), scale)  # four readings of 0.05 g scatter
    False
    >>> shows_rounding(UnitMass(0.612, 0.02, 4, 400), scale)
    True

    References
    ----------
    R. R. Cordero, G. Seckmeyer, F. Labbe, *Effect of the resolution on the uncertainty
    evaluation*, Metrologia 43 (2006) L33 (abstract opened): a least scatter is needed.  The share
    of the rounding error that stays common falls as ``exp(-(2 pi s / d)^2)`` (Fourier series of
    the rounding error, computed here): it is below 1 % of its variance where this returns true.
    """
    # Half the readings on one step, half on the next: variance (d / 2)^2 with divisor n.
    square = unit.piece_sd_g**2 * unit.n_pieces / unit.n_samples * unit.dof / unit.n_samples
    return square > (scale.resolution / 2) ** 2 * (1 + 1e-9)
