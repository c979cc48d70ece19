"""How far the scatter of a few samples is believed.

Who weighs until the key is fit stops when the scatter happens to look small: with the scatter as
it looks, "95 %" intervals then hold in 68 to 97 of 100 cases (``benchmarks/stopping.py``).  So it
is bounded from above, with what is usual for pieces as one more degree of freedom::

    s_p^2    = (dof s^2 + (c m)^2) / (dof + 1)             pooled; c = 10 % is usual
    s_up^2   = (dof + 1) s_p^2 / chi2(0.25, dof + 1)       upper 75 % bound
    believed = s_up t(0.975, dof + 1) / 1.96               Student's factor is in it already

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

BOUND_LEVEL = 0.75


def believed_piece_sd_g(unit: UnitMass) -> float:
    """Standard uncertainty for which the scatter of one piece is taken, for use with 1.96.

    Parameters
    ----------
    unit : UnitMass

    Returns
    -------
    float
        In g; always more than ``unit.piece_sd_g``.

    References
    ----------
    Pooled variance: JCGM 100:2008, clause 4.2.4.  Chi-square bound of a standard deviation: any
    textbook, checked against SciPy's distribution in the tests.  That a bound keeps the promise
    under stopping is measured, not derived: ``benchmarks/stopping.py``.

    Examples
    --------
    >>> round(believed_piece_sd_g(UnitMass(1.0, 0.10, 3, 300)), 4)
    0.2554
    >>> round(believed_piece_sd_g(UnitMass(1.0, 0.10, 20, 2000)), 4)
    0.1211
    """
    dof = unit.dof + 1
    squares = unit.dof * unit.piece_sd_g**2 + (USUAL_PIECE_CV * unit.mass_g) ** 2
    bound = math.sqrt(squares / float(chdtri(dof, BOUND_LEVEL)))
    return bound * coverage_factor(dof) / coverage_factor(math.inf)


def shows_rounding(unit: UnitMass, scale: Instrument) -> bool:
    """Whether the samples scatter enough for their roundings to be independent.

    Samples that show at most two neighbouring steps of the display say nothing of where between
    them the mass lies, however many they are: all share one rounding error.

    Parameters
    ----------
    unit : UnitMass
    scale : Instrument, in g

    References
    ----------
    R. R. Cordero, G. Seckmeyer, F. Labbe, *Effect of the resolution on the uncertainty
    evaluation*, Metrologia 43 (2006) L33 (abstract opened): a least scatter is needed.  The share
    of the rounding error that stays common falls as ``exp(-(2 pi s / d)^2)`` (Fourier series of
    the rounding error, computed here): it is below 1 % of its variance where this returns true.

    Examples
    --------
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> shows_rounding(UnitMass(0.612, 0.005, 4, 400), scale)  # four readings of 0.05 g scatter
    False
    >>> shows_rounding(UnitMass(0.612, 0.02, 4, 400), scale)
    True
    """
    # Half the readings on one step, half on the next: variance (d / 2)^2 with divisor n.
    square = unit.piece_sd_g**2 * unit.n_pieces / unit.n_samples * unit.dof / unit.n_samples
    return square > (scale.resolution / 2) ** 2 * (1 + 1e-9)
