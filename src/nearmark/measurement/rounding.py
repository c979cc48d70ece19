"""How a result is printed: two digits of the uncertainty, the value to match.

Source: JCGM 100:2008 (GUM), clause 7.2.6; ties go to the even digit (IEEE 754 decimal default).
"""

import math
from decimal import ROUND_HALF_EVEN, Context, Decimal
from typing import Final

from nearmark.errors import InputError

_EXACT: Final = Context(prec=700)
"""Wide enough for the longest double to the last decimal of the smallest."""


def decimals_for(u: float, digits: int = 2) -> int:
    """Decimals that show ``digits`` significant digits of ``u`` (negative: tens, hundreds).

    >>> decimals_for(0.0408), decimals_for(123.4), decimals_for(0.0996)
    (3, -1, 2)

    Parameters
    ----------
    u : any unit; uncertainty to be shown; zero or not finite gives 0
    digits : dimensionless, >= 1
    """
    if u == 0 or not math.isfinite(u):
        return 0
    places = digits - 1 - Decimal(repr(abs(u))).adjusted()
    # 0.0996 to two digits is 0.10: rounding up may add a digit that must go again.
    rounded = round_to(abs(u), places)
    return places - (rounded.adjusted() - Decimal(repr(abs(u))).adjusted())


def round_to(value: float, decimals: int) -> Decimal:
    """Round the decimal that a float prints as, ties to even.

    >>> round_to(2.675, 2), round_to(6040.9, -1)
    (Decimal('2.68'), Decimal('6.04E+3'))

    Parameters
    ----------
    value : any unit, finite
    decimals : dimensionless; digits after the decimal point; negative rounds to tens, hundreds

    Raises
    ------
    InputError : if the value is not a finite number
    """
    if not math.isfinite(value):
        raise InputError("not a finite number: cannot be rounded", where="result", value=value)
    step = Decimal(1).scaleb(-decimals)
    return Decimal(repr(float(value))).quantize(step, ROUND_HALF_EVEN, _EXACT)


def two_digits(u: float) -> str:
    """An uncertainty as it is printed: two significant digits, no exponent.

    >>> two_digits(184.3), two_digits(0.0408)
    ('180', '0.041')

    Parameters
    ----------
    u : any unit, finite
    """
    return f"{round_to(u, decimals_for(u)):f}"


def three_digits(value: float) -> str:
    """A value as it is in a sentence: three significant digits, no exponent.

    >>> three_digits(0.25213), three_digits(1660.9)
    ('0.252', '1660')

    Parameters
    ----------
    value : any unit, finite
    """
    return f"{round_to(value, decimals_for(value, 3)):f}"


def result_text(value: float, u: float, unit: str = "") -> str:
    """``value +- u unit`` with two digits of ``u`` and the value to the same decimal.

    >>> result_text(107.1, 0.0408, "g")
    '107.100 ± 0.041 g'
    >>> result_text(6040.87, 85.65, "pieces")
    '6041 ± 86 pieces'

    Parameters
    ----------
    value : any unit, finite
    u : same unit; the uncertainty shown, standard or expanded: say which beside the text
    """
    places = decimals_for(u)
    tail = f" {unit}" if unit else ""
    return f"{round_to(value, places):f} ± {two_digits(u)}{tail}"
