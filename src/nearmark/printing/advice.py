"""One plain sentence for a child about one answer: what happened, and what to try."""

from nearmark.charts import error_words
from nearmark.contest.answers import AnswerState
from nearmark.contest.event import AnswerStatus
from nearmark.contest.results import ItemScore
from nearmark.contest.rules import Station

VERY_CLOSE = 0.03
"""Relative error up to which nothing needs advice: below what a reading of the eye repeats to
(common practice, no source)."""

_LOW = {
    Station.MASS: "too light: scoop a little more next time.",
    Station.COUNT: "low: there were more than it looked.",
    Station.VOLUME: "low: the box holds more than it looks.",
}
_HIGH = {
    Station.MASS: "too heavy: scoop a little less next time.",
    Station.COUNT: "high: there were fewer than it looked.",
    Station.VOLUME: "high: the box holds less than it looks.",
}
_FAR_LOW = {
    Station.MASS: "Less than half of what was asked: lift a known 100 g before you scoop.",
    Station.COUNT: "Less than half of the key: did you count every layer?",
    Station.VOLUME: "Less than half of the key: check each side, and the multiplying.",
}
_FAR_HIGH = {
    Station.MASS: "More than double of what was asked: lift a known 100 g before you scoop.",
    Station.COUNT: "More than double the key: was a layer counted twice?",
    Station.VOLUME: "More than double the key: check each side, and the multiplying.",
}
_NO_ESTIMATE = {
    AnswerStatus.BLANK: "Left blank. A careful try is worth writing down.",
    AnswerStatus.ILLEGIBLE: "We could not read your number. Write it large next time.",
    AnswerStatus.ANSWERED: "Your cup could not be weighed yet. Ask at the desk.",
}


def advice(station: Station, score: ItemScore, ratio: float | None) -> str:
    """What to tell a pair about one of its answers.

    Parameters
    ----------
    ratio : dimensionless, >= 0, or None
        Estimate divided by the key; ``None`` without an estimate.

    Returns
    -------
    str
        One or two short sentences.
    """
    if ratio is None:
        return _without_estimate(score)
    words = error_words(ratio)
    if words == "less than half":
        return _FAR_LOW[station]
    if words == "more than double":
        return _FAR_HIGH[station]
    if abs(ratio - 1) <= VERY_CLOSE:
        return f"Very close: {words}."
    amount = words.rpartition(" ")[0]
    subject = "Your cup was" if station is Station.MASS else "You read"
    return f"{subject} {amount} {(_LOW if ratio < 1 else _HIGH)[station]}"


def _without_estimate(score: ItemScore) -> str:
    if score.state is AnswerState.CONFLICT:
        return (
            "Two people read your sheet differently. A third will look, so this may still change."
        )
    if score.state is AnswerState.MISSING:
        return "Your answer has not been entered yet. Ask at the desk."
    return _NO_ESTIMATE[score.status]
