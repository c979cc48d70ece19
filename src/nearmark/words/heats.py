"""Why a pair that comes late joins a heat, and whether schools are together."""

import re
from collections.abc import Mapping, Sequence
from datetime import time

from nearmark.contest.heat_records import heat_name
from nearmark.contest.late_heat import LateHeat
from nearmark.words.translation import say, say_count


def why_this_heat(chosen: LateHeat) -> str:
    """True of the heat that was chosen: who of the school is there, and why no other heat is.

    >>> why_this_heat(LateHeat(2, n_of_school=3))
    'its school has 3 there'
    """
    if chosen.n_of_school:
        return say("its school has {n} there", n=chosen.n_of_school)
    passed = [*map(heat_is_full, chosen.full), *map(heat_has_started, chosen.gone)]
    here = no_heat_has_room() if chosen.is_new else say("it has room")
    return "; ".join([*(passed or [school_is_nowhere()]), here])


def heat_is_full(number: int) -> str:
    """True of a heat with pairs of the school and no free place."""
    return say("{heat}, where its school is, is full", heat=heat_name(number))


def heat_has_started(number: int) -> str:
    """True of a heat with pairs of the school that nobody joins any more."""
    return say("{heat}, where its school is, has started", heat=heat_name(number))


def school_is_nowhere() -> str:
    """True when no heat has a pair of the school."""
    return say("its school has no pair yet")


def no_heat_has_room() -> str:
    """True when the heat was added for this pair."""
    return say("no heat has room, so this one is new")


def together_words(split: Mapping[str, Sequence[int]]) -> str:
    """Which schools are in more than one heat, with the numbers of the heats.

    >>> together_words({"Otterbrook Mill": (1, 2)}), together_words({})
    ('In more than one heat: Otterbrook Mill (1, 2).', 'Every school is together.')
    """
    if not split:
        return say("Every school is together.")
    schools = ", ".join(f"{name} ({', '.join(map(str, n))})" for name, n in split.items())
    return say("In more than one heat: {schools}.", schools=schools)


def school_start_words(start: time) -> str:
    """When the first of a school start, on the page that its coach gets.

    >>> school_start_words(time(9, 40))
    'The first of you start at 09:40.'
    """
    return say("The first of you start at {time}.", time=f"{start:%H:%M}")


def plan_saved(n_pairs: int) -> str:
    """A plan of the heats is in force now; how many pairs it has changed.

    >>> plan_saved(2)
    'The plan is saved: 2 pairs have a new place.'
    """
    return say_count(
        "The plan is saved: {n} pair has a new place.",
        "The plan is saved: {n} pairs have a new place.",
        n_pairs,
    )


def plan_taken_back(n_pairs: int) -> str:
    """The plan before is in force again; how many pairs that has changed.

    >>> plan_taken_back(1)
    'The plan before is back: 1 pair has its old place.'
    """
    return say_count(
        "The plan before is back: {n} pair has its old place.",
        "The plan before is back: {n} pairs have their old places.",
        n_pairs,
    )


def heat_words(heat: str) -> str:
    """The heat of a pair, which may have none yet.

    >>> heat_words("heat 2"), heat_words("")
    ('heat 2', 'no heat yet')
    """
    return heat_text(heat) or say("no heat yet")


def heat_text(heat: str) -> str:
    """The name of a heat; those that Nearmark names itself are translated.

    >>> heat_text("heat 2"), heat_text("morning"), heat_text("")
    ('heat 2', 'morning', '')
    """
    if heat == "everybody":
        return say("everybody")
    numbered = re.fullmatch(r"heat (\d+)", heat)
    return say("heat {number}", number=numbered[1]) if numbered else heat
