"""Printed cards of practice jars: the pictures and a code on one page, the counts on another."""

import base64
import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.station import Station
from nearmark.words.numbers import capital
from nearmark.words.rules import question

OVER = "Nearmark practice"
"""The line in the place where other pages name their event."""

_PNG = b"\x89PNG"


@dataclass(frozen=True, slots=True)
class JarCard:
    """One jar to be printed."""

    code: str
    what: str
    count: int  # pieces
    # Pieces and layers as the census sees them, or None.
    layer: float | None = None
    layers: float | None = None
    # From above and from the side, PNG; or one photo, JPEG; none for the key page.
    pictures: tuple[bytes, ...] = ()
    checked_by: str = ""  # who answers for the count of a photo


@dataclass(frozen=True, slots=True)
class CardPage:
    """One card as the page shows it: nothing on it says the count."""

    code: str
    what: str
    pictures: tuple[str, ...]
    is_photo: bool


@dataclass(frozen=True, slots=True)
class CardsView:
    """All cards, ready to be set."""

    event: str
    day: str
    question: str
    cards: tuple[CardPage, ...]


@dataclass(frozen=True, slots=True)
class KeyRow:
    """One line of the key page."""

    code: str
    what: str
    count: str
    method: str
    off: str
    checked_by: str


@dataclass(frozen=True, slots=True)
class CardsKeyView:
    """The key page, ready to be set."""

    event: str
    day: str
    rows: tuple[KeyRow, ...]


def jar_cards_pdf(cards: Sequence[JarCard], *, day: date, paper: str = "a4") -> bytes:
    """Set the cards, a page each.

    ``paper``: ``a4`` or ``us-letter``. Returns: a PDF without any count. Raises InputError if there
    are none.
    """
    _check(cards)
    pages = tuple(
        CardPage(
            code=card.code,
            what=capital(wrappable(card.what, 80)),
            pictures=tuple(_as_svg(p) for p in card.pictures),
            is_photo=len(card.pictures) == 1,
        )
        for card in cards
    )
    return typeset(
        "jar_cards",
        CardsView(OVER, day_text(day), question(Station.COUNT), pages),
        day=day,
        paper=paper,
    )


def jar_cards_key_pdf(cards: Sequence[JarCard], *, day: date, paper: str = "a4") -> bytes:
    """Set the counts of the cards, on a page of their own.

    ``paper``: ``a4`` or ``us-letter``. Raises InputError if there are none.
    """
    _check(cards)
    rows = tuple(_key_row(card) for card in cards)
    return typeset("jar_cards_key", CardsKeyView(OVER, day_text(day), rows), day=day, paper=paper)


def _check(cards: Sequence[JarCard]) -> None:
    if not cards:
        raise InputError("there are none", where="jar cards", mend="Choose one jar or more")


def _key_row(card: JarCard) -> KeyRow:
    method, off = "", ""
    if card.layer is not None and card.layers is not None:
        product = card.layer * card.layers
        method = f"{card.layer:.0f} × {card.layers:.1f} = {number_text(product, 0)}"  # noqa: RUF001 - a real sign
        off = f"{100 * (product / card.count - 1):+.0f} %".replace("-", "−")  # noqa: RUF001
    return KeyRow(
        code=card.code,
        what=capital(wrappable(card.what, 80)),
        count=number_text(card.count, 0),
        method=method,
        off=off,
        checked_by=wrappable(card.checked_by, 60),
    )


def _as_svg(picture: bytes) -> str:
    """The picture inside an SVG: the compiler takes text only, and no file is written."""
    kind = "png" if picture.startswith(_PNG) else "jpeg"
    wide, high = _size(picture)
    data = base64.b64encode(picture).decode("ascii")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{high}" '
        f'viewBox="0 0 {wide} {high}"><image width="{wide}" height="{high}" '
        f'href="data:image/{kind};base64,{data}"/></svg>'
    )


def _size(picture: bytes) -> tuple[int, int]:
    from PIL import Image  # noqa: PLC0415 - the other pages need no pictures

    with Image.open(io.BytesIO(picture), formats=("PNG", "JPEG")) as opened:
        return opened.size
