"""Containers, cups and boxes whose readings are odd beside each other or beside what is usual."""

import math
from collections.abc import Mapping, Sequence
from decimal import Decimal
from statistics import median
from typing import Final

from nearmark.kit.odd_samples import MAX_COMPARED, Oddity
from nearmark.kit.usual import BOX_CM3, CUP_G, SIDE_CM
from nearmark.measurement.rounding import three_digits
from nearmark.measurement.slips import length_slips, likeliest, pen_slips
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
"""How well two walls are told by readings of a ruler."""


def odd_container(
    gross_g: Sequence[Decimal], tare_g: Sequence[Decimal], step_g: float
) -> Mapping[Decimal, Oddity]:
    """What is odd about the weighings of a container, by the reading.

    Parameters
    ----------
    gross_g, tare_g : g, shape (n,) and (m,)
        Full and empty, in the order typed.
    step_g : g
        Smallest step of the scale.

    Returns
    -------
    mapping reading -> Oddity

    Examples
    --------
    >>> odd = odd_container([Decimal("212.4")], [Decimal("712.4")], 0.1)
    >>> odd[Decimal("212.4")].ask
    'Are full and empty exchanged, or is it another container?'
    """
    found = {**_odd_repeats(gross_g, step_g, "full"), **_odd_repeats(tare_g, step_g, "empty")}
    if gross_g and tare_g and median(gross_g) <= median(tare_g):
        words = f"full, {gross_g[-1]:f} g, is not heavier than empty, {tare_g[-1]:f} g"
        ask = "Are full and empty exchanged, or is it another container?"
        found.setdefault(gross_g[-1], Oddity(words, ask))
    return found


def _odd_repeats(readings: Sequence[Decimal], step: float, what: str) -> dict[Decimal, Oddity]:
    measure = _middle(readings, step)
    found = {}
    for reading in readings:
        if measure is not None and abs(reading - measure) > _repeats(measure, step):
            words = f"{what}, {reading:f} g, was {measure:f} g before"
            found[reading] = Oddity(words, _pen_question(reading, measure, step))
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


def _pen_question(reading: Decimal, measure: Decimal, step: float) -> str:
    room = float(_repeats(measure, step))
    slip = likeliest(pen_slips(reading), float(measure) - room, float(measure) + room)
    return slip.question("g") if slip else "Is it the same container? Weigh it again?"


