"""Containers, cups and boxes whose readings are odd beside each other or beside what is usual."""

import math
from collections.abc import Mapping, Sequence
from decimal import Decimal
from statistics import median
from typing import Final

from nearmark.kit.box_faces import NOT_STATED, BoxFaces, Faces
from nearmark.kit.odd_records import (
    BoxSlip,
    FullNotHeavier,
    MassDiffers,
    OddCup,
    OddSide,
    OddVolume,
    SideDiffers,
)
from nearmark.kit.odd_samples import MAX_COMPARED
from nearmark.kit.usual import BOX_CM3, CUP_G, SIDE_CM
from nearmark.measurement.slips import Meant, length_slips, likeliest, pen_slips
from nearmark.units import CM_PER_INCH

STEPS: Final = 3
"""Repeated readings of one thing differ by no more than so many steps of the instrument ..."""

REPEATS: Final = 0.015
"""... and this share of the reading: a soft side, a draught, a slanted look."""

CUPS_ALIKE: Final = 0.2
"""Cups of one batch differ by less than this share of their mass (common practice: a few %)."""

WALL_CM: Final = (0.1, 1.25)
"""One wall of a box of card, wood or plastic."""

WALL_U_CM: Final = 0.15
"""How well two walls are found by readings of a ruler."""


def odd_container(
    gross_g: Sequence[Decimal], tare_g: Sequence[Decimal], step_g: float
) -> Mapping[Decimal, FullNotHeavier | MassDiffers]:
    """What is odd about the weighings of a container, by the reading.

    >>> odd = odd_container([Decimal("212.4")], [Decimal("712.4")], 0.1)
    >>> odd[Decimal("212.4")]
    FullNotHeavier(full_g=Decimal('212.4'), empty_g=Decimal('712.4'))

    Parameters
    ----------
    gross_g, tare_g : g, shape (n,) and (m,); full and empty, in the order typed
    step_g : g; smallest step of the scale
    """
    found: dict[Decimal, FullNotHeavier | MassDiffers] = {
        **_odd_repeats(gross_g, step_g, is_full=True),
        **_odd_repeats(tare_g, step_g, is_full=False),
    }
    if gross_g and tare_g and median(gross_g) <= median(tare_g):
        found.setdefault(gross_g[-1], FullNotHeavier(gross_g[-1], tare_g[-1]))
    return found


def _odd_repeats(
    readings: Sequence[Decimal], step: float, *, is_full: bool
) -> dict[Decimal, MassDiffers]:
    measure = _middle(readings, step)
    found = {}
    for reading in readings:
        if measure is not None and abs(reading - measure) > _repeats(measure, step):
            meant = _pen_slip(reading, measure, step)
            found[reading] = MassDiffers(is_full, reading, measure, meant)
    return found


def _repeats(measure: Decimal, step: float) -> Decimal:
    """Most by which repeated readings of one thing differ."""
    return Decimal(repr(STEPS * step + REPEATS * float(measure)))


def _middle(readings: Sequence[Decimal], step: float) -> Decimal | None:
    """The reading that most others agree with; the first of equals."""
    first = readings[:MAX_COMPARED]

    def friends(one: Decimal) -> int:
        return sum(abs(one - other) <= _repeats(one, step) for other in first)

    return max(first, key=friends, default=None)


def _pen_slip(reading: Decimal, measure: Decimal, step: float) -> Meant | None:
    room = float(_repeats(measure, step))
    return likeliest(pen_slips(reading), float(measure) - room, float(measure) + room)


def odd_cups(tares_g: Sequence[Decimal], step_g: float) -> tuple[OddCup | None, ...]:
    """What is odd about the tare of each cup of one batch; ``None``: nothing.

    >>> fine, odd = odd_cups([Decimal("8.6"), Decimal("86")], 0.1)
    >>> fine, odd.meant.value
    (None, Decimal('8.6'))

    Parameters
    ----------
    tares_g : g, > 0, shape (n,); in the order typed
    step_g : g; smallest step of the scale
    """

    def room(tare_g: Decimal) -> float:
        return STEPS * step_g + CUPS_ALIKE * float(tare_g)

    first = tares_g[:MAX_COMPARED]

    def rank(tare_g: Decimal) -> tuple[int, bool]:
        friends = sum(float(abs(tare_g - other)) <= room(tare_g) for other in first)
        return friends, _is_cup(tare_g)

    if not tares_g:
        return ()
    measure = max(first, key=rank)
    low, high, other = *CUP_G, None
    if _is_cup(measure):
        low, high, other = float(measure) - room(measure), float(measure) + room(measure), measure
    return tuple(_odd_cup(tare_g, low, high, other) for tare_g in tares_g)


