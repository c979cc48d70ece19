"""Kinds of things that are learnt together, and what each is worth in a contest."""

from collections.abc import Iterable, Mapping
from typing import Final

from nearmark.station import Station

Stratum = tuple[Station, str]
"""Station and size class."""

USUAL_ITEMS: Final[Mapping[Station, int]] = {Station.MASS: 1, Station.COUNT: 3, Station.VOLUME: 2}
"""One cup, three containers, two boxes (common practice, no source)."""

USUAL_SIZES: Final = ("small", "medium", "large")
"""Of the containers; each is one item."""


def items_of_station(station: Station) -> int:
    """Items of the usual contest.

    >>> items_of_station(Station.COUNT)
    3
    """
    return USUAL_ITEMS[station]


def items_of(stratum: Stratum) -> int:
    """Items of the usual contest that are of one kind: a size class is one item.

    >>> items_of((Station.COUNT, "small")), items_of((Station.COUNT, ""))
    (1, 3)
    """
    station, size = stratum
    return 1 if size else USUAL_ITEMS[station]


def kinds_to_practise(known: Iterable[Stratum]) -> tuple[Stratum, ...]:
    """Every kind a pupil should practise: what the club does, and what a contest asks besides.

    In the order of the stations, small sizes first.

    >>> [size for station, size in kinds_to_practise([(Station.COUNT, "medium")]) if size]
    ['small', 'medium', 'large']
    """
    kinds = set(known)
    for station in Station:
        sizes = {size for own, size in kinds if own is station}
        if not sizes:
            kinds.add((station, ""))
        elif station is Station.COUNT and sizes & set(USUAL_SIZES):
            kinds |= {(station, size) for size in USUAL_SIZES}
    order = list(Station)
    return tuple(sorted(kinds, key=lambda kind: (order.index(kind[0]), _size_order(kind[1]))))


def _size_order(size: str) -> tuple[int, str]:
    return (USUAL_SIZES.index(size) if size in USUAL_SIZES else -1, size)
