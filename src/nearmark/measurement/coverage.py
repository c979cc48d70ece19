"""Effective degrees of freedom, coverage factor, expanded uncertainty.

Source: JCGM 100:2008 (GUM), clause 6 and annex G.  Infinite degrees of freedom are ``math.inf``.
"""

import math
from collections.abc import Iterable

from scipy.special import ndtri, stdtrit

from nearmark.errors import InputError

LEVEL_95 = 0.95


def coverage_factor(dof: float, level: float = LEVEL_95) -> float:
    """Two-sided Student t factor k for a coverage probability.

    Effective degrees of freedom are used as they are, not cut to a whole number; GUM G.4.1 NOTE 1
    allows either.

    >>> round(coverage_factor(2), 3), round(coverage_factor(math.inf), 3)
    (4.303, 1.96)

    Parameters
    ----------
    dof : dimensionless, > 0; degrees of freedom; ``math.inf`` gives the normal factor
    level : dimensionless, in (0, 1); coverage probability

    Raises
    ------
    InputError : if ``dof`` or ``level`` is out of its range

    References
    ----------
    JCGM 100:2008, clause G.3 and table G.2.
    """
    if not 0 < level < 1:
        raise InputError(
            "must lie between 0 and 1",
            where="coverage probability",
            value=level,
            mend="Give 95 % as 0.95",
        )
    _refuse_bad_dof(dof)
    upper = 0.5 + level / 2
    if math.isinf(dof):
        return float(ndtri(upper))
    return float(stdtrit(dof, upper))


def welch_satterthwaite(contributions: Iterable[tuple[float, float]]) -> float:
    """Effective degrees of freedom of a sum of independent contributions.

    ``math.inf`` when nothing with finite degrees contributes.

    >>> welch_satterthwaite([(3.0, 4.0)])
    4.0
    >>> welch_satterthwaite([(1.0, 5.0), (1.0, 5.0)])
    10.0

    Parameters
    ----------
    contributions : pairs (|c| u, dof), in the unit of the result
        Contribution to the standard uncertainty, and its degrees of freedom (``math.inf`` allowed).

    Raises
    ------
    InputError
        If a contribution is negative or not a number, or its degrees of freedom are not above zero.

    References
    ----------
    JCGM 100:2008, clause G.4.1, equation (G.2b).
    """
    rows = []
    for u, dof in contributions:
        if not 0 <= u < math.inf:
            raise InputError("must be a finite number, zero or more", where="contribution", value=u)
        if u > 0:
            _refuse_bad_dof(dof)
            rows.append((u, dof))
    if not rows:
        return math.inf
    # Divide by the largest first: a fourth power must not underflow for tiny units.
    scale = max(u for u, _ in rows)
    total = math.fsum((u / scale) ** 2 for u, _ in rows)
    below = math.fsum((u / scale) ** 4 / dof for u, dof in rows)
    return math.inf if below == 0 else total**2 / below


def _refuse_bad_dof(dof: float) -> None:
    if not dof > 0:  # also refuses NaN, which compares false
        raise InputError(
            "must be above zero",
            where="degrees of freedom",
            value=dof,
            mend="n readings have n - 1 of them; give inf for a value taken as exact",
        )
