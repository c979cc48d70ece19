"""The scoop ladder: 50, 100 and 150 g out of light and heavy cups, one line a try, the next named.

The rule of the next try, from the last twelve scoops of the pupil; the first is from the lightest
cup:

1. While what the cup does is not known within 10 g between the lightest and the heaviest cup (one
   standard deviation): the cup whose scoop would take most off that uncertainty.
2. Then the cup with which most points are expected to be lost at 100 g.

The mass is the rung that was tried least with that cup, the lightest first.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import sqrt
from typing import Final

from nearmark.coaching.attempt import Attempt, Scoop
from nearmark.coaching.expected_score import net_score
from nearmark.coaching.limits import checked
from nearmark.coaching.scoop_fit import ScoopFit, fit_scoops
from nearmark.coaching.scoop_habit import MIN_BETWEEN_G, SAME_CUP_G, scoop_habit_if_known
from nearmark.errors import InputError

RUNGS_G: Final = (50, 100, 150)
USUAL_G: Final = 100
RECENT: Final = 12
MAX_NET_G: Final = 3000.0
MAX_POURED_G: Final = 300.0
"""What a light cup takes: a comparison that needs more is not proposed (our own choice)."""

_LINE: Final = re.compile(
    r"(?:(?:cup\s*)?(?P<cup>\d{1,3})\s*:\s*)?"
    r"(?:(?P<target>\d{1,4})\s*g?\s*(?:->|→|>)\s*)?"
    r"(?P<net>\d{1,5}(?:[.,]\d{1,3})?)\s*g?",
    re.ASCII | re.IGNORECASE,
)
"""Such as ``cup 2: 100 -> 87``; cup and mass asked for may be left out."""


class Why(StrEnum):
    """Why a cup comes next."""

    CUP_NOT_KNOWN = "what the cup does is not known"
    POINTS_LOST = "most points are lost with it"


@dataclass(frozen=True, slots=True)
class Rung:
    """What to scoop."""

    cup: int  # place of the cup in the list of cups, from 0
    target_g: int  # one of ``RUNGS_G``


@dataclass(frozen=True, slots=True)
class NextRung:
    """What to scoop next."""

    rung: Rung
    why: Why
    # CUP_NOT_KNOWN: standard deviation of what the cup does, lightest to heaviest; POINTS_LOST:
    # points expected to be lost at 100 g (g or points).
    amount: float


@dataclass(frozen=True, slots=True)
class CupComparison:
    """Two cups, for a hand that takes the heavy one for content."""

    # Places in the list of cups.
    light: int
    heavy: int
    poured_g: float  # in the light cup, until it weighs what the empty heavy one does


def next_rung(cups: Sequence[Scoop], attempts: Sequence[Attempt]) -> NextRung:
    """The next try of a pupil.

    >>> paper, glass = Scoop(8.6, 0.8), Scoop(182.0, 0.8)
    >>> next_rung([paper, glass], []).rung
    Rung(cup=0, target_g=50)

    Parameters
    ----------
    cups : Scoop, shape (n,), n >= 1; the cups that are there, each with its material
    attempts : sequence of Attempt
        Of the pupil at the mass station, oldest first; those without ``Scoop`` are passed over.

    Raises
    ------
    InputError : if there is no cup
    """
    if not cups:
        raise InputError(
            "there is none", where="cups", mend="Add a thing to scoop, with the mass of its cup"
        )
    own = [each for each in attempts if isinstance(each.parts, Scoop)]
    fit = fit_scoops(own[-RECENT:])
    masses = [cup.cup_g for cup in cups]
    unsure_g = sqrt(fit.covariance[1, 1]) * (max(masses) - min(masses))
    if not own:
        place = min(range(len(cups)), key=lambda i: masses[i])
        why, amount = Why.CUP_NOT_KNOWN, unsure_g
    elif unsure_g > MIN_BETWEEN_G:
        after = [fit.share_variance_after(cup) for cup in cups]
        place = min(range(len(cups)), key=lambda i: (round(after[i], 12), masses[i]))
        why, amount = Why.CUP_NOT_KNOWN, unsure_g
    else:
        lost = [_lost(fit, mass) for mass in masses]
        place = max(range(len(cups)), key=lambda i: lost[i])
        why, amount = Why.POINTS_LOST, lost[place]
    return NextRung(Rung(place, _least_tried(own, masses[place])), why, amount)


def _lost(fit: ScoopFit, cup_g: float) -> float:
    off_g, sd_g = fit.next_scoop(cup_g)
    return 100 - net_score(off_g / USUAL_G, sd_g / USUAL_G).score


def _least_tried(own: Sequence[Attempt], cup_g: float) -> int:
    tried = Counter(
        round(each.true)
        for each in own
        if isinstance(each.parts, Scoop) and abs(each.parts.cup_g - cup_g) <= SAME_CUP_G
    )
    return min(RUNGS_G, key=lambda rung: (tried[rung], rung))


def cup_comparison(cups: Sequence[Scoop], attempts: Sequence[Attempt]) -> CupComparison | None:
    """The exercise for a pupil who takes the cup for content.

    ``None`` unless the cup misleads the pupil, and two cups are there that differ enough.

    >>> cup_comparison([Scoop(8.6, 0.8), Scoop(182.0, 0.8)], []) is None
    True
    """
    habit = scoop_habit_if_known(attempts)
    if habit is None or not habit.cup_misleads or not cups:
        return None
    light = min(range(len(cups)), key=lambda i: cups[i].cup_g)
    fitting = [
        i
        for i, cup in enumerate(cups)
        if MIN_BETWEEN_G <= cup.cup_g - cups[light].cup_g <= MAX_POURED_G
    ]
    if not fitting:
        return None
    heavy = max(fitting, key=lambda i: cups[i].cup_g)
    return CupComparison(light, heavy, cups[heavy].cup_g - cups[light].cup_g)


def read_rung(text: str, n_cups: int, proposed: Rung) -> tuple[Rung, float]:
    """A try as it is typed in one line: ``cup 2: 100 -> 87``, or the grams alone.

    The rung, and the net mass in g.

    >>> read_rung("cup 2: 100 -> 87", 3, Rung(0, 50))
    (Rung(cup=1, target_g=100), 87.0)
    >>> read_rung("87,5", 3, Rung(0, 50))
    (Rung(cup=0, target_g=50), 87.5)

    Parameters
    ----------
    n_cups : cups; they are numbered from 1
    proposed : what is meant where cup or mass are left out

    Raises
    ------
    InputError : if it cannot be read, or names a cup or a rung that is not there
    """
    found = _LINE.fullmatch(text.strip())
    if found is None:
        raise InputError(
            "cannot be read",
            where="try",
            value=text,
            mend="Write it like cup 2: 100 -> 87, or the grams of the proposed try alone",
        )
    cup = proposed.cup if found["cup"] is None else int(found["cup"]) - 1
    if not 0 <= cup < n_cups:
        raise InputError(
            f"there are cups 1 to {n_cups}" if n_cups > 1 else "there is cup 1 only",
            where="try",
            value=text,
            mend="Take the number from the list of cups",
        )
    target = proposed.target_g if found["target"] is None else int(found["target"])
    if target not in RUNGS_G:
        raise InputError(
            "the mass asked for must be 50, 100 or 150 g",
            where="try",
            value=text,
            mend="Write the mass asked for first, then the net mass: 100 -> 87",
        )
    net_g = float(found["net"].replace(",", "."))
    checked(net_g, "net mass", 0.1, MAX_NET_G, mend="Give the net mass in g, without the cup")
    return Rung(cup, target), net_g
