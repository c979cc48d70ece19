"""The one refusal of numbers outside what makes sense here."""

import math

from nearmark.errors import InputError


def checked(value: float, where: str, low: float, high: float, *, mend: str = "") -> float:
    """Give a number back if it is finite and within limits.

    >>> checked(0.2, "scatter", 0, 3)
    0.2

    Parameters
    ----------
    value : unit of the field
    where : which number, for the message
    low, high : unit of the field; both allowed
    mend : what to do; empty: check the number
    """
    if not (math.isfinite(value) and low <= value <= high):
        raise InputError(
            f"must be from {low:g} to {high:g}",
            where=where,
            value=value,
            mend=mend or "Check the number",
        )
    return float(value)