def _is_cup(tare_g: Decimal) -> bool:
    low, high = CUP_G
    return low <= float(tare_g) <= high


def _odd_cup(tare_g: Decimal, low: float, high: float, other_g: Decimal | None) -> OddCup | None:
    if low <= float(tare_g) <= high:
        return None
    return OddCup(tare_g, other_g, low, high, likeliest(pen_slips(tare_g), low, high))


def odd_edges(
    read_cm: Mapping[str, Sequence[Decimal]],
    step_cm: float,
    box: BoxFaces = NOT_STATED,
) -> Mapping[tuple[str, Decimal], OddSide | SideDiffers]:
    """What is odd about the readings of the edges of a box, by edge and reading.

    >>> odd = odd_edges({"length": [Decimal("16.2"), Decimal("16.3"), Decimal("6.4")]}, 0.1)
    >>> odd["length", Decimal("6.4")].slip
    Meant(kind=<SlipKind.INCHES: 'inches'>, value=Decimal('16.3'))

    Parameters
    ----------
    read_cm : mapping edge -> cm, shape (n,); in the order typed
    step_cm : cm; smallest step of the ruler
    box : between which faces the edges are read, and their wall if known
    """
    found: dict[tuple[str, Decimal], OddSide | SideDiffers] = {}
    measures = {edge: _middle(readings, step_cm) for edge, readings in read_cm.items()}
    for edge, readings in read_cm.items():
        measure = measures[edge]
        others = {e: m for e, m in measures.items() if e != edge and m is not None}
        for reading in readings:
            odd: OddSide | SideDiffers | None = _odd_side(edge, reading)
            if odd is None and measure is not None:
                faces = _faces_slip(reading, measure, box)
                odd = _odd_edge(edge, reading, measure, others, step_cm, faces)
            if odd is not None:
                found[edge, reading] = odd
    return found


def _odd_side(edge: str, reading: Decimal) -> OddSide | None:
    low, high = SIDE_CM
    if low <= float(reading) <= high:
        return None
    slips = [*length_slips(reading)]
    if float(reading) > high:  # the larger unit cannot be behind a large number
        slips = slips[1:]
    return OddSide(edge, reading, low, high, likeliest(slips, 3 * low, high))


def _odd_edge(
    edge: str,
    reading: Decimal,
    measure: Decimal,
    others: Mapping[str, Decimal],
    step_cm: float,
    faces: Faces | None,
) -> SideDiffers | None:
    room = _repeats(measure, step_cm)
    if abs(reading - measure) <= room:
        return None
    slip = likeliest(length_slips(reading), float(measure - room), float(measure + room))
    of = next((e for e, m in others.items() if abs(reading - m) <= _repeats(m, step_cm)), None)
    return SideDiffers(edge, reading, measure, slip or faces or of)


def _faces_slip(reading: Decimal, measure: Decimal, box: BoxFaces) -> Faces | None:
    """Whether one reading is two walls off the others: read between the other faces."""
    off = float(reading - measure)
    low, high = (2 * w for w in WALL_CM)
    if box.walls_cm:
        low, high = box.walls_cm - WALL_U_CM, box.walls_cm + WALL_U_CM
    if not low <= abs(off) <= high:
        return None
    if off > 0:
        return None if box.is_inside is False else Faces.OUTSIDE
    return None if box.is_inside else Faces.INSIDE


def odd_box(sides_cm: Mapping[str, Decimal]) -> OddVolume | None:
    """What is odd about the volume of a box whose three sides have been read.

    >>> inches = {"length": Decimal("6.4"), "width": Decimal("4.8"), "height": Decimal("3.3")}
    >>> odd_box(inches).slip
    <BoxSlip.INCHES: 'inches'>

    Parameters
    ----------
    sides_cm : mapping edge -> cm; all three
    """
    volume = math.prod(float(side) for side in sides_cm.values())
    low, high = BOX_CM3
    if low <= volume <= high:
        return None
    inches, millimetres = volume * CM_PER_INCH**3, volume / 1000
    if volume < low and inches <= high:
        return OddVolume(volume, low, high, BoxSlip.INCHES, inches)
    if volume > high and millimetres >= low:
        return OddVolume(volume, low, high, BoxSlip.MILLIMETRES, millimetres)
    return OddVolume(volume, low, high)
