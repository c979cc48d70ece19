"""How far to lean an unsure answer, and what that is worth."""

import math

from nearmark.coaching.lean import Aim, Lean
from nearmark.words.translation import say

MIN_LOWER = 0.05 / 100
"""Relative: a shift below shows as 0.0 % and is no lean."""

MIN_GAIN, MIN_GAIN_P90 = 0.05, 0.0005
"""Points and probability that still show with one decimal."""


def lean_words(found: Lean) -> str:
    """What an unsure pupil does, and what it honestly brings.

    >>> from nearmark.coaching.lean import lean
    >>> lean_words(lean(0.3))
    'Answer 8.2 % lower. It is worth 0.9 points an answer.'
    """
    lower = -math.expm1(found.shift)
    if lower >= MIN_LOWER:
        lower_text, worth = f"{100 * lower:.2g}", worth_words(found)
        return say(
            "Answer {lower} % lower. It is worth {worth} an answer.", lower=lower_text, worth=worth
        )
    if found.bias >= 0:
        return say("Do not lean: a sure answer stays as it is.")
    low = f"{100 * -math.expm1(found.bias):.0f}"
    if found.cure <= 0:
        return say(
            "Do not lean: you read about {low} % low already, and an unsure answer may stay so.",
            low=low,
        )
    return say(
        "Do not lean: you read about {low} % low already. Work on that first; it is worth {cure} "
        "points an answer.",
        low=low,
        cure=f"{found.cure:.1f}",
    )


def worth_words(found: Lean) -> str:
    """The gain of a lean, in the unit of its aim."""
    if found.aim is Aim.NINETY:
        if found.gain_p90 < MIN_GAIN_P90:
            return say("next to nothing")
        return say("{more} in 100 more answers at 90", more=f"{100 * found.gain_p90:.1f}")
    if found.gain < MIN_GAIN:
        return say("next to nothing")
    return say("{points} points", points=f"{found.gain:.1f}")
