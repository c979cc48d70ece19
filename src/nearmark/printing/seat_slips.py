"""Slips to cut: each child's own code for a drill, and a QR code that leads to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from nearmark.errors import InputError
from nearmark.printing.qr import qr_svg
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import wrappable
from nearmark.words.season_papers import SlipWords, slip_words

MAX_SLIPS = 200


@dataclass(frozen=True, slots=True)
class SeatSlip:
    """The slip of one seat, as text."""

    name: str
    code: str
    address: str
    qr: str  # SVG


@dataclass(frozen=True, slots=True)
class SeatSlipsView:
    """All slips, ready to be set."""

    words: SlipWords
    slips: tuple[SeatSlip, ...]


def seat_slip(name: str, code: str, address: str) -> SeatSlip:
    """The slip of one seat; its QR code opens the page with the code filled in.

    ``address``: where codes are typed.

    >>> seat_slip("Ada", "K7QX", "http://192.0.2.7:8000/drill/").address
    '192.0.2.7:8000/drill/'
    """
    shown = address.split("://", 1)[-1]
    return SeatSlip(wrappable(name, 40), code, shown, qr_svg(f"{address}?code={code}"))


def seat_slips_pdf(drill: str, slips: Sequence[SeatSlip], *, day: date, paper: str = "a4") -> bytes:
    """Set the slips, ten a page, with cut marks.

    ``drill``: its title. ``paper``: ``a4`` or ``us-letter``. Raises InputError if there is none, or
    too many for one document.
    """
    if not 1 <= len(slips) <= MAX_SLIPS:
        raise InputError(
            f"1 to {MAX_SLIPS} fit one document",
            where="slips",
            value=len(slips),
            mend="Open a drill with fewer seats",
        )
    view = SeatSlipsView(slip_words(wrappable(drill, 60)), tuple(slips))
    return typeset("seat_slips", view, day=day, paper=paper)
