"""A page of boxes for volume practice: drawn with their sides, the volumes on another page."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

import numpy as np

from nearmark.errors import InputError
from nearmark.printing.jar_cards import OVER
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text

BOXES_A_PAGE = 6
TENTHS = Decimal("0.1")
MIN_CM, MAX_CM = 3.0, 32.0
ROOM_CM = (7.0, 4.5)
"""Width and height of a cell for one drawing on the narrower paper."""

_SLANT = 0.42
"""How much of the depth is drawn to the right and upwards: half of a side drawn at 32 degrees."""
_RISE = 0.26


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
    length: str
    width: str
    height: str
    front_cm: tuple[float, float]
    deep_cm: tuple[float, float]
    scale: str


@dataclass(frozen=True, slots=True)
class BoxPageView:
    """The page, ready to be set."""

    event: str
    day: str
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


def drawn_boxes(seed: int, n: int = BOXES_A_PAGE) -> tuple[DrawnBox, ...]:
    """Draw boxes as households have them: small to large, no side the same.

    ``seed``: the same seed gives the same boxes. ``n``: boxes, 1 to 60.
    """
    if not 1 <= n <= 60:
        raise InputError("must be 1 to 60", where="boxes", value=n, mend="Ask for 6")
    rng = np.random.default_rng(seed)
    boxes = []
    for k in range(n):
        # Sizes rise through the page from a matchbox to a shoe box.
        middle = MIN_CM * 1.1 + (MAX_CM * 0.5 - MIN_CM * 1.1) * (k % BOXES_A_PAGE) / 5
        sides = np.clip(middle * np.exp(rng.normal(0.0, 0.38, 3)), MIN_CM, MAX_CM)
        tall, wide, long = sorted(Decimal(repr(float(s))).quantize(TENTHS) for s in sides)
        if rng.random() < 0.35:  # some stand upright
            tall, wide = wide, tall
        boxes.append(DrawnBox(f"B{k + 1}", long, wide, tall))
    return tuple(boxes)


def box_page_pdf(boxes: Sequence[DrawnBox], *, day: date, paper: str = "a4") -> bytes:
    """Set the page of boxes.

    ``paper``: ``a4`` or ``us-letter``. Returns: a PDF without any volume.
    """
    view = BoxPageView(OVER, day_text(day), tuple(_drawing(box) for box in boxes))
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
    """True to scale where it fits, else at a half, a third, ... and that is said."""
    length, width, height = (float(s) for s in (box.length_cm, box.width_cm, box.height_cm))
    across, up = length + _SLANT * width, height + _RISE * width
    over = max(across / ROOM_CM[0], up / ROOM_CM[1])
    one_to = 1 if over <= 1 else int(np.ceil(over))
    return BoxDrawing(
        code=box.code,
        length=str(box.length_cm),
        width=str(box.width_cm),
        height=str(box.height_cm),
        front_cm=(length / one_to, height / one_to),
        deep_cm=(_SLANT * width / one_to, _RISE * width / one_to),
        scale="its front is drawn true to scale" if one_to == 1 else f"drawn 1 : {one_to}",
    )
