"""What may have been meant instead of a number, as a question to the person who typed it."""

from typing import Final

from nearmark.measurement.slips import Meant, SlipKind
from nearmark.words.translation import message, say

_QUESTIONS: Final = {
    SlipKind.POINT: message("Is the decimal point in the wrong place: {value}?"),
    SlipKind.EXCHANGED: message("Are two digits exchanged: {value}?"),
    SlipKind.DIGIT: message("Is one digit wrong: {value}?"),
    SlipKind.INCHES: message("Was it read in inches? That would be {value}."),
    SlipKind.MILLIMETRES: message("Was it read in millimetres? That would be {value}."),
}


def slip_question(meant: Meant, unit: str = "") -> str:
    """True of a number that one slip of the pen or of the unit makes of the number meant.

    >>> from decimal import Decimal
    >>> slip_question(Meant(SlipKind.POINT, Decimal("8.6")), "g")
    'Is the decimal point in the wrong place: 8.6 g?'
    """
    return say(_QUESTIONS[meant.kind], value=f"{meant.value:f} {unit}".rstrip())
