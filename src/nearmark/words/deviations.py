"""How far an estimate is off, and what pictures of estimates show."""

from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from nearmark.words.numbers import percent, plural
from nearmark.words.translation import message, say, say_count

HALF: Final = 0.5
DOUBLE: Final = 2.0
"""Ratios at the two ends of the strip; beyond them no percent is said."""


def error_words(ratio: float) -> str:
    """How far an estimate is off, in whole percent of the true value.

    >>> error_words(0.88), error_words(1.07), error_words(1.002)
    ('12 % low', '7 % high', 'within 1 %')
    >>> error_words(0.31), error_words(2.6)
    ('less than half', 'more than double')
    """
    if ratio < HALF:
        return say("less than half")
    if ratio > DOUBLE:
        return say("more than double")
    if round(100 * abs(ratio - 1)) == 0:
        return say("within {percent}", percent=percent(0.01))
    off = percent(abs(ratio - 1))
    return say("{percent} low", percent=off) if ratio < 1 else say("{percent} high", percent=off)


class AxisCentre(StrEnum):
    """What every mark of a strip is divided by."""

    KEY = "key"
    TRUE = "true"
    MIDDLE = "middle"


_CENTRES: Final = {
    AxisCentre.KEY: message("key"),
    AxisCentre.TRUE: message("true"),
    AxisCentre.MIDDLE: message("middle"),
}


def axis_centre(centre: AxisCentre) -> str:
    """Under the middle of a strip."""
    return say(_CENTRES[centre])


def axis_ends() -> tuple[str, str]:
    """Under the two ends of a strip."""
    return say("half"), say("double")


def estimates_title() -> str:
    """What a strip shows, for those who cannot see it."""
    return say("Estimates against the true value")


def of_whom(name: str, ratio: float) -> str:
    """One named estimate of a strip, and how far it is off."""
    return say("{name}: {error}", name=name, error=error_words(ratio))


def others_words(ratios: Sequence[float]) -> str:
    """The estimates of a strip that have no name: from the lowest to the highest."""
    low, high = error_words(min(ratios)), error_words(max(ratios))
    if len(ratios) == 1:
        return say("1 other, {error}", error=low)
    return say("{n} others, from {low} to {high}", n=len(ratios), low=low, high=high)


def n_others_words(n: int) -> str:
    """How many estimates of a strip have no name."""
    return say_count("{n} other", "{n} others", n)


def true_value_known(within_percent: float) -> str:
    """How well the true value is known, at 95 %, under a strip."""
    return say("True value known within {percent}", percent=_two_digits(within_percent))


def key_known(within_percent: float) -> str:
    """How well the key is known, at 95 %, in the terminal."""
    return say("key known within {percent}", percent=_two_digits(within_percent))


def _two_digits(number: float) -> str:
    return say("{number} %", number=f"{number:.2g}")


def no_estimates() -> str:
    """True of a strip without a mark."""
    return say("No estimates.")


def sessions_words(n: int, middles: Sequence[float]) -> str:
    """How many sessions a trend shows, and how the middle answer went; no full stop."""
    sessions = plural(n, "session")
    if not middles:
        return sessions
    if len(middles) == 1:
        return say(
            "{sessions}; the middle answer was {first}",
            sessions=sessions,
            first=trend_error(middles[0]),
        )
    return say(
        "{sessions}; the middle answer went from {first} to {last}",
        sessions=sessions,
        first=trend_error(middles[0]),
        last=trend_error(middles[-1]),
    )


def trend_error(ratio: float) -> str:
    """How far an answer of a trend is off; the trend ends at double."""
    return say("double or more") if ratio >= DOUBLE else error_words(ratio)


def likely_slips(n: int) -> str:
    """How many answers of a trend look like a slip."""
    return say_count("{n} likely slip", "{n} likely slips", n)


def next_expected(low: float, high: float) -> str:
    """Where the next answer of a trend is expected, four times in five."""
    return say("Next expected from {low} to {high}", low=trend_error(low), high=trend_error(high))


def no_session() -> str:
    """True of a trend without a session."""
    return say("No session yet.")


def months_words(station: str, first: float, last: float) -> str:
    """Mean points of two months, for whoever cannot see the picture.

    >>> months_words("count", 62.1, 80.9)
    'count from 62 to 81 points'
    """
    return say(
        "{station} from {first} to {last} points",
        station=station,
        first=f"{first:.0f}",
        last=f"{last:.0f}",
    )
