"""A count drawn by lot, so that nobody can guess it from last year's."""

import math
from typing import Final

import numpy as np

from nearmark.errors import InputError

BANDS: Final = {"small": (100, 700), "medium": (1000, 5000), "large": (11_000, 20_000)}
"""Usual sizes of the three containers, in pieces (common practice, no source)."""


def random_pour(band: tuple[int, int], rng: np.random.Generator) -> int:
    """A count (pieces) drawn by lot from a band, not a multiple of 5.

    Every ratio within the band is equally likely (uniform in the logarithm), as answers are scored
    by ratio; round numbers, which people try first, are left out.

    >>> 1000 <= random_pour((1000, 5000), np.random.default_rng(3)) <= 5000
    True

    Parameters
    ----------
    band : (low, high), pieces

    Raises
    ------
    InputError : if the band is impossible or too narrow to hide a count
    """
    low, high = band
    if not 1 <= low < high or high - low < 2:
        raise InputError(
            "needs a low end of 1 or more and a higher high end",
            where="band",
            value=f"{low} to {high}",
            mend="Give it like 1000 to 5000",
        )
    while True:  # of any three neighbours at most one is a multiple of 5
        drawn = round(math.exp(rng.uniform(math.log(low), math.log(high))))
        if drawn % 5 and low <= drawn <= high:
            return drawn
