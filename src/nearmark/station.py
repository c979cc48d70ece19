"""The three stations of a contest, which practice has too."""

from enum import StrEnum


class Station(StrEnum):
    """What kind of quantity is estimated."""

    MASS = "mass"
    COUNT = "count"
    VOLUME = "volume"


UNITS = {Station.MASS: "g", Station.COUNT: "pieces", Station.VOLUME: "cm3"}
"""Unit of the answers at each station."""
