"""Pages of boxes for volume practice: drawn without a number, sides and volumes on the key page.

A box is drawn in cavalier projection: the front as it is, the depth slanted at 45 degrees and as
long as it is, so that a hand laid along any edge takes its length.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

import numpy as np

from nearmark.errors import InputError
from nearmark.printing.jar_cards import OVER
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text
from nearmark.station import Station
from nearmark.words.rules import question

BOXES = 6
TENTHS = Decimal("0.1")
MIN_CM, MAX_CM = 3.0, 24.0
MIN_CM3, MAX_CM3 = 200, 4000
"""What a child can hold, and what contests ask for (common practice, no source)."""

ROOM_CM = (17.4, 18.5)
"""Width and height for one drawing: the width of A4, the height of US letter."""

_SLANT = math.sqrt(0.5)
"""Of the depth, to the right and upwards."""


@dataclass(frozen=True, slots=True)
class DrawnBox:
    """One box of the page."""

    code: str
    length_cm: Decimal
    width_cm: Decimal
    height_cm: Decimal

    @property
    def volume_cm3(self) -> Decimal:
        """Exactly the product of the sides."""
        return self.length_cm * self.width_cm * self.height_cm


@dataclass(frozen=True, slots=True)
class BoxDrawing:
    """One box as the page shows it; corners in cm on paper, from the lower left of the drawing."""

    code: str
    front_cm: tuple[float, float]
    deep_cm: float
    scale: str


@dataclass(frozen=True, slots=True)
class BoxPageView:
    """The page, ready to be set."""

    event: str
    day: str
    question: str
    boxes: tuple[BoxDrawing, ...]


@dataclass(frozen=True, slots=True)
class BoxKeyRow:
    """One line of the key."""

    code: str
    sides: str
    volume: str
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class BoxKeyView:
    """The key, ready to be set."""

    event: str
    day: str
    rows: tuple[BoxKeyRow, ...]


def drawn_boxes(seed: int, n: int = BOXES) -> tuple[DrawnBox, ...]:
    """Draw boxes as households have them: small to large, no side the same.

    ``seed``: the same seed gives the same boxes. ``n``: boxes, 1 to 60.
    """
    if not 1 <= n <= 60:
        raise InputError("must be 1 to 60", where="boxes", value=n, mend="Ask for 6")
    rng = np.random.default_rng(seed)
    return tuple(_drawn(f"B{k + 1}", k % BOXES, rng) for k in range(n))


def _drawn(code: str, step: int, rng: np.random.Generator) -> DrawnBox:
    """One box; volumes rise through a set, each drawn from its share of the range of logarithms."""
    low, high = math.log(MIN_CM3), math.log(MAX_CM3)
    while True:
        volume = math.exp(low + (high - low) * (step + rng.random()) / BOXES)
        shape = np.exp(rng.normal(0.0, 0.3, 3))
        sides = shape * (volume / shape.prod()) ** (1 / 3)
        tall, wide, long = sorted(Decimal(repr(float(s))).quantize(TENTHS) for s in sides)
        if rng.random() < 0.35:  # some stand upright
            tall, wide = wide, tall
        box = DrawnBox(code, long, wide, tall)
        is_held = min(tall, wide) >= MIN_CM and long <= MAX_CM
        if is_held and MIN_CM3 <= box.volume_cm3 <= MAX_CM3:
            return box


def box_page_pdf(boxes: Sequence[DrawnBox], *, day: date, paper: str = "a4") -> bytes:
    """Set the page of boxes.

    ``paper``: ``a4`` or ``us-letter``. Returns: a PDF without any volume.
    """
    view = BoxPageView(
        OVER, day_text(day), question(Station.VOLUME), tuple(_drawing(box) for box in boxes)
    )
    return typeset("box_page", view, day=day, paper=paper)


def box_key_pdf(boxes: Sequence[DrawnBox], *, day: date, paper: str = "a4") -> bytes:
    """Set the key of a page of boxes.

    ``paper``: ``a4`` or ``us-letter``.
    """
    rows = tuple(
        BoxKeyRow(
            code=box.code,
            sides=f"{box.length_cm} × {box.width_cm} × {box.height_cm} cm",  # noqa: RUF001 - a real sign
            volume=number_text(float(box.volume_cm3), 0),
            low=number_text(0.9 * float(box.volume_cm3), 0),
            high=number_text(1.1 * float(box.volume_cm3), 0),
        )
        for box in boxes
    )
    return typeset("box_key", BoxKeyView(OVER, day_text(day), rows), day=day, paper=paper)


def _drawing(box: DrawnBox) -> BoxDrawing:
    """Every edge at its true length where it fits the page, else at a half, and that is said."""
    length, width, height = (float(s) for s in (box.length_cm, box.width_cm, box.height_cm))
    across, up = length + _SLANT * width, height + _SLANT * width
    fits = across <= ROOM_CM[0] and up <= ROOM_CM[1]
    size = 1.0 if fits else 0.5
    return BoxDrawing(
        code=box.code,
        front_cm=(size * length, size * height),
        deep_cm=size * _SLANT * width,
        scale="Every edge is drawn at its true length."
        if fits
        else "Drawn at half size: double every length you take.",
    )
