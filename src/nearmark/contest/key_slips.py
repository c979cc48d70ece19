"""Slips that could have led to a wrong key, and what the key would be without each of them."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final

from nearmark.contest.event import Event, Item, Side
from nearmark.measurement.slips import exchanged_digits
from nearmark.station import Station
from nearmark.units import CM_PER_INCH

WALL_CM: Final = 0.4
"""Wall taken for "outside instead of inside": a common corrugated box (invented default)."""

MIN_EFFECT: Final = 0.05
"""Slips that move the key by less (as a log ratio) are left out: no field of children can tell
them from no slip, and each would only take probability from the others."""


class KeySlip(StrEnum):
    """How a key came to be wrong."""

    DECIDED = "decided value"
    KEY_DIGITS = "digits of the key"
    TEN_TIMES_TOO_LARGE = "ten times too large"
    TEN_TIMES_TOO_SMALL = "ten times too small"
    SAMPLES_TWICE = "samples twice"
    SAMPLES_HALF = "samples half"
    GROSS_DIGITS = "digits of the gross mass"
    TARE_DIGITS = "digits of the tare"
    TARE_TWICE = "tare twice"
    TARE_LEFT_IN = "tare left in"
    EDGE_DIGITS = "digits of an edge"
    EDGE_IN_INCHES = "edge in inches"
    EDGE_AS_INCHES = "edge as inches"
    ALL_IN_INCHES = "all in inches"
    ALL_AS_INCHES = "all as inches"
    EDGE_DOUBLED = "edge doubled"
    EDGE_HALVED = "edge halved"
    OUTSIDE = "outside"
    INSIDE = "inside"


@dataclass(frozen=True, slots=True)
class Slip:
    """One way in which the key may be wrong."""

    kind: KeySlip
    key: float  # what the key would be had the slip not happened (unit of the item)
    # Of exchanged digits: the place of the first one, counted from 1; 0 for other slips.
    position: int = 0
    # Of exchanged digits: the number as it is, and what may have been meant (unit of the
    # number, or None).
    typed: Decimal | None = None
    meant: Decimal | None = None
    side: Side | None = None  # of a slip at one edge


def possible_slips(
    event: Event, item: Item, key: Decimal, *, measured: float | None = None
) -> tuple[Slip, ...]:
    """Slips that could be behind the key of one item, those too small to be seen left out.

    >>> from datetime import date
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8))
    >>> slips = possible_slips(day, Item("C1", Station.COUNT, "jar"), Decimal(4120))
    >>> sorted(round(slip.key) for slip in slips)
    [412, 1420, 2060, 8240, 41200]

    Parameters
    ----------
    event : its readings are searched for exchanged digits and for a tare taken wrongly
    item : at the count or volume station
    key : unit of the item, > 0; as it is
    measured : unit of the item, or None
        The measured value where the lead has put another in its place.
    """
    stated = float(key)
    found: dict[float, Slip] = {}
    slips = list(_all_slips(event, item, key))
    if measured is not None:
        slips.insert(0, Slip(KeySlip.DECIDED, measured))
    for slip in slips:
        seen = slip.key > 0 and abs(math.log(slip.key / stated)) >= MIN_EFFECT
        if seen:
            # The first slip for a key is the most specific one.
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

    >>> [(slip.kind.value, slip.position, slip.key) for slip in digit_slips(Decimal(4120))][0]
    ('digits of the key', 1, 1420.0)

    Parameters
    ----------
    key : any unit, > 0
    """
    for i, swapped in exchanged_digits(key):
        yield Slip(KeySlip.KEY_DIGITS, float(swapped), i, key, swapped)
    stated = float(key)
    yield Slip(KeySlip.TEN_TIMES_TOO_LARGE, stated / 10)
    yield Slip(KeySlip.TEN_TIMES_TOO_SMALL, stated * 10)


def _weighing_slips(event: Event, item: Item, key: float) -> Iterator[Slip]:
    """Slips of the container's weighings and of the counted samples."""
    rows = [row for row in event.containers if row.item == item.code]
    gross = next((row.gross_g for row in rows if row.gross_g is not None), None)
    tare = next((row.tare_g for row in rows if row.tare_g is not None), None)
    if gross is not None and tare is not None:
        yield from _net_slips(key, gross=gross, tare=tare, net=gross - tare)
    yield Slip(KeySlip.SAMPLES_TWICE, key / 2)
    yield Slip(KeySlip.SAMPLES_HALF, key * 2)


def _net_slips(key: float, *, gross: Decimal, tare: Decimal, net: Decimal) -> Iterator[Slip]:
    for i, swapped in exchanged_digits(gross):
        without = key * float((swapped - tare) / net)
        yield Slip(KeySlip.GROSS_DIGITS, without, i, gross, swapped)
    if tare > 0:
        for i, swapped in exchanged_digits(tare):
            without = key * float((gross - swapped) / net)
            yield Slip(KeySlip.TARE_DIGITS, without, i, tare, swapped)
        yield Slip(KeySlip.TARE_TWICE, key * float(gross / net))
        yield Slip(KeySlip.TARE_LEFT_IN, key * float((net - tare) / net))


def _box_slips(event: Event, item: Item, key: float) -> Iterator[Slip]:
    """Slips of the three edges."""
    edges: dict[Side, Decimal] = {}
    for row in event.box_readings:
        if row.item == item.code:
            edges.setdefault(row.side, row.reading_cm)
    for side, edge in edges.items():
        for i, swapped in exchanged_digits(edge):
            without = key * float(swapped / edge)
            yield Slip(KeySlip.EDGE_DIGITS, without, i, edge, swapped, side)
        yield Slip(KeySlip.EDGE_IN_INCHES, key * CM_PER_INCH, side=side)
        yield Slip(KeySlip.EDGE_AS_INCHES, key / CM_PER_INCH, side=side)
    yield Slip(KeySlip.ALL_IN_INCHES, key * CM_PER_INCH**3)
    yield Slip(KeySlip.ALL_AS_INCHES, key / CM_PER_INCH**3)
    yield from _wall_slips(edges, key)
    yield Slip(KeySlip.EDGE_DOUBLED, key / 2)
    yield Slip(KeySlip.EDGE_HALVED, key * 2)


def _wall_slips(edges: dict[Side, Decimal], key: float) -> Iterator[Slip]:
    if len(edges) == len(Side):
        inside = _grown(edges.values(), -2 * WALL_CM)
        outside = _grown(edges.values(), 2 * WALL_CM)
        yield Slip(KeySlip.OUTSIDE, key * inside)
        yield Slip(KeySlip.INSIDE, key * outside)


def _grown(edges: Iterable[Decimal], by_cm: float) -> float:
    """Ratio of the volumes when every edge grows."""
    return math.prod((float(edge) + by_cm) / float(edge) for edge in edges)
