"""What the certificate of the season says to a child: what was done, what came closest, no rank."""

from typing import Final

from nearmark.coaching.progress import Best, Progress, Verdict
from nearmark.station import UNITS, Station
from nearmark.words.numbers import plural
from nearmark.words.sides import amount_text, unit_text
from nearmark.words.translation import message, say

MIN_POINTS: Final = 50.0
"""Below it a closest answer is no joy to read; the tries are said alone."""

_TITLES: Final = {
    Station.MASS: message("Scooping"),
    Station.COUNT: message("Counting"),
    Station.VOLUME: message("Volumes of boxes"),
}


def practice_words(n_tries: int, n_days: int) -> str:
    """How much a child practised.

    >>> practice_words(30, 10), practice_words(1, 1)
    ('30 estimates on 10 days of practice', '1 estimate on 1 day of practice')
    """
    return say(
        "{tries} on {days} of practice",
        tries=plural(n_tries, "estimate"),
        days=plural(n_days, "day"),
    )


def station_title(station: Station) -> str:
    """Of a station, for a child.

    >>> station_title(Station.COUNT)
    'Counting'
    """
    return say(_TITLES[station])


def closest_words(best: Best) -> str:
    """The closest answer of a child at a station, to the child.

    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Attempt
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar of beans", 412, 420)
    >>> closest_words(Best(jar, 98.1, 12))
    'Your closest of 12 tries: 412 pieces, and there were 420 (jar of beans).'
    """
    if best.points < MIN_POINTS:
        return say("You tried {tries}.", tries=plural(best.n, "time"))
    attempt = best.attempt
    facts = {
        "n": best.n,
        "said": amount_text(attempt.estimate),
        "true": amount_text(attempt.true),
        "thing": attempt.thing,
    }
    if attempt.station is Station.COUNT:
        if best.n == 1:
            return say("Your try: {said} pieces, and there were {true} ({thing}).", **facts)
        return say(
            "Your closest of {n} tries: {said} pieces, and there were {true} ({thing}).", **facts
        )
    facts["unit"] = unit_text(UNITS[attempt.station])
    if best.n == 1:
        return say("Your try: {said} {unit} where {true} {unit} was right ({thing}).", **facts)
    return say(
        "Your closest of {n} tries: {said} {unit} where {true} {unit} was right ({thing}).", **facts
    )


def better_words(progress: Progress) -> str:
    """True of a child who is better than chance explains; else empty.

    >>> from nearmark.coaching.progress import Month
    >>> better_words(Progress(Station.COUNT, Month(4, 62.0, ((9.0, 3),)),
    ...                       Month(5, 81.0, ((4.0, 4),)), 1, 1))
    'You got better: about 62 points in your first four weeks, about 81 in your last four.'
    """
    if progress.verdict is not Verdict.BETTER:
        return ""
    return say(
        "You got better: about {first} points in your first four weeks, about {last} in your "
        "last four.",
        first=f"{progress.first.mean:.0f}",
        last=f"{progress.last.mean:.0f}",
    )
