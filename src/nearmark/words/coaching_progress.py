"""Progress in words: the first month against the last, and what was a pupil's best."""

from collections.abc import Sequence
from typing import Final

from nearmark.coaching.progress import Best, Progress, Verdict
from nearmark.station import UNITS
from nearmark.words.numbers import both, capital
from nearmark.words.sides import amount_text, kind_words
from nearmark.words.translation import say

COARSE: Final = 2.0
"""Points: from a 95 % half-width of this on, whole points say all that is known."""


def progress_words(progress: Progress) -> str:
    """First month against last at one station; "give or take" is half of the 95 % interval.

    >>> from nearmark.coaching.progress import Month
    >>> from nearmark.station import Station
    >>> first, last = Month(4, 62.0, ((9.0, 3),)), Month(5, 81.0, ((4.0, 4),))
    >>> progress_words(Progress(Station.COUNT, first, last, 1, 1))
    'Count: 62 points in the first four weeks, 81 in the last four: 19 better, give or take 9.'
    """
    name = capital(kind_words(progress.station, ""))
    if progress.verdict is Verdict.EARLY:
        return _early_words(progress, name)
    decimals = 0 if progress.expanded_u >= COARSE else 1
    first, last = round(progress.first.mean, decimals), round(progress.last.mean, decimals)
    facts = {
        "station": name,
        "first": f"{first:.{decimals}f}",
        "last": f"{last:.{decimals}f}",
        "change": f"{abs(last - first):.{decimals}f}",
        "give": f"{progress.expanded_u:.{decimals}f}",
    }
    if progress.verdict is Verdict.BETTER:
        said = say(
            "{station}: {first} points in the first four weeks, {last} in the last four: {change} "
            "better, give or take {give}.",
            **facts,
        )
    elif progress.verdict is Verdict.LOWER:
        said = say(
            "{station}: {first} points in the first four weeks, {last} in the last four: {change} "
            "lower, give or take {give}.",
            **facts,
        )
    else:
        said = say(
            "{station}: {first} points in the first four weeks, {last} in the last four: no clear "
            "change (give or take {give}).",
            **facts,
        )
    return f"{said} {of_words(progress)}".rstrip()


def _early_words(progress: Progress, name: str) -> str:
    if progress.n_pupils:
        return say("{station}: too early to say: all tries brought the same points.", station=name)
    return say(
        "{station}: too early to say. It takes eight weeks, with three tries in the first four "
        "and three in the last four.",
        station=name,
    )


def of_words(progress: Progress) -> str:
    """True of a pair or a club: of how many pupils the mean is; empty for one pupil.

    >>> from nearmark.coaching.progress import Month
    >>> from nearmark.station import Station
    >>> of_words(Progress(Station.COUNT, Month(9, 62.0), Month(9, 81.0), 3, 6))
    'Mean of 3 of 6 pupils.'
    """
    if progress.n_asked == 1:
        return ""
    return say("Mean of {n} of {all} pupils.", n=progress.n_pupils, all=progress.n_asked)


def headline_words(progress: Sequence[Progress]) -> str:
    """All stations in one line; empty without a station.

    >>> headline_words([])
    ''
    """
    if not progress:
        return ""
    at = {
        verdict: [kind_words(each.station, "") for each in progress if each.verdict is verdict]
        for verdict in Verdict
    }
    said = []
    if at[Verdict.BETTER]:
        said.append(say("Better at {stations}.", stations=both(at[Verdict.BETTER])))
    if at[Verdict.LOWER]:
        said.append(say("Lower at {stations}.", stations=both(at[Verdict.LOWER])))
    if at[Verdict.NOT_CLEAR]:
        said.append(say("No clear change at {stations}.", stations=both(at[Verdict.NOT_CLEAR])))
    if at[Verdict.EARLY]:
        said.append(say("Too early to say at {stations}.", stations=both(at[Verdict.EARLY])))
    return " ".join(said)


def best_words(best: Best) -> str:
    """A pupil's closest try at a station.

    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Attempt
    >>> from nearmark.station import Station
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar of beans", 412, 420)
    >>> best_words(Best(jar, 98.1, 12))
    'Best at count: 98 points with jar of beans (412 of 420 pieces), the closest of 12 tries.'
    """
    attempt = best.attempt
    facts = {
        "station": kind_words(attempt.station, ""),
        "points": f"{best.points:.0f}",
        "thing": attempt.thing,
        "estimate": amount_text(attempt.estimate),
        "true": amount_text(attempt.true),
        "unit": UNITS[attempt.station],
    }
    if best.n == 1:
        return say(
            "One try at {station}: {points} points with {thing} ({estimate} of {true} {unit}).",
            **facts,
        )
    return say(
        "Best at {station}: {points} points with {thing} ({estimate} of {true} {unit}), the "
        "closest of {n} tries.",
        n=best.n,
        **facts,
    )
