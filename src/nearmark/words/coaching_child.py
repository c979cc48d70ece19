"""How a child reads and what comes next, said to the child: the facts are the coach's."""

import math

from nearmark.coaching.practice_plan import PlannedItem
from nearmark.coaching.pupil_habit import SURE, PupilHabit
from nearmark.words.coaching_habits import MIN_SAID, PERHAPS, grams_words
from nearmark.words.sides import side_words
from nearmark.words.translation import say, say_count


def child_habit_words(habit: PupilHabit) -> str:
    """True of a child who answers high, low or right; a perhaps while the sign is not sure."""
    if habit.n == 1:
        return say("You tried it once: too early to say.")
    if habit.scoops is not None and habit.scoops.cup_misleads:
        light, heavy = habit.scoops.cups[0], habit.scoops.cups[-1]
        return say(
            "You take the cup for content: with the light cup about {off_light}, with the heavy "
            "one about {off_heavy}.",
            off_light=grams_words(light.off_g),
            off_heavy=grams_words(heavy.off_g),
        )
    off = side_words(math.exp(habit.posterior.bias))
    p_sign = max(habit.p_low, 1 - habit.p_low)
    if p_sign >= SURE:
        return say("Your answers are about {off}.", off=off)
    if p_sign >= PERHAPS and abs(habit.posterior.bias) >= MIN_SAID:
        return say("Your answers may be about {off}: not sure yet.", off=off)
    return say("Your answers are neither high nor low, as far as we know.")


def child_reason_words(item: PlannedItem) -> str:
    """Why a kind of thing is to be practised next.

    >>> from nearmark.station import Station
    >>> child_reason_words(PlannedItem(Station.COUNT, "small", 1.13, 4, 2, False))
    'Practice may bring you about 1.1 points; you tried it 4 times.'
    """
    if item.n == 0:
        return say("You have not tried it yet.")
    return say_count(
        "Practice may bring you about {worth} points; you tried it once.",
        "Practice may bring you about {worth} points; you tried it {n} times.",
        item.n,
        worth=f"{item.worth:.1f}",
    )
