"""The rules of each station, as they hang on the wall: what to do, and what an answer earns."""

from typing import Final

from nearmark.station import Station
from nearmark.words.rules import question
from nearmark.words.translation import message, say

_TOGETHER: Final = (
    message("You have {minutes} minutes for all stations together."),
    message(
        "You may use a pencil, paper, and a calculator with + \N{MINUS SIGN} "
        "\N{MULTIPLICATION SIGN} ÷ only."
    ),
    message("No phone, no ruler, no scale, nothing marked on your hands."),
    message("Never hold your sheet against a container or a box."),
    message("You hand in once: after that, nothing is changed."),
)
_STEPS: Final = {
    Station.MASS: (
        message("Take one cup with a number. It is yours until you hand it in."),
        message("Scoop until you think {target} are inside. The cup itself does not count."),
        message("Lift it, look at it, add some, tip some back: as often as you like."),
        message("Carry the cup and your answer sheet to the scale desk. The desk weighs it once."),
        message("Never taste. Wash your hands afterwards."),
    ),
    Station.COUNT: (
        message("Look from above and from the sides. Bring your eyes down to the table."),
        message("You may turn the container on the table. Do not lift, shake or open it."),
        message("Think how many pieces are inside. You may work it out on paper."),
        message("Write the whole number beside the same code on your answer sheet."),
        message("Never taste."),
    ),
    Station.VOLUME: (
        message(
            "Look at the box from all sides. You may turn it on the table. Do not lift or open it."
        ),
        message("Think how long, how wide and how high it is, in centimetres."),
        message(
            "Volume = length \N{MULTIPLICATION SIGN} width \N{MULTIPLICATION SIGN} height. A cube "
            "of 1 cm each way is 1 cm³."
        ),
        message("Write the whole number of cm³ beside the same code on your answer sheet."),
    ),
}
_FORBIDDEN: Final = {
    Station.MASS: message("Do not taste."),
    Station.COUNT: message("Do not open, lift or taste."),
    Station.VOLUME: message("Do not open or lift."),
}


def together_lines(minutes: int) -> tuple[str, ...]:
    """What holds at every station."""
    return tuple(say(line, minutes=minutes) for line in _TOGETHER)


def station_headline(station: Station, target: str) -> str:
    """What is asked at a station, in large letters; ``target`` is the mass to scoop."""
    if station is Station.MASS:
        return say("Scoop {target}", target=target)
    return say("How big is the box?") if station is Station.VOLUME else question(station)


def station_steps(station: Station, target: str) -> tuple[str, ...]:
    """What to do at a station, step by step."""
    return tuple(say(step, target=target) for step in _STEPS[station])


def forbidden_words(station: Station) -> str:
    """What nobody does to the things of a station."""
    return say(_FORBIDDEN[station])


def scoop_here() -> str:
    """On the label of what is scooped from."""
    return say("Scoop from here")


def if_it_were(value: str, unit: str) -> str:
    """Above invented examples of points; never the true value of an item."""
    return say("If the true value were {value} {unit}", value=value, unit=unit)


def you_act(station: Station) -> str:
    """In front of the answers of the examples."""
    return say("you scoop") if station is Station.MASS else say("you write")


def you_get() -> str:
    """In front of the points of the examples."""
    return say("you get")


def best_points(off: str, points: str) -> str:
    """What the best answers earn; ``off`` is how far they may be off, empty for not at all."""
    if off:
        return say("Up to {off} off: {points} points.", off=off, points=points)
    return say("Exactly right: {points} points.", points=points)


def both_sides_alike() -> str:
    """True of every rule set."""
    return say("The further off, the fewer; too high and too low count the same.")


def no_points(off: str) -> str:
    """From where an answer earns nothing; ``off`` is empty for double the true value."""
    if off:
        return say("{off} off or more: 0 points.", off=off)
    return say("Double the true value or more: 0 points.")


def left_blank_earns(points: str) -> str:
    """What an answer left blank earns; ``points`` is empty for none."""
    if points:
        return say("Left blank: {points} points.", points=points)
    return say("Left blank: 0 points, so try.")


def rules_title(event: str) -> str:
    """What the document is called."""
    return say("Station rules, {event}", event=event)


def rules_foot(event: str, rules: str) -> str:
    """At the foot of every page."""
    return say("{event} · station rules · rule set {rules}", event=event, rules=rules)
