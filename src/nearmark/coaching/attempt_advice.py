"""One sentence to a pupil about one attempt: what happened, and what to try."""

import math
from typing import Final

from nearmark.coaching.attempt import Attempt, Layers, Sides, Station
from nearmark.coaching.layer_slips import LayersSlip, find_layers_slip
from nearmark.coaching.lost_points import log_parts, split_attempt
from nearmark.coaching.pupil_habit import side
from nearmark.coaching.volume_slips import FoundSlip, Slip, find_slip

VERY_CLOSE: Final = 0.03
"""Natural log up to which nothing needs advice: below what the eye repeats to (common practice, no
source)."""

NAMED: Final = 0.5
"""Share of the lost points from which one part is named."""

_TEN: Final = 0.35
"""Natural log around a power of ten: an estimate good to 40 % whose zeros slipped."""

_LOW: Final = {
    Station.MASS: "scoop a little more next time.",
    Station.COUNT: "there were more than it looked.",
    Station.VOLUME: "the box holds more than it looks.",
}
_HIGH: Final = {
    Station.MASS: "scoop a little less next time.",
    Station.COUNT: "there were fewer than it looked.",
    Station.VOLUME: "the box holds less than it looks.",
}
_FAR: Final = {
    Station.MASS: "lift a known 100 g before you scoop.",
    Station.COUNT: "count one layer again, then the layers.",
    Station.VOLUME: "take each side again, and multiply once more.",
}
_PARTS: Final = {
    "the layer count": "look at one layer again, row by row.",
    "the number of layers": "run a finger down the side and count the layers again.",
    "the method": "the layers are not all alike: take the middle one.",
    "the sum": "multiply once more before you write.",
    "the length": "take the length twice.",
    "the width": "take the width twice.",
    "the height": "take the height twice.",
}


def attempt_advice(attempt: Attempt) -> str:
    """What to tell a pupil about one attempt.

    Parameters
    ----------
    attempt : Attempt

    Returns
    -------
    str
        One sentence; a slip of the sum first, then the part that cost most, then the side.

    Examples
    --------
    >>> from datetime import date
    >>> attempt_advice(Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 400, 500))
    '20 % low: there were more than it looked.'
    >>> attempt_advice(
    ...     Attempt(date(2027, 2, 3), "Ada", Station.VOLUME, "box", 96, 480, parts=Sides(12, 8, 5))
    ... )
    'Two sides multiplied only (12 x 8): your sides give 480 cm3.'
    """
    slip = _slip(attempt)
    if slip:
        return slip
    x = attempt.log_ratio
    words = side(x)
    words = f"{words[:1].upper()}{words[1:]}"
    if abs(x) <= VERY_CLOSE:
        return "Very close: keep doing it this way."
    if abs(x) > math.log(2):
        return _far(attempt)
    part = _worst_part(attempt)
    if part is not None:
        return f"{words}, most of it from {part}: {_PARTS[part]}"
    return f"{words}: {(_LOW if x < 0 else _HIGH)[attempt.station]}"


def _slip(attempt: Attempt) -> str:
    """What is wrong with the sum, if anything is."""
    found: FoundSlip | LayersSlip
    if isinstance(attempt.parts, Sides):
        found = find_slip(attempt.estimate, attempt.parts)
    elif isinstance(attempt.parts, Layers):
        found = find_layers_slip(attempt.estimate, attempt.parts)
    else:
        return ""
    return "" if found.slip is Slip.NONE else found.words


def _far(attempt: Attempt) -> str:
    x = attempt.log_ratio
    tens = round(x / math.log(10))
    if tens and abs(x - tens * math.log(10)) <= _TEN:
        return f"About {10 ** abs(tens)} times too {'low' if x < 0 else 'high'}: check the zeros."
    which = "Less than half" if x < 0 else "More than double"
    return f"{which} of it: {_FAR[attempt.station]}"


def _worst_part(attempt: Attempt) -> str | None:
    """The part that cost most of the lost points, if one did."""
    parts = log_parts(attempt)
    if not parts:
        return None
    shares = dict(zip(parts, split_attempt(tuple(parts.values())), strict=True))
    worst = max(shares, key=lambda part: shares[part])
    return worst if shares[worst] >= NAMED * sum(shares.values()) else None
