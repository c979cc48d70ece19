"""Slips that could have led to a wrong key, and what the key would be without each of them."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from nearmark.contest.event import Event, Item, Side
from nearmark.contest.rules import Station
from nearmark.measurement.slips import exchanged_digits
from nearmark.units import CM_PER_INCH

WALL_CM: Final = 0.4
"""Wall taken for "outside instead of inside": a common corrugated box (invented default)."""

LEAST_EFFECT: Final = 0.05
"""Slips that move the key by less (as a log ratio) are left out: no field of children can tell
them from no slip, and each would only take probability from the others."""


@dataclass(frozen=True, slots=True)
class Slip:
    """One way in which the key may be wrong.

    Attributes
    ----------
    words : str
        The slip, for the person who looks again.
    key : unit of the item
        What the key would be had the slip not happened.
    """

    words: str
    key: float


def possible_slips(
    event: Event, item: Item, key: Decimal, *, measured: float | None = None
) -> tuple[Slip, ...]:
    """Slips that could be behind the key of one item, those too small to be seen left out.

    Parameters
    ----------
    event : Event
        Its readings are searched for exchanged digits and for a tare taken wrongly.
    item : Item
        At the count or volume station.
    key : unit of the item, > 0
        As it stands.
    measured : unit of the item, or None
        The measured value where the lead has put another in its place.

    Returns
    -------
    tuple of Slip
        Each with another key.

    Examples
    --------
    >>> from datetime import date
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8))
    >>> slips = possible_slips(day, Item("C1", Station.COUNT, "jar"), Decimal(4120))
    >>> sorted(round(slip.key) for slip in slips)
    [412, 1420, 2060, 8240, 41200]
    """
    stated = float(key)
    found: dict[float, Slip] = {}
    slips = list(_all_slips(event, item, key))
    if measured is not None:
        slips.insert(0, Slip("the lead's value wrong, the measured one right", measured))
    for slip in slips:
        seen = slip.key > 0 and abs(math.log(slip.key / stated)) >= LEAST_EFFECT
        if seen:
            # The first words for a key are the most specific ones.
            found.setdefault(float(f"{slip.key:.4g}"), slip)
    return tuple(found.values())


def _all_slips(event: Event, item: Item, key: Decimal) -> Iterator[Slip]:
    if item.station is Station.COUNT:
        yield from _weighing_slips(event, item, float(key))
    else:
        yield from _box_slips(event, item, float(key))
    yield from digit_slips(key)


def digit_slips(key: Decimal) -> Iterator[Slip]:
    """Slips of the pen and of the decimal point.

    Parameters
    ----------
    key : any unit, > 0

    Yields
    ------
    Slip

    Examples
    --------
    >>> [(slip.words, slip.key) for slip in digit_slips(Decimal(4120))][0]
    ('digits 1 and 2 of the key exchanged (4120 for 1420)', 1420.0)
    """
    for i, swapped in exchanged_digits(key):
        words = f"digits {i} and {i + 1} of the key exchanged ({key} for {swapped})"
        yield Slip(words, float(swapped))
    stated = float(key)
    yield Slip("key ten times too large", stated / 10)
    yield Slip("key ten times too small", stated * 10)


def _weighing_slips(event: Event, item: Item, key: float) -> Iterator[Slip]:
    """Slips of the container's weighings and of the counted samples."""
    rows = [row for row in event.containers if row.item == item.code]
    gross = next((row.gross_g for row in rows if row.gross_g is not None), None)
    tare = next((row.tare_g for row in rows if row.tare_g is not None), None)
    if gross is not None and tare is not None:
        yield from _net_slips(key, gross=gross, tare=tare, net=gross - tare)
    yield Slip("pieces of the counted samples taken as twice as many", key / 2)
    yield Slip("pieces of the counted samples taken as half as many", key * 2)


def _net_slips(key: float, *, gross: Decimal, tare: Decimal, net: Decimal) -> Iterator[Slip]:
    for i, swapped in exchanged_digits(gross):
        words = f"digits {i} and {i + 1} of the gross mass exchanged ({gross} g for {swapped} g)"
        yield Slip(words, key * float((swapped - tare) / net))
    if tare > 0:
        for i, swapped in exchanged_digits(tare):
            words = f"digits {i} and {i + 1} of the tare exchanged ({tare} g for {swapped} g)"
            yield Slip(words, key * float((gross - swapped) / net))
        yield Slip("tare subtracted twice", key * float(gross / net))
        yield Slip("tare left in", key * float((net - tare) / net))


def _box_slips(event: Event, item: Item, key: float) -> Iterator[Slip]:
    """Slips of the three edges."""
    edges: dict[Side, Decimal] = {}
    for row in event.box_readings:
        if row.item == item.code:
            edges.setdefault(row.side, row.reading_cm)
    for side, edge in edges.items():
        for i, swapped in exchanged_digits(edge):
            words = f"digits {i} and {i + 1} of the {side} exchanged ({edge} cm for {swapped} cm)"
            yield Slip(words, key * float(swapped / edge))
        yield Slip(f"{side} read in inches", key * CM_PER_INCH)
        yield Slip(f"{side} read in cm and entered as inches", key / CM_PER_INCH)
    yield Slip("all edges read in inches", key * CM_PER_INCH**3)
    yield Slip("all edges in cm entered as inches", key / CM_PER_INCH**3)
    yield from _wall_slips(edges, key)
    yield Slip("one edge doubled", key / 2)
    yield Slip("one edge halved", key * 2)


def _wall_slips(edges: dict[Side, Decimal], key: float) -> Iterator[Slip]:
    if len(edges) == len(Side):
        inside = _grown(edges.values(), -2 * WALL_CM)
        outside = _grown(edges.values(), 2 * WALL_CM)
        yield Slip("measured outside instead of inside", key * inside)
        yield Slip("measured inside instead of outside", key * outside)


def _grown(edges: Iterable[Decimal], by_cm: float) -> float:
    """Ratio of the volumes when every edge grows."""
    return math.prod((float(edge) + by_cm) / float(edge) for edge in edges)
