"""Places from merits: equal merits share the better place, and the next places stay empty."""

from collections.abc import Sequence
from fractions import Fraction

Merit = Fraction | tuple[Fraction, ...]


def places(merits: Sequence[Merit]) -> tuple[int, ...]:
    """Competition places (1, 2, 2, 4): one more than the number of better merits.

    Parameters
    ----------
    merits : points, shape (n,)
        Totals, or tuples of a total followed by what breaks ties; larger is better.

    Returns
    -------
    tuple of int, shape (n,)
        In the order given.

    Examples
    --------
    >>> places([Fraction(80), Fraction(95), Fraction(80), Fraction(70)])
    (2, 1, 2, 4)
    """
    first_place: dict[Merit, int] = {}
    for position, merit in enumerate(sorted(merits, reverse=True), start=1):
        first_place.setdefault(merit, position)
    return tuple(first_place[merit] for merit in merits)
