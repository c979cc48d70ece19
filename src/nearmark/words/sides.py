"""How far off, and how much: the phrases that sentences on practice share."""

from typing import Final

from nearmark.station import Station
from nearmark.words.translation import digits, message, say

_STATIONS: Final = {
    Station.MASS: message("mass"),
    Station.COUNT: message("count"),
    Station.VOLUME: message("volume"),
}
_UNITS: Final = {"cm3": message("cm³"), "pieces": message("pieces")}


def side_words(ratio: float) -> str:
    """An answer over the truth, in words.

    >>> side_words(0.88), side_words(1.05), side_words(1.0), side_words(2.2)
    ('12 % low', '5 % high', 'right', '2.2 times too high')
    """
    percent = round(100 * (ratio - 1))
    if percent == 0:
        return say("right")
    if percent >= 100:
        return say("{times} times too high", times=f"{ratio:.1f}")
    if percent > 0:
        return say("{percent} % high", percent=percent)
    return say("{percent} % low", percent=-percent)


def unit_text(unit: str) -> str:
    """A unit as printed.

    >>> unit_text("cm3"), unit_text("pieces")
    ('cm³', 'pieces')
    """
    return say(_UNITS[unit]) if unit in _UNITS else unit


def amount_text(value: float) -> str:
    """A number as a child would write it: three figures, whole from a hundred on.

    >>> amount_text(296.4), amount_text(10.54), amount_text(1609.0), amount_text(37.0)
    ('296', '10.5', '1,609', '37')
    """
    if value >= 100 or value == round(value):
        return digits(f"{value:,.0f}")
    return digits(f"{value:.1f}")


def kind_words(station: Station | str, size: str) -> str:
    """Station and size class, as shown.

    >>> kind_words("count", "small"), kind_words(Station.MASS, "")
    ('count, small', 'mass')
    """
    name = say(_STATIONS[Station(station)])
    return f"{name}, {size}" if size else name
