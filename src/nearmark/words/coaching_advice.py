"""Advice to a pupil: what would have gained most, by how much, how sure.

Nothing is said that was not replayed on the pupil's own attempts (``coaching.advice``).
"""

import math
from collections import Counter
from collections.abc import Sequence
from typing import Final

from nearmark.coaching.acts import all_done, points
from nearmark.coaching.advice import MIN_SURE, Certainty, Trial, would_have
from nearmark.coaching.attempt import Attempt, Scoop
from nearmark.station import Station
from nearmark.words.coaching_steps import one_step_words, step_words
from nearmark.words.numbers import capital
from nearmark.words.sides import amount_text, side_words
from nearmark.words.translation import message, say

VERY_CLOSE: Final = 0.03
"""Natural log up to which nothing needs advice: below what the eye repeats to (common practice, no
source)."""

MUCH_MISSING: Final = 0.25
"""Share of a scoop from which its cup is named (our own choice)."""

_TEN: Final = 0.35
"""Natural log around a power of ten: an estimate good to 40 % whose zeros slipped."""

_LOW: Final = {
    Station.MASS: message("{off}: scoop more next time."),
    Station.COUNT: message("{off}: there were more than it looked."),
    Station.VOLUME: message("{off}: the box holds more than it looks."),
}
_HIGH: Final = {
    Station.MASS: message("{off}: scoop less next time."),
    Station.COUNT: message("{off}: there were fewer than it looked."),
    Station.VOLUME: message("{off}: the box holds less than it looks."),
}
_FAR: Final = {
    Station.MASS: message("{off}: lift a known 100 g before you scoop."),
    Station.COUNT: message("{off}: count one layer again, then the layers."),
    Station.VOLUME: message("{off}: take each side again, and multiply once more."),
}


def trial_words(trial: Trial) -> str:
    """True of a pupil whose log asks for some steps, sure of the gain or not yet.

    >>> from nearmark.coaching.acts import Act, Step
    >>> trial_words(Trial(Station.VOLUME, (Step(Act.HEIGHT, 0.75),), 8, 74.2, 93.1, 11.0))
    'Take the height again: it is read about 25 % low. 74 points become about 93.'
    >>> trial_words(Trial(Station.MASS, (Step(Act.SHIFT, 1.2),), 3, 80.0, 90.0, -1.0))
    'Perhaps, not sure yet: 80 points may become about 90. Scoop a fifth more.'
    """
    what = " ".join(step_words(step, trial.station) for step in trial.steps)
    before, after = f"{trial.before:.0f}", f"{trial.after:.0f}"
    if trial.sureness is Certainty.SURE:
        return say(
            "{what} {before} points become about {after}.", what=what, before=before, after=after
        )
    return say(
        "Perhaps, not sure yet: {before} points may become about {after}. {what}",
        what=what,
        before=before,
        after=after,
    )


def attempt_words(attempt: Attempt) -> str:
    """True of one attempt whose true value is shown: how far off, and what would have helped.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Layers, Sides
    >>> attempt_words(Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 400, 500))
    '20 % low: there were more than it looked.'
    >>> attempt_words(
    ...     Attempt(date(2027, 2, 3), "Ada", Station.VOLUME, "box", 96, 500, parts=Sides(12, 8, 5))
    ... )
    'Two sides multiplied only (12 x 8): 12 x 8 x 5 is 480 cm3. 96 points instead of 19.'
    >>> attempt_words(Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 250, 303,
    ...                       parts=Layers(25, 10, 37, 10.54)))
    'One layer shows 37, not 25. Leave out one in five of what is seen in a layer: pieces of the \
layer beneath are seen too. That gives 296: 98 points instead of 83.'
    """
    if attempt.is_known:
        return say("The true value was known already: this is not counted.")
    if abs(attempt.log_ratio) <= VERY_CLOSE:
        return say("Very close: keep doing it this way.")
    found = would_have(attempt)
    if found is not None:
        return _would_have_words(found, attempt)
    off = capital(side_words(math.exp(attempt.log_ratio)))
    cup_g = _hiding_cup_g(attempt)
    if cup_g is not None:
        return say(
            "{off}, and the empty cup weighs {cup} g: hold it first, then scoop more.",
            off=off,
            cup=f"{cup_g:.0f}",
        )
    if abs(attempt.log_ratio) > math.log(2):
        return _far(attempt)
    return say((_LOW if attempt.log_ratio < 0 else _HIGH)[attempt.station], off=off)


def _would_have_words(found: Trial, attempt: Attempt) -> str:
    what = " ".join(one_step_words(step, attempt) for step in found.steps)
    would = all_done(found.steps, attempt) or attempt
    after, before = f"{points(would):.0f}", f"{points(attempt):.0f}"
    number = amount_text(would.estimate)
    if number in what:
        return say(
            "{what} {after} points instead of {before}.", what=what, after=after, before=before
        )
    return say(
        "{what} That gives {number}: {after} points instead of {before}.",
        what=what,
        number=number,
        after=after,
        before=before,
    )


def _hiding_cup_g(attempt: Attempt) -> float | None:
    """Mass of a cup that may hide what is missing: a quarter or more, and no more than the cup."""
    missing_g = attempt.true - attempt.estimate
    if not isinstance(attempt.parts, Scoop) or missing_g < MUCH_MISSING * attempt.true:
        return None
    return attempt.parts.cup_g if attempt.parts.cup_g >= missing_g else None


def _far(attempt: Attempt) -> str:
    x = attempt.log_ratio
    tens = round(x / math.log(10))
    slipped = tens and abs(x - tens * math.log(10)) <= _TEN
    if slipped and attempt.station is not Station.MASS:
        times = 10 ** abs(tens)
        if x < 0:
            return say("About {times} times too low: check the zeros.", times=times)
        return say("About {times} times too high: check the zeros.", times=times)
    off = say("Less than half of it") if x < 0 else say("More than double")
    return say(_FAR[attempt.station], off=off)


def no_advice_words(attempts: Sequence[Attempt]) -> str:
    """True of a pupil to whom nothing is advised.

    >>> no_advice_words([])
    'Too early to tell: a few attempts more at each station say more.'
    """
    stations = Counter(each.station for each in attempts)
    if max(stations.values(), default=0) < MIN_SURE:
        return say("Too early to tell: a few attempts more at each station say more.")
    return say("No single change would have gained much: keep doing it this way.")
