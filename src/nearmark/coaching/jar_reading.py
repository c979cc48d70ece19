"""What one estimate of a jar of known count says: where the points went, what the method gives."""

import math
from dataclasses import dataclass
from datetime import date

from nearmark.coaching.attempt import Attempt, Layers, Station
from nearmark.coaching.lost_points import lost_points
from nearmark.errors import InputError

MOST_ESTIMATE = 10_000_000
"""Pieces; a larger answer is a slip of the finger."""

_METHOD = "the method."
"""How a sentence ends that lays it to the method: then it is said what the method gives."""

NEAR = 0.05
"""Within this of the count the method is called right; our own choice."""


@dataclass(frozen=True, slots=True)
class KnownJar:
    """A jar as the key knows it.

    Attributes
    ----------
    count : pieces
        Exact, or certified.
    layer : pieces or None
        Seen in the layer on top; ``None``: nobody counted it.
    layers : layers or None
        Seen along the side.
    """

    count: int
    layer: float | None = None
    layers: float | None = None


def checked_estimate(
    estimate: float, layer: float | None = None, layers: float | None = None
) -> None:
    """Refuse an answer that cannot be one.

    Parameters
    ----------
    estimate : pieces
    layer : pieces in one layer, optional
    layers : layers, optional

    Raises
    ------
    InputError

    Examples
    --------
    >>> checked_estimate(420, 42, 10)
    """
    for where, value in (("estimate", estimate), ("one layer", layer), ("layers", layers)):
        if value is not None and not (math.isfinite(value) and 0 < value <= MOST_ESTIMATE):
            raise InputError(
                f"must be above zero and at most {MOST_ESTIMATE:,}",
                where=where,
                value=value,
                mend="Write how many you think there are",
            )


def jar_words(
    jar: KnownJar, estimate: float, layer: float | None = None, layers: float | None = None
) -> str:
    """One sentence: where the points went, or what surface times layers would have given.

    Parameters
    ----------
    jar : KnownJar
    estimate : pieces
    layer : pieces in one layer, optional
        As the pupil had it.
    layers : layers, optional
        As the pupil had them.

    Returns
    -------
    str

    Examples
    --------
    >>> jar_words(KnownJar(480, 50, 9.6), 378, 42, 9)
    '7 of 10 lost points come from the layer count.'
    >>> jar_words(KnownJar(400, 84, 7.0), 500).split(": ")[1]
    '47 % high, because from above you also see pieces of the layer beneath.'
    """
    if layer and layers and jar.layer and jar.layers:
        parts = Layers(layer, layers, jar.layer, jar.layers)
        attempt = Attempt(date.min, "pupil", Station.COUNT, "jar", estimate, jar.count, parts=parts)
        lost = lost_points([attempt])
        if lost is not None and not lost.words.endswith(_METHOD):
            return lost.words
    return method_words(jar)


def method_words(jar: KnownJar) -> str:
    """What the usual method gives for a jar, and why it is off.

    Parameters
    ----------
    jar : KnownJar

    Returns
    -------
    str
        Empty when nobody counted a layer.

    Examples
    --------
    >>> method_words(KnownJar(100, 10, 10.1))
    'One layer as seen from above, 10, times 10.1 layers gives 101: the method works here.'
    """
    if not (jar.layer and jar.layers):
        return ""
    product = jar.layer * jar.layers
    off = product / jar.count - 1
    head = (
        f"One layer as seen from above, {jar.layer:,.0f}, times {jar.layers:.1f} layers "
        f"gives {product:,.0f}"
    )
    if abs(off) <= NEAR:
        return f"{head}: the method works here."
    if off > 0:
        why = "because from above you also see pieces of the layer beneath"
        return f"{head}: {100 * off:.0f} % high, {why}."
    return f"{head}: {-100 * off:.0f} % low, because a layer inside holds more than the top shows."


def band_of(count: int) -> str:
    """The size of container a count belongs to, or the nearest.

    Parameters
    ----------
    count : pieces

    Returns
    -------
    str
        small, medium or large.

    Examples
    --------
    >>> band_of(400), band_of(800), band_of(4000), band_of(12_000)
    ('small', 'small', 'medium', 'large')
    """
    # Between two bands the nearer one in ratio: 700 | 1,000 and 5,000 | 11,000.
    if count < math.sqrt(700 * 1_000):
        return "small"
    return "medium" if count < math.sqrt(5_000 * 11_000) else "large"
