"""One plain sentence for a child about one answer: what happened, and what to try."""

from typing import Final

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import AnswerStatus
from nearmark.contest.results import ItemScore
from nearmark.station import Station
from nearmark.words.deviations import DOUBLE, HALF, error_words
from nearmark.words.numbers import percent
from nearmark.words.translation import message, say

VERY_CLOSE: Final = 0.03
"""Relative error up to which nothing needs advice: below what a reading of the eye repeats to
(common practice, no source)."""

_LOW: Final = {
    Station.MASS: message("Your cup was {percent} too light: scoop a little more next time."),
    Station.COUNT: message("You read {percent} low: there were more than it looked."),
    Station.VOLUME: message("You read {percent} low: the box holds more than it looks."),
}
_HIGH: Final = {
    Station.MASS: message("Your cup was {percent} too heavy: scoop a little less next time."),
    Station.COUNT: message("You read {percent} high: there were fewer than it looked."),
    Station.VOLUME: message("You read {percent} high: the box holds less than it looks."),
}
_FAR_LOW: Final = {
    Station.MASS: message("Less than half of what was asked: lift a known 100 g before you scoop."),
    Station.COUNT: message("Less than half of the key: did you count every layer?"),
    Station.VOLUME: message("Less than half of the key: check each side, and the multiplying."),
}
_FAR_HIGH: Final = {
    Station.MASS: message(
        "More than double of what was asked: lift a known 100 g before you scoop."
    ),
    Station.COUNT: message("More than double the key: was a layer counted twice?"),
    Station.VOLUME: message("More than double the key: check each side, and the multiplying."),
}
_NO_ESTIMATE: Final = {
    AnswerStatus.BLANK: message("Left blank. A careful try is worth writing down."),
    AnswerStatus.ILLEGIBLE: message("We could not read your number. Write it large next time."),
    AnswerStatus.ANSWERED: message("Your cup could not be weighed yet. Ask at the desk."),
}


def answer_advice(station: Station, score: ItemScore, ratio: float | None) -> str:
    """What to say to a pair about one of its answers, by its distance from the key.

    The ratio is the estimate divided by the key; ``None`` without an estimate.
    """
    if ratio is None:
        return why_no_estimate(score)
    if ratio < HALF:
        return say(_FAR_LOW[station])
    if ratio > DOUBLE:
        return say(_FAR_HIGH[station])
    if abs(ratio - 1) <= VERY_CLOSE:
        return say("Very close: {error}.", error=error_words(ratio))
    return say((_LOW if ratio < 1 else _HIGH)[station], percent=percent(abs(ratio - 1)))


def why_no_estimate(score: ItemScore) -> str:
    """Why an answer has no estimate: it differs, is missing, blank or unreadable."""
    if score.state is AnswerState.CONFLICT:
        return say(
            "Two people read your sheet differently. A third will look, so this may still change."
        )
    if score.state is AnswerState.MISSING:
        return say("Your answer has not been entered yet. Ask at the desk.")
    return say(_NO_ESTIMATE[score.status])
