"""What is usual for a material, a cup and a box: what a reading is compared with as it is typed."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

from nearmark.errors import NearmarkError
from nearmark.kit.figures import DEFAULT_U, TYPICAL
from nearmark.kit.materials import material

LOT_SPREAD: Final = 0.13
"""Two lots of one material differ by 10 to 15 % in the mass of a piece: variety, moisture, grading
(common practice, no source).  A source that measured one lot knows nothing of yours."""

SPECIFIED: Final = 0.05
"""Up to this relative u the mass of a piece is set by a specification: there are no lots."""

SAME_EVENT_SPREAD: Final = DEFAULT_U["lot"]
"""What one event calls one material mostly comes out of one purchase, but not always out of one
bag (common practice, no source)."""

UNKNOWN_PIECE_CV: Final = 0.25
"""Taken where the catalogue does not know the pieces: the widest of natural materials."""

CUP_G: Final = (1.5, 60.0)
"""Empty cups of 8 to 28 US fl oz: thin film to thick moulded (common practice, no source).  The
catalogue's are thin, 5.5 to 19 g."""

SIDE_CM: Final = (1.0, 60.0)
"""Sides of a box of 200 to 4000 cm3 that children judge by eye: flat or long, never longer than an
arm (common practice, no source)."""

BOX_CM3: Final = (200.0, 8000.0)
"""Boxes of the contest hold 200 to 4000 cm3; up to twice that nobody is asked."""


@dataclass(frozen=True, slots=True)
class UsualPiece:
    """What one piece of a material usually weighs."""

    mass_g: float
    spread: float  # standard deviation from lot to lot, as a log ratio (relative)
    piece_cv: float  # from piece to piece (relative)
    # The items that were weighed before; empty: the mass is from the catalogue.
    items: tuple[str, ...] = ()

    def sigma(self, pieces: int, mass_g: float, step_g: float) -> float:
        """Standard deviation of a sample's mass a piece from the usual one, as a log ratio.

        >>> usual = usual_piece("green-pea")
        >>> round(usual.sigma(100, 18.9, 0.1), 3)
        0.131

        Parameters
        ----------
        pieces : pieces, >= 1
        mass_g : g, > 0
        step_g : g; smallest step of the scale
        """
        rounding = step_g / mass_g / math.sqrt(12)
        return math.hypot(self.spread, self.piece_cv / math.sqrt(pieces), rounding)


def usual_piece(code: str, before: Sequence[tuple[str, float]] = ()) -> UsualPiece | None:
    """What a piece of a material usually weighs.

    As weighed here before, else as catalogued; ``None``: nothing is known of it.

    >>> usual_piece("green-pea").items
    ()
    >>> usual_piece("green-pea", [("J1", 0.201)]).items
    ('J1',)
    >>> usual_piece("own-beans") is None
    True

    Parameters
    ----------
    code : of the material
    before : shape (k,), of (item, g)
        Mass of a piece in other items of the same material in this event.
    """
    known = _catalogued(code)
    believed = [one for one in before if known is None or _is_near(one[1], known)]
    if not believed:
        return known
    cv = known.piece_cv if known else UNKNOWN_PIECE_CV
    items = tuple(dict.fromkeys(item for item, _ in believed))
    return UsualPiece(median(mass for _, mass in believed), SAME_EVENT_SPREAD, cv, items)


def _catalogued(code: str) -> UsualPiece | None:
    try:
        known = material(code)
    except NearmarkError:  # a material of one's own
        return None
    own_u = known.piece_mass.relative_u
    # A published value of one lot is no better for another lot than a typical one.
    spread = LOT_SPREAD if SPECIFIED < own_u <= DEFAULT_U[TYPICAL] else own_u
    return UsualPiece(known.piece_mass_g, spread, known.piece_cv)


def _is_near(mass_g: float, known: UsualPiece) -> bool:
    """Whether an item weighed before may serve as a measure: one that is odd itself may not."""
    return abs(math.log(mass_g / known.mass_g)) <= 2 * known.spread
