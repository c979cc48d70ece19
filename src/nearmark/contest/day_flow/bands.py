"""A figure over many simulated days, as a band."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True, slots=True)
class Band:
    """A figure over many days: nine days of ten lie above ``low``, nine of ten below ``high``."""

    low: float
    usual: float
    high: float


def band(values: Iterable[float]) -> Band:
    """Band of one figure: eight days of ten lie in it.

    >>> band([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10])
    Band(low=1.0, usual=5.0, high=9.0)

    Parameters
    ----------
    values : shape (n_days,), in the unit of the figure
    """
    low, usual, high = np.quantile(np.fromiter(values, float), (0.1, 0.5, 0.9))
    return Band(float(low), float(usual), float(high))
