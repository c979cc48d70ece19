"""Who of a pair decides, in words that both can do on a plain calculator."""

import math
from typing import Final

from nearmark.coaching.assignment import Assignment
from nearmark.coaching.deciders import Mode
from nearmark.coaching.pair_habits import PairReading
from nearmark.words.numbers import capital, percent
from nearmark.words.sides import side_words
from nearmark.words.translation import say, say_count

MIN_CHANCE: Final = 0.001
"""A chance that still shows with one decimal of a percent."""


def mode_words(mode: Mode, first: str, second: str) -> str:
    """A way of deciding.

    >>> [mode_words(mode, "Milo", "Wren") for mode in (Mode.SECOND, Mode.AVERAGE, Mode.TWO_FIRST)]
    ['Wren decides', 'the middle of both', 'two parts Milo, one part Wren']
    """
    match mode:
        case Mode.FIRST:
            return say("{who} decides", who=first)
        case Mode.SECOND:
            return say("{who} decides", who=second)
        case Mode.AVERAGE:
            return say("the middle of both")
        case Mode.TWO_FIRST:
            return say("two parts {who}, one part {other}", who=first, other=second)
        case Mode.TWO_SECOND:
            return say("two parts {who}, one part {other}", who=second, other=first)


def pair_words(reading: PairReading) -> str:
    """True of a pair at one kind of thing: who decides, how sure, what to teach before."""
    parts = (_decision(reading), teach_words(reading), replay_words(reading))
    return " ".join(part for part in parts if part)


def _decision(reading: PairReading) -> str:
    advice = reading.advice
    who = mode_words(advice.mode, reading.first.pupil, reading.second.pupil)
    who = who if advice.mode in (Mode.FIRST, Mode.SECOND) else capital(who)
    if not reading.is_clear:
        return say("{who}, to start with: too early to tell.", who=who)
    p = f"{100 * advice.p_right:.0f}"
    good = say("{who}: {p} % sure that no other way is a point better", who=who, p=p)
    gain = round(advice.gain)
    if gain < 1:
        return say("{good}.", good=good)
    if advice.mode in (Mode.FIRST, Mode.SECOND):
        return say_count(
            "{good}; about {n} point more than the other alone.",
            "{good}; about {n} points more than the other alone.",
            gain,
            good=good,
        )
    return say_count(
        "{good}; about {n} point more than one alone.",
        "{good}; about {n} points more than one alone.",
        gain,
        good=good,
    )


def teach_words(reading: PairReading) -> str:
    """True of a pair of whom one has a habit that costs more than the way to decide; else empty."""
    mode = reading.advice.teach_first
    if mode is None:
        return ""
    habit = reading.first if mode is Mode.FIRST else reading.second
    off = side_words(math.exp(habit.posterior.bias))
    return say("Teach {who} first: guesses about {off}.", who=habit.pupil, off=off)


def replay_words(reading: PairReading) -> str:
    """What the way would have brought on what both estimated; empty without such a thing."""
    scores = reading.replayed
    if not scores or reading.advice.mode not in scores:
        return ""
    alone = say_count(
        "On the {n} thing both did: {first} {a} points, {second} {b}",
        "On the {n} things both did: {first} {a} points, {second} {b}",
        reading.n_common,
        first=reading.first.pupil,
        a=f"{scores[Mode.FIRST]:.0f}",
        second=reading.second.pupil,
        b=f"{scores[Mode.SECOND]:.0f}",
    )
    if reading.advice.mode in (Mode.FIRST, Mode.SECOND):
        return say("{alone}.", alone=alone)
    return say("{alone}, this way {c}.", alone=alone, c=f"{scores[reading.advice.mode]:.0f}")


def score_words(plan: Assignment) -> str:
    """What a pair that shares the stations so may expect."""
    chance = percent(plan.p_all_90, 1) if plan.p_all_90 >= MIN_CHANCE else say("under 0.1 %")
    return say(
        "About {points} points an item; every item at 90 or more: {chance}.",
        points=f"{plan.mean_score:.1f}",
        chance=chance,
    )
