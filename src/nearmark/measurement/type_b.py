"""Standard uncertainty from a specification instead of repeated readings (Type B evaluation).

Source: JCGM 100:2008 (GUM), clause 4.3.
"""

import math

from nearmark.errors import InputError


def rectangular(half_width: float) -> float:
    """Standard uncertainty of a quantity equally likely anywhere within +- ``half_width``.

    >>> round(rectangular(0.05), 4)
    0.0289

    Parameters
    ----------
    half_width : any unit, >= 0

    Raises
    ------
    InputError : if ``half_width`` is negative or not a finite number

    References
    ----------
    JCGM 100:2008, clause 4.3.7, equation (7).
    """
    return _checked(half_width, "half-width") / math.sqrt(3)


def from_expanded(expanded_u: float, coverage_factor: float = 2.0) -> float:
    """Standard uncertainty, in the same unit, from a certificate that states U and k.

    >>> from_expanded(0.24, 3)
    0.08

    Parameters
    ----------
    expanded_u : any unit, >= 0; expanded uncertainty as stated
    coverage_factor : dimensionless, > 0; the k stated beside it

    Raises
    ------
    InputError
        If ``expanded_u`` is negative, ``coverage_factor`` is not above zero, or one is not
        a finite number.

    References
    ----------
    JCGM 100:2008, clause 4.3.3.
    """
    if not 0 < coverage_factor < math.inf:
        raise InputError(
            "must be above zero",
            where="coverage factor",
            value=coverage_factor,
            mend="It is beside U on the certificate, most often k = 2",
        )
    return _checked(expanded_u, "expanded uncertainty") / coverage_factor


def resolution(step: float) -> float:
    """Standard uncertainty of one indication of a display with the given step.

    It is ``step / sqrt(12)``, in the same unit.

    >>> round(resolution(0.1), 5)
    0.02887

    Parameters
    ----------
    step : any unit, >= 0; smallest change the display or the ruler's marks can show

    Raises
    ------
    InputError : if ``step`` is negative or not a finite number

    References
    ----------
    JCGM 100:2008, clause F.2.2.1.
    """
    return rectangular(_checked(step, "resolution") / 2)


def _checked(width: float, where: str) -> float:
    if not 0 <= width < math.inf:  # also refuses NaN, which compares false
        raise InputError(
            "must be a finite number, zero or more",
            where=where,
            value=width,
            mend="Give it as stated, without a sign",
        )
    return width
