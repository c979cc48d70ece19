"""The scoop ladder in words: what to scoop next and why, how a try went, two cups compared."""

from nearmark.coaching.scoop_ladder import USUAL_G, NextRung, Why
from nearmark.words.coaching_habits import grams_words
from nearmark.words.sides import amount_text
from nearmark.words.translation import say


def rung_words(number: int, name: str, target_g: float) -> str:
    """What to scoop, to a coach.

    >>> rung_words(2, "rice into a tin cup", 100)
    'Cup 2, rice into a tin cup: 100 g.'
    """
    return say(
        "Cup {number}, {name}: {target} g.", number=number, name=name, target=f"{target_g:.0f}"
    )


def why_words(found: NextRung) -> str:
    """Why that cup comes next.

    >>> from nearmark.coaching.scoop_ladder import Rung
    >>> why_words(NextRung(Rung(0, 50), Why.POINTS_LOST, 22.4))
    'With this cup most points are lost: about 22 at 100 g.'
    """
    if found.why is Why.CUP_NOT_KNOWN:
        return say("What the cup does is not known yet: a scoop with this one says most about it.")
    return say(
        "With this cup most points are lost: about {points} at 100 g.", points=f"{found.amount:.0f}"
    )


def try_words(target_g: float, net_g: float, points: float) -> str:
    """How one try went.

    >>> try_words(100, 87, 87)
    '87 g for 100 g: 13 g too little, 87 points.'
    """
    return say(
        "{net} g for {target} g: {off}, {points} points.",
        net=amount_text(net_g),
        target=amount_text(target_g),
        off=grams_words(net_g - target_g),
        points=f"{points:.0f}",
    )


def comparison_words(light: str, heavy: str, poured_g: float) -> str:
    """True of a pupil who takes the cup for content: what to do with a light and a heavy cup.

    >>> comparison_words("cup 1", "cup 3", 173.4).split(". ")[1]
    'Put 173 g of anything into cup 1: now both weigh the same, so that much of cup 3 is no content'
    """
    return say(
        "Hold the empty {light} in one hand and the empty {heavy} in the other. Put {poured} g of "
        "anything into {light}: now both weigh the same, so that much of {heavy} is no content. "
        "Put {target} g more into {light}, and scoop into {heavy} until both feel the same. Then "
        "weigh what is in {heavy}: it should be {target} g.",
        light=light,
        heavy=heavy,
        poured=f"{poured_g:.0f}",
        target=f"{USUAL_G}",
    )