def odd_cups(tares_g: Sequence[Decimal], step_g: float) -> tuple[Oddity | None, ...]:
    """What is odd about the tare of each cup of one batch.

    Parameters
    ----------
    tares_g : g, > 0, shape (n,)
        In the order typed.
    step_g : g
        Smallest step of the scale.

    Returns
    -------
    tuple of Oddity or None, shape (n,)

    Examples
    --------
    >>> fine, odd = odd_cups([Decimal("8.6"), Decimal("86")], 0.1)
    >>> fine, odd.ask
    (None, 'Is the decimal point in the wrong place: 8.6 g?')
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
    if _is_cup(measure):
        low, high = float(measure) - room(measure), float(measure) + room(measure)
        words = f"another cup of its batch weighs {measure:f} g"
    else:
        low, high = CUP_G
        words = f"an empty cup weighs {low:g} to {high:g} g"
    return tuple(_odd_cup(tare_g, low, high, words) for tare_g in tares_g)


def _is_cup(tare_g: Decimal) -> bool:
    low, high = CUP_G
    return low <= float(tare_g) <= high


def _odd_cup(tare_g: Decimal, low: float, high: float, words: str) -> Oddity | None:
    if low <= float(tare_g) <= high:
        return None
    slip = likeliest(pen_slips(tare_g), low, high)
    ask = slip.question("g") if slip else "Is it empty, and of this batch?"
    return Oddity(f"{tare_g:f} g, {words}", ask)


def odd_edges(
    read_cm: Mapping[str, Sequence[Decimal]],
    step_cm: float,
    *,
    inside: bool | None = None,
    wall_cm: Decimal | None = None,
) -> Mapping[tuple[str, Decimal], Oddity]:
    """What is odd about the readings of the edges of a box.

    Parameters
    ----------
    read_cm : mapping edge -> cm, shape (n,)
        In the order typed.
    step_cm : cm
        Smallest step of the ruler.
    inside : bool or None
        Whether the edges are read inside; ``None``: not stated.
    wall_cm : cm or None
        One wall, if known.

    Returns
    -------
    mapping (edge, reading) -> Oddity

    Examples
    --------
    >>> odd = odd_edges({"length": [Decimal("16.2"), Decimal("16.3"), Decimal("6.4")]}, 0.1)
    >>> odd["length", Decimal("6.4")].ask
    'Was it read in inches? That would be 16.3 cm.'
    """
    found = {}
    measures = {edge: _middle(readings, step_cm) for edge, readings in read_cm.items()}
    for edge, readings in read_cm.items():
        measure = measures[edge]
        others = {e: m for e, m in measures.items() if e != edge and m is not None}
        for reading in readings:
            odd = _odd_side(edge, reading)
            if odd is None and measure is not None:
                faces = _faces_question(reading, measure, inside=inside, wall_cm=wall_cm)
                odd = _odd_edge(edge, reading, measure, others, step_cm, faces)
            if odd is not None:
                found[edge, reading] = odd
    return found


def _odd_side(edge: str, reading: Decimal) -> Oddity | None:
    low, high = SIDE_CM
    if low <= float(reading) <= high:
        return None
    slips = [*length_slips(reading)]
    if float(reading) > high:  # the larger unit cannot be behind a large number
        slips = slips[1:]
    slip = likeliest(slips, 3 * low, high)
    words = f"{edge} {reading:f} cm, sides of a box here are {low:g} to {high:g} cm"
    return Oddity(words, slip.question("cm") if slip else "Is it in cm?")


def _odd_edge(
    edge: str,
    reading: Decimal,
    measure: Decimal,
    others: Mapping[str, Decimal],
    step_cm: float,
    faces: str,
) -> Oddity | None:
    room = _repeats(measure, step_cm)
    if abs(reading - measure) <= room:
        return None
    words = f"{edge} {reading:f} cm, it was {measure:f} cm before"
    slip = likeliest(length_slips(reading), float(measure - room), float(measure + room))
    of = next((e for e, m in others.items() if abs(reading - m) <= _repeats(m, step_cm)), None)
    if slip is not None:
        ask = slip.question("cm")
    elif faces:
        ask = faces
    elif of is not None:
        ask = f"Is it the {of}?"
    else:
        ask = "Read it again?"
    return Oddity(words, ask)


def _faces_question(
    reading: Decimal, measure: Decimal, *, inside: bool | None, wall_cm: Decimal | None
) -> str:
    """Whether one reading is two walls off the others: read between the other faces."""
    off = float(reading - measure)
    low, high = (2 * w for w in WALL_CM)
    if wall_cm is not None:
        low, high = 2 * float(wall_cm) - WALL_U_CM, 2 * float(wall_cm) + WALL_U_CM
    if not low <= abs(off) <= high:
        return ""
    if off > 0:
        return "" if inside is False else "Was this one read outside, with the walls?"
    return "" if inside else "Was this one read inside, without the walls?"


def odd_box(sides_cm: Mapping[str, Decimal]) -> Oddity | None:
    """What is odd about the volume of a box whose three sides have been read.

    Parameters
    ----------
    sides_cm : mapping edge -> cm
        All three.

    Returns
    -------
    Oddity or None

    Examples
    --------
    >>> inches = {"length": Decimal("6.4"), "width": Decimal("4.8"), "height": Decimal("3.3")}
    >>> odd_box(inches).ask
    'Was the ruler read in inches? That would be 1660 cm3.'
    """
    volume = math.prod(float(side) for side in sides_cm.values())
    low, high = BOX_CM3
    if low <= volume <= high:
        return None
    words = (
        f"length times width times height is {three_digits(volume)} cm3, boxes here hold "
        f"{low:g} to {high:g} cm3"
    )
    if volume < low and volume * CM_PER_INCH**3 <= high:
        inches = f"{three_digits(volume * CM_PER_INCH**3)} cm3"
        return Oddity(words, f"Was the ruler read in inches? That would be {inches}.")
    if volume > high and volume / 1000 >= low:
        return Oddity(
            words, f"Was it read in millimetres? That would be {three_digits(volume / 1000)} cm3."
        )
    return Oddity(words, "Is a decimal point missing, or a side wrong?")
