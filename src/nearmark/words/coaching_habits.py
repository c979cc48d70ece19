"""How a pupil reads, in words: what is seen, how sure, and what to expect."""

import math
from typing import Final

from nearmark.coaching.practice_plan import PlannedItem
from nearmark.coaching.pupil_habit import SURE, PupilHabit
from nearmark.coaching.scoop_habit import ScoopHabit
from nearmark.words.sides import side_words
from nearmark.words.translation import say, say_count

PERHAPS: Final = 0.75
"""Probability of its sign from which a bias is named as a perhaps."""

MIN_SAID: Final = 0.03
"""Natural log: a smaller bias is not worth a perhaps."""

FEW: Final = 4
"""Below so many attempts the words say that they tell more of the club than of the pupil."""

_WIDTH: Final = 1.28
"""Standard deviations that hold four times in five."""


def habit_words(habit: PupilHabit) -> str:
    """True of one pupil at one kind of thing."""
    parts = (
        bias_words(habit),
        scatter_words(habit),
        few_words(habit),
        left_out_words(habit),
        outlook_words(habit),
    )
    return " ".join(part for part in parts if part)


def bias_words(habit: PupilHabit) -> str:
    """True of a pupil who reads high, low or right; a perhaps while the sign is not sure."""
    if habit.n == 1:
        return say("One attempt only: too early to tell.")
    if habit.scoops is not None and habit.scoops.cup_misleads:
        return cup_words(habit.scoops)
    found = habit.posterior
    off = side_words(math.exp(found.bias))
    p_sign = max(habit.p_low, 1 - habit.p_low)
    if p_sign >= SURE:
        give = f"{100 * _WIDTH * found.bias_sd:.0f}"
        return say("Reads about {off}, give or take {give} %.", off=off, give=give)
    if p_sign >= PERHAPS and abs(found.bias) >= MIN_SAID:
        return say("Perhaps about {off}, not sure yet.", off=off)
    return say("No habit of reading high or low seen so far.")


def scatter_words(habit: PupilHabit) -> str:
    """How far single answers lie apart; empty where one attempt or the cup says all."""
    if habit.n == 1 or (habit.scoops is not None and habit.scoops.cup_misleads):
        return ""
    scatter = f"{100 * habit.posterior.scatter:.0f}"
    return say("Single answers scatter by about {scatter} %.", scatter=scatter)


def few_words(habit: PupilHabit) -> str:
    """True of a pupil with few attempts; else empty."""
    if not 1 < habit.n < FEW:
        return ""
    return say("Few attempts: mostly what is usual, not yet this pupil.")


def cup_words(scoops: ScoopHabit) -> str:
    """True of a pupil whom the cup misleads: what comes with the lightest and the heaviest cup."""
    light, heavy = scoops.cups[0], scoops.cups[-1]
    return say(
        "The cup's own mass is taken for content: with the light cup ({light} g) about "
        "{off_light}, with the heavy one ({heavy} g) about {off_heavy}.",
        light=f"{light.cup_g:.0f}",
        off_light=grams_words(light.off_g),
        heavy=f"{heavy.cup_g:.0f}",
        off_heavy=grams_words(heavy.off_g),
    )


def grams_words(off_g: float) -> str:
    """A net mass less the mass asked for.

    >>> grams_words(12.4), grams_words(-50.0), grams_words(0.2)
    ('12 g too much', '50 g too little', 'right')
    """
    if round(off_g) == 0:
        return say("right")
    grams = f"{abs(off_g):.0f}"
    if off_g > 0:
        return say("{grams} g too much", grams=grams)
    return say("{grams} g too little", grams=grams)


def left_out_words(habit: PupilHabit) -> str:
    """True of a pupil with likely slips, or attempts at known true values; else empty."""
    said = []
    if habit.suspects:
        said.append(
            say_count(
                "{n} of {all} attempts looks like a slip of the sum and is left out.",
                "{n} of {all} attempts look like a slip of the sum and are left out.",
                len(habit.suspects),
                all=habit.n,
            )
        )
    if habit.n_known:
        said.append(
            say_count(
                "{n} attempt more was at a true value seen before and does not count.",
                "{n} attempts more were at true values seen before and do not count.",
                habit.n_known,
            )
        )
    return " ".join(said)


def outlook_words(habit: PupilHabit) -> str:
    """What to expect of the next attempt; with a misleading cup, of each cup."""
    if habit.scoops is not None and habit.scoops.cup_misleads:
        light, heavy = habit.scoops.cups[0], habit.scoops.cups[-1]
        return say(
            "Expect about {first} points with the light cup, {second} with the heavy one.",
            first=f"{light.next_score.score:.0f}",
            second=f"{heavy.next_score.score:.0f}",
        )
    low, high = habit.band
    return say(
        "Expect the next from {low} to {high} (four times in five), about {score} points.",
        low=side_words(math.exp(low)),
        high=side_words(math.exp(high)),
        score=f"{habit.next_score.score:.0f}",
    )


def reason_words(item: PlannedItem) -> str:
    """Why a kind of thing is to be practised next.

    Examples
    --------
    >>> from nearmark.station import Station
    >>> reason_words(PlannedItem(Station.COUNT, "small", 1.13, 4, 2, False))
    'worth about 1.1 points if practice helps as assumed; tried 4 times, last 2 \
items ago'
    >>> reason_words(PlannedItem(Station.MASS, "", 1.0, 0, 5, False))
    'not tried yet'
    """
    if item.n == 0:
        return say("not tried yet")
    tried = say_count("tried once", "tried {n} times", item.n)
    if item.ago == 0:
        last = say("last time just now")
    else:
        last = say_count("last {n} item ago", "last {n} items ago", item.ago)
    return say(
        "worth about {worth} points if practice helps as assumed; {tried}, {last}",
        worth=f"{item.worth:.1f}",
        tried=tried,
        last=last,
    )
