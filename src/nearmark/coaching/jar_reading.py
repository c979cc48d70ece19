"""One estimate of a jar of known count, as an attempt."""

import math
from dataclasses import dataclass
from datetime import date

from nearmark.coaching.attempt import Attempt, Layers
from nearmark.errors import InputError
from nearmark.station import Station

MAX_ESTIMATE = 10_000_000
"""Pieces; a larger answer is a slip of the finger."""


@dataclass(frozen=True, slots=True)
class KnownJar:
    """A jar as the key knows it."""

    count: int  # exact, or certified (pieces)
    # Seen in the layer on top; ``None``: nobody counted it (pieces or None).
    layer: float | None = None
    layers: float | None = None  # seen along the side (layers or None)


def checked_estimate(
    estimate: float, layer: float | None = None, layers: float | None = None
) -> None:
    """Refuse an answer that cannot be one.

    >>> checked_estimate(420, 42, 10)

    Parameters
    ----------
    estimate : pieces
    layer : pieces in one layer, optional
    layers : layers, optional
    """
    for where, value in (("estimate", estimate), ("one layer", layer), ("layers", layers)):
        if value is not None and not (math.isfinite(value) and 0 < value <= MAX_ESTIMATE):
            raise InputError(
                f"must be above zero and at most {MAX_ESTIMATE:,}",
                where=where,
                value=value,
                mend="Write how many you think there are",
            )


def jar_attempt(
    jar: KnownJar, estimate: float, layer: float | None = None, layers: float | None = None
) -> Attempt:
    """The attempt at a jar, on no day and by nobody.

    >>> jar_attempt(KnownJar(480, 50, 9.6), 378, 42, 9).parts.product
    378

    Parameters
    ----------
    estimate : pieces
    layer : pieces in one layer, optional; as the pupil had it
    layers : layers, optional; as the pupil had them
    """
    parts = Layers(layer, layers, jar.layer, jar.layers) if layer and layers else None
    return Attempt(date.min, "pupil", Station.COUNT, "jar", estimate, jar.count, parts=parts)


def band_of(count: int) -> str:
    """The size a count belongs to, or the nearest: small, medium or large.

    >>> band_of(400), band_of(800), band_of(4000), band_of(12_000)
    ('small', 'small', 'medium', 'large')

    Parameters
    ----------
    count : pieces
    """
    # Between two bands the nearer one in ratio: 700 | 1,000 and 5,000 | 11,000.
    if count < math.sqrt(700 * 1_000):
        return "small"
    return "medium" if count < math.sqrt(5_000 * 11_000) else "large"
