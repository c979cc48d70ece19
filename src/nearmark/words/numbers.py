"""Plurals, percentages, lists and "give or take": each said in one way."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Final, Literal

from nearmark.contest.scoring import points_text
from nearmark.words.translation import digits, say, say_count

Noun = Literal[
    "answer",
    "attempt",
    "bag",
    "child",
    "correction",
    "cup",
    "day",
    "device",
    "drill",
    "estimate",
    "heat",
    "item",
    "jar",
    "line",
    "minute",
    "new attempt",
    "number",
    "pair",
    "piece",
    "place",
    "point",
    "pupil",
    "reading",
    "row",
    "sample",
    "school",
    "session",
    "sheet",
    "thing",
    "time",
]

_COUNTED: Final[dict[Noun, Callable[[int], str]]] = {
    "answer": lambda n: say_count("{n} answer", "{n} answers", n),
    "attempt": lambda n: say_count("{n} attempt", "{n} attempts", n),
    "bag": lambda n: say_count("{n} bag", "{n} bags", n),
    "child": lambda n: say_count("{n} child", "{n} children", n),
    "correction": lambda n: say_count("{n} correction", "{n} corrections", n),
    "cup": lambda n: say_count("{n} cup", "{n} cups", n),
    "day": lambda n: say_count("{n} day", "{n} days", n),
    "device": lambda n: say_count("{n} device", "{n} devices", n),
    "drill": lambda n: say_count("{n} drill", "{n} drills", n),
    "estimate": lambda n: say_count("{n} estimate", "{n} estimates", n),
    "heat": lambda n: say_count("{n} heat", "{n} heats", n),
    "item": lambda n: say_count("{n} item", "{n} items", n),
    "jar": lambda n: say_count("{n} jar", "{n} jars", n),
    "line": lambda n: say_count("{n} line", "{n} lines", n),
    "minute": lambda n: say_count("{n} minute", "{n} minutes", n),
    "new attempt": lambda n: say_count("{n} new attempt", "{n} new attempts", n),
    "number": lambda n: say_count("{n} number", "{n} numbers", n),
    "pair": lambda n: say_count("{n} pair", "{n} pairs", n),
    "piece": lambda n: say_count("{n} piece", "{n} pieces", n),
    "place": lambda n: say_count("{n} place", "{n} places", n),
    "point": lambda n: say_count("{n} point", "{n} points", n),
    "pupil": lambda n: say_count("{n} pupil", "{n} pupils", n),
    "reading": lambda n: say_count("{n} reading", "{n} readings", n),
    "row": lambda n: say_count("{n} row", "{n} rows", n),
    "sample": lambda n: say_count("{n} sample", "{n} samples", n),
    "school": lambda n: say_count("{n} school", "{n} schools", n),
    "session": lambda n: say_count("{n} session", "{n} sessions", n),
    "sheet": lambda n: say_count("{n} sheet", "{n} sheets", n),
    "thing": lambda n: say_count("{n} thing", "{n} things", n),
    "time": lambda n: say_count("{n} time", "{n} times", n),
}


def plural(n: int, noun: Noun) -> str:
    """A number of things.

    >>> plural(1, "pair"), plural(3, "pair")
    ('1 pair', '3 pairs')
    """
    return _COUNTED[noun](n)


def percent(share: float | Fraction, decimals: int = 0) -> str:
    """A share as percent.

    >>> percent(0.184), percent(0.184, 1)
    ('18 %', '18.4 %')
    """
    return say("{number} %", number=f"{100 * float(share):.{decimals}f}")


def points_words(points: Fraction, decimals: int) -> str:
    """An exact score, rounded once.

    >>> points_words(Fraction(869, 3), 2)
    '289.67'
    """
    return digits(points_text(points, decimals))


def signed_percent(share: float) -> str:
    """A deviation as percent, with its sign.

    >>> signed_percent(-0.18), signed_percent(0.04)
    ('-18 %', '+4 %')
    """
    return say("{number} %", number=f"{100 * share:+.0f}")


def ordinal(place: int) -> str:
    """A place in words.

    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 112)]
    ['1st', '2nd', '3rd', '4th', '11th', '12th', '13th', '21st', '112th']
    """
    last = 0 if place % 100 in {11, 12, 13} else place % 10
    if last == 1:
        return say("{number}st", number=place)
    if last == 2:
        return say("{number}nd", number=place)
    if last == 3:
        return say("{number}rd", number=place)
    return say("{number}th", number=place)


def give_or_take(value: str, spread: str) -> str:
    """A value with its standard uncertainty.

    >>> give_or_take("-18 %", "4 %")
    '-18 %, give or take 4 %'
    """
    return say("{value}, give or take {spread}", value=value, spread=spread)


def both(words: Sequence[str]) -> str:
    """All of some names: ``a, b and c``.

    >>> both(["C1"]), both(["C1", "C2", "B1"])
    ('C1', 'C1, C2 and B1')
    """
    if len(words) < 2:
        return "".join(words)
    return say("{first} and {last}", first=", ".join(words[:-1]), last=words[-1])


def either(words: Sequence[str]) -> str:
    """One of some names: ``a, b or c``.

    >>> either(["C1", "C2"])
    'C1 or C2'
    """
    if len(words) < 2:
        return "".join(words)
    return say("{first} or {last}", first=", ".join(words[:-1]), last=words[-1])


def capital(words: str) -> str:
    """Words at the beginning of a sentence.

    >>> capital("first place")
    'First place'
    """
    return words[:1].upper() + words[1:]


def probability_text(probability: float) -> str:
    """A probability in whole percent; never more certain than a simulation can be.

    >>> probability_text(0.973), probability_text(1.0), probability_text(0.001)
    ('97 %', '> 99 %', '< 1 %')
    """
    if probability > 0.99:
        return "> 99 %"
    if probability < 0.01:
        return "< 1 %"
    return f"{100 * probability:.0f} %"
